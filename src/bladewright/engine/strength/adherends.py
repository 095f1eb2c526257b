"""What a bonded joint is made of: sheets and the film between them."""

from dataclasses import dataclass

from bladewright.engine.strength.refusals import require_positive
from bladewright.errors import BadInput

SOFT = 0.1  # thickness over modulus of a sheet, as a share of the film's; M. Goland, E. Reissner, 1944 (from memory)


@dataclass(frozen=True, slots=True)
class Sheet:
    """A sheet, skin, doubler or wall that a film holds."""

    modulus: float  # Young's [Pa]
    thickness: float  # [m]
    poisson: float  # Poisson's ratio [1]

    def __post_init__(self) -> None:
        require_positive({"modulus": self.modulus, "thickness": self.thickness})
        if not 0.0 <= self.poisson < 0.5:
            raise BadInput("not of a metal", field="poisson", value=self.poisson, allowed="0 up to 0.5")

    @property
    def axial(self) -> float:
        """E t, per width. [N/m]"""
        return self.modulus * self.thickness

    @property
    def bending(self) -> float:
        """``D = E t**3 / (12 (1 - nu**2))``, per width. [N m]"""
        return self.modulus * self.thickness**3 / (12.0 * (1.0 - self.poisson**2))


@dataclass(frozen=True, slots=True)
class Film:
    """Cured adhesive between two sheets."""

    shear_modulus: float  # [Pa]
    modulus: float  # Young's, square to the bond [Pa]
    thickness: float  # of the bond line [m]

    def __post_init__(self) -> None:
        require_positive(
            {"shear_modulus": self.shear_modulus, "modulus": self.modulus, "thickness": self.thickness}
        )  # fmt: skip

    def shear_decay(self, first: float, second: float) -> float:
        """``sqrt((G / t_a) (1 / k1 + 1 / k2))`` of two sheets of stiffness k per width. [1/m]"""
        return float((self.shear_modulus / self.thickness * (1.0 / first + 1.0 / second)) ** 0.5)

    def is_soft_beside(self, sheet: Sheet) -> bool:
        """Whether the sheet's own squeeze and shear are small against the film's."""
        shear_modulus = 0.5 * sheet.modulus / (1.0 + sheet.poisson)
        hardest = max(self.modulus / sheet.modulus, self.shear_modulus / shear_modulus)
        return hardest * sheet.thickness / self.thickness <= SOFT

    def peel_decay(self, bending: float) -> float:
        """``beta = (E_a / (4 D t_a))**(1/4)`` of one sheet that bends on a film held still beneath. [1/m]"""
        return float((self.modulus / (4.0 * bending * self.thickness)) ** 0.25)
