"""What a bond line of another thickness still bears, as a share of the nominal one's strength; never more than it."""

from dataclasses import dataclass
from typing import Literal

import numpy as np

from bladewright.engine.arrays import Floats, require_finite, require_increasing
from bladewright.engine.strength.refusals import require_not_negative, require_positive
from bladewright.errors import BadInput

Basis = Literal["within its limits", "by the entered curve", "unfilled", "no curve", "beyond the curve"]


@dataclass(frozen=True, slots=True)
class ThicknessCurve:
    """Strength of test pieces against the thickness of their bond line."""

    thickness: Floats  # increasing [m]
    fraction: Floats  # of the nominal strength [1]

    def __post_init__(self) -> None:
        require_finite(self.thickness, "thickness")
        require_finite(self.fraction, "fraction")
        if self.thickness.size < 2 or self.thickness.shape != self.fraction.shape:
            raise BadInput("a curve is two points or more", field="fraction", value=self.fraction.size, allowed=">= 2")
        require_increasing(self.thickness, "thickness")
        if np.any(self.fraction < 0.0) or self.thickness[0] < 0.0:
            raise BadInput("negative", field="fraction", value=float(self.fraction.min()), allowed="0 or more")


@dataclass(frozen=True, slots=True)
class BondlineStrength:
    """Share of the nominal strength, or None where nobody has tested it."""

    fraction: float | None  # [1]
    basis: Basis


@dataclass(frozen=True, slots=True)
class BondlineLimits:
    """What the drawing lets a bond line be."""

    least: float  # [m]
    greatest: float  # [m]
    fillable: float  # widest gap that the cured film fills [m]

    def __post_init__(self) -> None:
        require_not_negative({"least": self.least})
        require_positive({"greatest": self.greatest, "fillable": self.fillable})
        if not self.least < self.greatest:
            raise BadInput(
                "the limits stand the wrong way round", field="greatest", value=self.greatest,
                allowed=f"more than {self.least:.6g} m",
            )  # fmt: skip


def bondline_strength(thickness: float, limits: BondlineLimits, curve: ThicknessCurve | None) -> BondlineStrength:
    """Share of the nominal strength at a thickness.

    0 in a gap wider than the film fills; within the limits 1, or the entered curve where it is below; else the entered
    curve, cut at 1; else not known.

    Parameters
    ----------
    thickness : float
        Measured. [m]
    limits : BondlineLimits
        [-]
    curve : ThicknessCurve or None
        None where no test was entered. [-]

    Returns
    -------
    BondlineStrength

    Raises
    ------
    BadInput
        If the thickness is negative.

    Notes
    -----
    An elastic film bears a lower peak when it is thicker, yet test pieces get weaker: elasticity may not be used to
    excuse a thick bond line. Nothing is read beyond the ends of the curve.

    Source: common practice, no source; R. D. Adams, J. Comyn, W. C. Wake, Structural Adhesive Joints in Engineering,
    1997, for strength falling with thickness (from memory).
    """
    require_not_negative({"thickness": thickness})
    if thickness > limits.fillable:
        return BondlineStrength(0.0, "unfilled")
    within = limits.least <= thickness <= limits.greatest
    if curve is None or not curve.thickness[0] <= thickness <= curve.thickness[-1]:
        if within:
            return BondlineStrength(1.0, "within its limits")
        return BondlineStrength(None, "no curve" if curve is None else "beyond the curve")
    fraction = float(np.interp(thickness, curve.thickness, curve.fraction))
    if within and fraction >= 1.0:
        return BondlineStrength(1.0, "within its limits")
    return BondlineStrength(min(1.0, fraction), "by the entered curve")
