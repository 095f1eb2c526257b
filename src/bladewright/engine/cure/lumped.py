"""A thin sheet that is everywhere of one temperature, between air and walls."""

import math
from dataclasses import dataclass

import numpy as np

from bladewright.engine.cure.kelvin import require_kelvin
from bladewright.errors import BadInput, OutsideValidity

STEFAN_BOLTZMANN = 5.670374419e-8  # [W/(m^2 K^4)] CODATA 2018, exact since then to the digits given
GREATEST_BIOT = 0.1  # [1] above it the inside stays behind; usual bound


@dataclass(frozen=True, slots=True)
class ThinSheet:
    """What is warmed, per area of sheet, both faces counted together."""

    capacity: float  # density times specific heat times thickness [J/(m^2 K)]
    convection: float  # sum of both faces' coefficients [W/(m^2 K)]
    emissivity: float = 0.0  # sum of both faces' emissivities to walls of the air's temperature [1]

    def passes(self, temperature: float, surroundings: float) -> float:
        """Heat taken up for each kelvin that the surroundings are warmer. [W/(m^2 K)]"""
        radiates = (surroundings**2 + temperature**2) * (surroundings + temperature)
        return self.convection + self.emissivity * STEFAN_BOLTZMANN * radiates


def time_to_reach(sheet: ThinSheet, start: float, end: float, surroundings: float) -> float:
    """Time from one temperature to another: ``int C dT / q(T)``; ``tau ln(...)`` where nothing radiates.

    Parameters
    ----------
    sheet : ThinSheet
        [-]
    start, end : float
        On one side of the surroundings' temperature, the end nearer to it. [K]
    surroundings : float
        Of air and walls. [K]

    Returns
    -------
    float
        [s]

    Raises
    ------
    OutsideValidity
        If a temperature cannot be one of a cure in kelvin.
    BadInput
        If the end is never reached.

    Notes
    -----
    For a Biot number (``biot_of_sheet``) below 0.1.

    Source: F. P. Incropera, D. P. DeWitt, Fundamentals of Heat and Mass Transfer, ch. 5 (from memory).
    """
    require_kelvin(np.array([start, end, surroundings]), "start, end, surroundings")
    if start == end:
        return 0.0
    if not (end - start) * (surroundings - end) > 0.0:
        raise BadInput("is never reached", field="end", value=end, allowed="between the start and the surroundings")
    return _time(sheet, surroundings - start, math.log((surroundings - start) / (surroundings - end)), surroundings)


def temperature_after(sheet: ThinSheet, start: float, surroundings: float, time: float) -> float:
    """Temperature after a time in steady surroundings.

    Parameters
    ----------
    sheet : ThinSheet
        [-]
    start : float
        [K]
    surroundings : float
        Of air and walls. [K]
    time : float
        [s]

    Returns
    -------
    float
        [K]

    Raises
    ------
    OutsideValidity
        If a temperature cannot be one of a cure in kelvin.

    Notes
    -----
    Source: the inverse of ``time_to_reach``.
    """
    require_kelvin(np.array([start, surroundings]), "start, surroundings")
    difference = surroundings - start
    if difference == 0.0 or time <= 0.0:
        return start
    from scipy.optimize import brentq

    # each bound passes as little or as much heat as the sheet ever does on its way
    least, most = sorted(sheet.passes(one, surroundings) for one in (start, surroundings))
    if not sheet.emissivity:
        return surroundings - difference * math.exp(-least * time / sheet.capacity)

    def late(decay: float) -> float:
        return _time(sheet, difference, decay, surroundings) - time

    slow, quick = (passing * time / sheet.capacity for passing in (least, most))
    found = float(brentq(late, 0.999 * slow, 1.001 * quick, xtol=1e-12))
    return surroundings - difference * math.exp(-found)


def biot_of_sheet(convection: float, thickness: float, conductivity: float) -> float:
    """How far from being of one temperature a sheet warmed from both faces is; refused where it is too far.

    Parameters
    ----------
    convection : float
        Of one face. [W/(m^2 K)]
    thickness : float
        [m]
    conductivity : float
        [W/(m K)]

    Returns
    -------
    float
        ``h (d/2) / k``. [1]

    Raises
    ------
    OutsideValidity
        Above 0.1.

    Notes
    -----
    Source: F. P. Incropera, D. P. DeWitt, Fundamentals of Heat and Mass Transfer, 5.2 (from memory).
    """
    biot = convection * 0.5 * thickness / conductivity
    if biot > GREATEST_BIOT:
        raise OutsideValidity(
            "its inside stays behind its faces",
            field="thickness",
            value=thickness,
            allowed=f"a Biot number up to {GREATEST_BIOT}",
            fix="use the slab's series",
        )
    return biot


def _time(sheet: ThinSheet, difference: float, decay: float, surroundings: float) -> float:
    """Until the difference has fallen by a number of e-folds, in which the integrand is nearly even. [s]"""
    if not sheet.emissivity:
        return sheet.capacity / sheet.convection * decay
    from scipy.integrate import quad

    def along(folds: float) -> float:
        return sheet.capacity / sheet.passes(surroundings - difference * math.exp(-folds), surroundings)

    return float(quad(along, 0.0, decay, epsrel=1e-10)[0])
