"""Materials as entered records. A record without a source is unvalidated, and so is every answer that rests on it."""

from pydantic import Field

from bladewright.drawing.allowables import CrackGrowth
from bladewright.drawing.quantities import Density, Expansion, Intensity, Modulus, Pressure, Record, Size, Strength


class Material(Record):
    """What a sheet, an extrusion, a weight or a cured adhesive is made of."""

    name: str
    density: Density  # [kg/m^3]
    youngs_modulus: Modulus | None = None  # [Pa]
    shear_modulus: Modulus | None = None  # [Pa]
    poisson_ratio: float | None = Field(default=None, gt=-1.0, le=0.5)  # an isotropic solid's bounds
    yield_strength: Pressure | None = None  # [Pa]
    ultimate_strength: Pressure | None = None  # [Pa]
    shear_strength: Strength | None = None  # [Pa] ultimate
    bearing_yield: Strength | None = None  # [Pa] at an edge distance of two diameters
    bearing_ultimate: Strength | None = None  # [Pa] the same
    fracture_toughness: Intensity | None = None  # [Pa m^0.5] of a sheet this thick, where a crack runs away
    notch_length: Size | None = None  # [m] a of the notch rule ``K_f = 1 + (K_t - 1) / (1 + a / r)``
    crack_growth: CrackGrowth | None = None
    thermal_expansion: Expansion | None = None  # [1/K]
    source: str | None = None  # where the figures come from; None marks every result "unvalidated data"

    @property
    def validated(self) -> bool:
        """Whether somebody entered where these figures come from."""
        return bool(self.source)
