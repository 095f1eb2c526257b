"""Stress-life records of details: which detail, where on the blade, what curve, and how the tests scatter."""

from typing import Annotated, Literal, Self

from pydantic import Field, model_validator

from bladewright.drawing.quantities import Length, Pressure, Record, Strength
from bladewright.errors import BadInput
from bladewright.typed import as_custom

#: constants each form of curve is made of
NEEDED = {"power law": ("coefficient", "exponent"), "shifted log": ("intercept", "slope", "shift", "unit_stress")}


class StressLife(Record):
    """One curve of stress against cycles.

    Power law: ``S = coefficient N**(-exponent)``, S the fully reversed amplitude. Shifted log: ``log10 N = intercept -
    slope log10((S - shift) / unit_stress)``, S the greatest stress of a cycle from nought.
    """

    detail: str  # "bolt hole with fretting", "bond end of the doubler"
    part: Literal["skin", "spar", "doubler"]
    radius: Length  # [m] where on the blade the detail is
    stress_factor: Annotated[float, Field(ge=1.0, le=20.0)]  # stress the curve means, over the part's own stress there
    form: Literal["power law", "shifted log"]
    coefficient: Strength | None = None  # [Pa]
    exponent: Annotated[float, Field(gt=0.0, lt=1.0)] | None = None
    intercept: Annotated[float, Field(ge=-100.0, le=100.0)] | None = None  # log10 of a life; our own bounds
    slope: Annotated[float, Field(gt=0.0, le=100.0)] | None = None
    shift: Annotated[Pressure, Field(ge=0.0)] | None = None  # [Pa]
    unit_stress: Strength | None = None  # [Pa]
    mean_exponent: Annotated[float, Field(gt=0.0, le=1.0)]  # g of ``S_max**(1-g) S_a**g``
    least: Strength  # [Pa] stress of the tests
    greatest: Strength  # [Pa] stress of the tests
    deviation: Annotated[float, Field(ge=0.0, le=2.0)]  # of log10 N
    count: Annotated[int, Field(ge=3)] | None = None  # specimens behind the deviation; None: taken as known
    source: str | None = None

    @model_validator(mode="after")
    def _whole(self) -> Self:
        gone = [name for name in NEEDED[self.form] if getattr(self, name) is None]
        if gone:
            raise as_custom(BadInput(f"{self.form} needs {', '.join(gone)}", allowed=", ".join(NEEDED[self.form]),
                                     fix=f"enter {gone[0]}"))  # fmt: skip
        if not self.greatest > self.least:
            raise as_custom(BadInput("greatest is not more than least", allowed="more than least",
                                     fix="check the range of the tests"))  # fmt: skip
        return self
