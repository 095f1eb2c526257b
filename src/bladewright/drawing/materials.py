"""Materials as entered records. A record without a source is unvalidated, and so is every answer that rests on it."""

from typing import Self

from pydantic import Field, model_validator

from bladewright.drawing.allowables import CrackGrowth
from bladewright.drawing.order import require_order
from bladewright.drawing.quantities import Density, Expansion, Intensity, Modulus, Record, Size, Strength
from bladewright.errors import BadInput
from bladewright.typed import as_custom

#: share of Young's modulus at which rows of atoms part; no metal reaches it. E. Orowan, 1949 (from memory)
IDEAL_STRENGTH = 0.1
#: how far moduli measured apart may be from ``E = 2 G (1 + nu)``; common practice, no source
MODULI_MEET = 0.2


class Material(Record):
    """What a sheet, an extrusion, a weight or a cured adhesive is made of."""

    name: str
    density: Density  # [kg/m^3]
    youngs_modulus: Modulus | None = None  # [Pa]
    shear_modulus: Modulus | None = None  # [Pa]
    poisson_ratio: float | None = Field(default=None, gt=-1.0, le=0.5)  # an isotropic solid's bounds
    yield_strength: Strength | None = None  # [Pa]
    ultimate_strength: Strength | None = None  # [Pa]
    shear_strength: Strength | None = None  # [Pa] ultimate
    bearing_yield: Strength | None = None  # [Pa] at an edge distance of two diameters
    bearing_ultimate: Strength | None = None  # [Pa] the same
    fracture_toughness: Intensity | None = None  # [Pa m^0.5] of a sheet this thick, where a crack runs away
    notch_length: Size | None = None  # [m] a of the notch rule ``K_f = 1 + (K_t - 1) / (1 + a / r)``
    crack_growth: CrackGrowth | None = None
    thermal_expansion: Expansion | None = None  # [1/K]
    source: str | None = None  # where the figures come from; None marks every result "unvalidated data"

    @model_validator(mode="after")
    def _figures_go_together(self) -> Self:
        """A unit that is not the one that was meant shows between two figures of one metal."""
        require_order("ultimate_strength", self.yield_strength, self.ultimate_strength, "at or above yield_strength")
        require_order("bearing_ultimate", self.bearing_yield, self.bearing_ultimate, "at or above bearing_yield")
        young, strength = self.youngs_modulus, self.ultimate_strength
        if young is not None and strength is not None and strength > IDEAL_STRENGTH * young:
            raise as_custom(BadInput("ultimate_strength is more than the modulus lets any metal bear",
                                     allowed=f"at most {IDEAL_STRENGTH:g} of youngs_modulus",
                                     fix="check the units of ultimate_strength and youngs_modulus"))  # fmt: skip
        shear, poisson = self.shear_modulus, self.poisson_ratio
        if young is None or shear is None or poisson is None:
            return self
        if not 1.0 - MODULI_MEET <= young / (2.0 * shear * (1.0 + poisson)) <= 1.0 + MODULI_MEET:
            raise as_custom(BadInput("youngs_modulus, shear_modulus and poisson_ratio are not of one metal",
                                     allowed=f"E = 2 G (1 + nu) within {100.0 * MODULI_MEET:g} %",
                                     fix="check the units of both moduli"))  # fmt: skip
        return self

    @property
    def validated(self) -> bool:
        """Whether somebody entered where these figures come from."""
        return bool(self.source)
