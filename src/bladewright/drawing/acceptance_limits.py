"""What test pieces of an adhesive lot must bear before the lot is used; entered by the shop with its source."""

from typing import Annotated, Self

from pydantic import Field, model_validator

from bladewright.drawing.quantities import ForcePerWidth, Record, Strength, Unit
from bladewright.errors import BadInput
from bladewright.typed import as_custom

#: a limit of nothing would pass whatever is torn
Peel = Annotated[ForcePerWidth, Field(gt=0.0)]


class AcceptanceLimits(Record):
    """Lap shear is always asked; peel where its mean is entered. Shares are of the bonded area, void's of the whole."""

    coupons_least: int = Field(ge=1)  # of each kind that is asked
    shear_mean_least: Strength  # [Pa]
    shear_single_least: Strength  # [Pa]
    peel_mean_least: Peel | None = None  # [N/m] left out: no peel is asked
    peel_single_least: Peel | None = None  # [N/m]
    adhesion_greatest: Unit = 0.0
    void_greatest: Unit | None = None
    uncertainty: Unit | None = None  # k = 2, of a value, as a share of it
    source: str | None = None

    @model_validator(mode="after")
    def _single_within_mean(self) -> Self:
        """A lowest value asked above the mean would make the mean's limit idle: the two stand the wrong way round."""
        for kind, mean, single in (
            ("shear", self.shear_mean_least, self.shear_single_least),
            ("peel", self.peel_mean_least, self.peel_single_least),
        ):
            if single is not None and (mean is None or single > mean):
                raise as_custom(
                    BadInput(
                        f"{kind}_single_least stands above {kind}_mean_least, or without it",
                        allowed=f"{kind}_single_least at most {kind}_mean_least",
                        fix="enter both as the maker's sheet has them",
                    )
                )
        return self
