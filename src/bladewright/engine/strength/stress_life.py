"""Cycles to failure of a detail at a stress: two forms of curve, the range its tests cover, and its scatter."""

import math
from dataclasses import dataclass

import numpy as np
from scipy.special import ndtri

from bladewright.engine.arrays import Bools, Floats, require_finite
from bladewright.engine.statistics.tolerance import one_sided_factor
from bladewright.engine.strength.refusals import require_not_negative, require_positive
from bladewright.errors import BadInput, OutsideValidity


@dataclass(frozen=True, slots=True)
class Lives:
    """Median cycles to failure at each stress."""

    cycles: Floats  # infinite where the curve says never [1]
    inside_range: Bools  # whether the tests behind the curve reach this stress


@dataclass(frozen=True, slots=True)
class PowerLaw:
    """``S = A N**(-b)``. It has no stress below which nothing fails: every cycle counts."""

    coefficient: float  # A, the stress of one cycle [Pa]
    exponent: float  # b [1]
    least_stress: float  # of the tests [Pa]
    greatest_stress: float  # of the tests [Pa]

    def __post_init__(self) -> None:
        require_positive({"coefficient": self.coefficient, "exponent": self.exponent})
        _require_range(self.least_stress, self.greatest_stress)

    def log_cycles(self, stress: Floats) -> Floats:
        """Decimal logarithm of the median life. [1]"""
        with np.errstate(divide="ignore"):
            return np.asarray((math.log10(self.coefficient) - np.log10(stress)) / self.exponent, dtype=np.float64)


@dataclass(frozen=True, slots=True)
class ShiftedLog:
    """``log10 N = A - B log10((S - C) / S_0)``, the form of handbook curves; no failure at or below C."""

    intercept: float  # A [1]
    slope: float  # B [1]
    shift: float  # C [Pa]
    unit_stress: float  # S_0, the unit the curve's stress was written in [Pa]
    least_stress: float  # of the tests [Pa]
    greatest_stress: float  # of the tests [Pa]

    def __post_init__(self) -> None:
        require_positive({"slope": self.slope, "unit_stress": self.unit_stress})
        require_not_negative({"shift": self.shift})
        _require_range(self.least_stress, self.greatest_stress)

    def log_cycles(self, stress: Floats) -> Floats:
        """Decimal logarithm of the median life. [1]"""
        above = np.maximum(stress - self.shift, 0.0) / self.unit_stress
        with np.errstate(divide="ignore"):
            return np.asarray(self.intercept - self.slope * np.log10(above), dtype=np.float64)


Curve = PowerLaw | ShiftedLog


def _require_range(least: float, greatest: float) -> None:
    require_not_negative({"least_stress": least})
    if not (math.isfinite(greatest) and greatest > least):
        raise BadInput(
            "the range of the tests is empty", field="greatest_stress", value=greatest, allowed=f"more than {least:.6g}"
        )


def lives(curve: Curve, stress: Floats | float) -> Lives:
    """Median cycles to failure.

    ``N = (A / S)**(1/b)`` or ``log10 N = A - B log10(S - C)``.

    Parameters
    ----------
    curve : PowerLaw or ShiftedLog
        [-]
    stress : float or array
        Equivalent stress as the curve means it: reversed amplitude, or greatest stress at R = 0. [Pa]

    Returns
    -------
    Lives

    Raises
    ------
    BadInput
        If a stress is negative or not finite.

    Notes
    -----
    Beyond its tests a curve is a guess: ``inside_range`` says so, and the number is still given, so that damage is
    not lost. Below the tests of a curve that says "never", nothing was seen to last for ever either.

    Source: O. H. Basquin, 1910; MIL-HDBK-5J, 2003, 9.3.4 (from memory).
    """
    stresses = np.asarray(stress, dtype=np.float64)
    require_finite(stresses, "stress")
    if np.any(stresses < 0.0):
        raise BadInput("an equivalent stress is negative", field="stress", value=float(stresses.min()), allowed=">= 0")
    return Lives(
        cycles=_power_of_ten(curve.log_cycles(stresses)),
        inside_range=np.asarray((stresses >= curve.least_stress) & (stresses <= curve.greatest_stress)),
    )


def _power_of_ten(exponent: Floats) -> Floats:
    with np.errstate(over="ignore"):
        return np.asarray(10.0**exponent, dtype=np.float64)


@dataclass(frozen=True, slots=True)
class Scatter:
    """How the decimal logarithm of life scatters about the curve."""

    deviation: float  # standard deviation of log10 N [1]
    count: int | None  # specimens behind it; None where nobody said: the life is then not trusted [1]

    def __post_init__(self) -> None:
        require_not_negative({"deviation": self.deviation})


def scatter_factor(scatter: Scatter, reliability: float, confidence: float) -> float:
    """How many times shorter than the median the life is that the stated share outlives.

    ``10**(k s)`` with the one-sided tolerance factor k of the sample; ``k = z_p`` without a count, as if s were exact.

    Parameters
    ----------
    scatter : Scatter
        s and the number of specimens. [1]
    reliability : float
        Share of pieces that shall outlive, between 0.5 and 1. [1]
    confidence : float
        That it holds, between 0.5 and 1; without part in it where no count is known. [1]

    Returns
    -------
    float
        At least 1. [1]

    Raises
    ------
    OutsideValidity
        If reliability or confidence is not between 0.5 and 1.
    MissingInput
        With fewer than three specimens.

    Notes
    -----
    Lognormal life with one deviation at all stresses. Of a curve drawn through several stresses the count is that of
    all specimens less the constants fitted (common practice, no source); only a good guide in the middle of the tests.

    Source: as ``one_sided_factor``; lognormal life, common practice.
    """
    if scatter.count is not None:
        return float(10.0 ** (one_sided_factor(scatter.count, reliability, confidence) * scatter.deviation))
    for field, value in (("reliability", reliability), ("confidence", confidence)):
        if not 0.5 < value < 1.0:
            raise OutsideValidity("not a share", field=field, value=value, allowed="between 0.5 and 1")
    return float(10.0 ** (float(ndtri(reliability)) * scatter.deviation))
