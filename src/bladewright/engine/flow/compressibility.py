"""From incompressible pressure to pressure at a subsonic Mach number, and where that stops: the speed of sound."""

from dataclasses import dataclass
from typing import Literal

import numpy as np
from numpy.typing import NDArray

from bladewright.engine.arrays import Floats, require_finite
from bladewright.errors import BadInput, OutsideValidity

GAMMA = 1.4  # ratio of specific heats of air
LEAST_MACH = 1e-6  # below it sonic pressure has no meaning in double precision

Rule = Literal["prandtl-glauert", "karman-tsien", "laitone"]


@dataclass(frozen=True, slots=True)
class CorrectedPressure:
    """Pressure coefficients at a Mach number, and which of them hold."""

    pressure: Floats  # (...) coefficient [1]
    sonic: float  # coefficient where the flow reaches the speed of sound [1]
    inside: NDArray[np.bool_]  # (...) where the flow stays below the speed of sound by this rule [-]


def prandtl_glauert_factor(mach: float) -> float:
    """Growth of lift, moment and pressure of a thin section with Mach number, ``1/sqrt(1 - M**2)``.

    Parameters
    ----------
    mach : float
        Of the stream, from 0 to below 1. [1]

    Returns
    -------
    float
        [1]

    Raises
    ------
    BadInput
        If the Mach number is not subsonic.

    Notes
    -----
    Small disturbances, no sonic flow anywhere.

    Source: H. Glauert, Proc. Roy. Soc. A 118, 1928 (from memory).
    """
    require_subsonic(mach)
    return float(1.0 / np.sqrt(1.0 - mach**2))


def sonic_pressure(mach: float) -> float:
    """Pressure coefficient at which the local flow is sonic, without losses.

    ``cp* = 2/(g M**2) {[(2 + (g - 1) M**2)/(g + 1)]**(g/(g - 1)) - 1}``.

    Parameters
    ----------
    mach : float
        Of the stream. [1]

    Returns
    -------
    float
        Minus infinity at rest. [1]

    Raises
    ------
    BadInput
        If the Mach number is not subsonic.

    Notes
    -----
    Perfect gas with g = 1.4, constant entropy.

    Source: Ames Research Staff, NACA Report 1135, 1953 (from memory).
    """
    require_subsonic(mach)
    if mach < LEAST_MACH:
        return -np.inf
    exponent = GAMMA / (GAMMA - 1.0)
    grown = np.log1p((GAMMA - 1.0) / 2.0 * mach**2) - np.log((GAMMA + 1.0) / 2.0)
    return float(2.0 / (GAMMA * mach**2) * np.expm1(exponent * grown))


def corrected_pressure(incompressible: Floats, mach: float, rule: Rule = "karman-tsien") -> CorrectedPressure:
    """Pressure coefficients at a Mach number from those without compressibility.

    With ``b = sqrt(1 - M**2)``: Prandtl-Glauert ``cp0/b``; Karman-Tsien ``cp0/(b + M**2/(1 + b) cp0/2)``; Laitone
    ``cp0/(b + M**2 (1 + (g - 1)/2 M**2)/(2 b) cp0)``.

    Parameters
    ----------
    incompressible : (...) array
        Coefficients. [1]
    mach : float
        Of the stream. [1]
    rule : {"prandtl-glauert", "karman-tsien", "laitone"}
        Which. [-]

    Returns
    -------
    CorrectedPressure

    Raises
    ------
    BadInput
        If the Mach number is not subsonic or a coefficient not finite.

    Notes
    -----
    A value at or below the sonic one is outside validity, and so is one beyond the place where a rule's denominator
    runs out, where it is given as minus infinity. Karman-Tsien is for flow nearly parallel to the stream; the
    stagnation pressure it gives is a little high.

    Source: H. Glauert, Proc. Roy. Soc. A 118, 1928; T. von Karman, J. Aero. Sci. 8, 1941; H.-S. Tsien, J. Aero. Sci.
    6, 1939; E. V. Laitone, J. Aero. Sci. 18, 1951 (all from memory).
    """
    require_subsonic(mach)
    require_finite(incompressible, "incompressible")
    root = np.sqrt(1.0 - mach**2)
    slope = {
        "prandtl-glauert": 0.0,
        "karman-tsien": 0.5 * mach**2 / (1.0 + root),
        "laitone": 0.5 * mach**2 * (1.0 + (GAMMA - 1.0) / 2.0 * mach**2) / root,
    }[rule]
    divisor = root + slope * incompressible
    runs = divisor > 0.0
    pressure = np.where(runs, incompressible / np.where(runs, divisor, 1.0), -np.inf)
    sonic = sonic_pressure(mach)
    return CorrectedPressure(pressure=pressure, sonic=sonic, inside=pressure > sonic)


def critical_mach(lowest_pressure: float, rule: Rule = "karman-tsien") -> float:
    """Stream Mach number at which the lowest pressure on a section becomes sonic.

    Parameters
    ----------
    lowest_pressure : float
        Incompressible coefficient of the suction peak, below zero. [1]
    rule : {"prandtl-glauert", "karman-tsien", "laitone"}
        How it grows with Mach number. [-]

    Returns
    -------
    float
        [1]

    Raises
    ------
    OutsideValidity
        If there is no suction, and so no such Mach number.

    Notes
    -----
    Shock waves, and the rise of drag, come at a somewhat higher Mach number.

    Source: as ``corrected_pressure`` and ``sonic_pressure``.
    """
    from scipy.optimize import brentq

    if not -np.inf < lowest_pressure < 0.0:
        raise OutsideValidity("no suction, no critical Mach number", field="lowest_pressure", value=lowest_pressure)

    def above(mach: float) -> float:
        pressure = float(corrected_pressure(np.array([lowest_pressure]), mach, rule).pressure[0])
        return 1.0 / pressure - 1.0 / sonic_pressure(mach)  # inverted, so that minus infinity is a place like any other

    return float(brentq(above, 1e-3, 1.0 - 1e-12, xtol=1e-14))


def require_subsonic(mach: float) -> None:
    """Raise ``BadInput`` unless a Mach number is from 0 to below 1.

    Parameters
    ----------
    mach : float
        Of the stream. [1]

    Raises
    ------
    BadInput
        With the range.
    """
    if not 0.0 <= mach < 1.0:
        raise BadInput("the stream must be subsonic", field="mach", value=mach, allowed="0 to below 1")
