"""Moist air where adhesive is laid: when a cold surface draws water."""

import math

import numpy as np
from numpy.typing import ArrayLike

from bladewright.engine.arrays import Floats
from bladewright.engine.metrology.thermocouple import ICE
from bladewright.errors import BadInput, OutsideValidity

#: Magnus form over water, WMO Guide to Instruments and Methods of Observation (WMO-No. 8), annex 4.B (from memory)
_PRESSURE = 611.2  # at 0 degC [Pa]
_FACTOR = 17.62  # [1]
_SHIFT = 243.12  # [K]
_COLDEST, _WARMEST = ICE - 45.0, ICE + 60.0  # [K]


def saturation_pressure(temperature: ArrayLike) -> Floats:
    """Greatest pressure water vapour has over water.

    ``e_w(t) = 611.2 Pa exp(17.62 t / (243.12 + t))``, ``t`` in degrees Celsius.

    Parameters
    ----------
    temperature : (...) array
        Of the air, between -45 and 60 degC. [K]

    Returns
    -------
    Floats
        The pressure, of the shape of ``temperature``. [Pa]

    Raises
    ------
    OutsideValidity
        If a temperature is outside the range.

    Notes
    -----
    Within 0.4 % of steam tables from 0 to 60 degC. Over water, not ice.

    Source: WMO Guide to Instruments and Methods of Observation (WMO-No. 8), annex 4.B (from memory).
    """
    values = np.asarray(temperature, dtype=np.float64)
    out = (values < _COLDEST) | (values > _WARMEST)
    if out.any():
        raise OutsideValidity(
            "outside what the vapour formula covers",
            field="temperature",
            value=float(values.ravel()[int(np.argmax(out.ravel()))]),
            allowed="-45 to 60 degC",
        )
    celsius = values - ICE
    pressure: Floats = _PRESSURE * np.exp(_FACTOR * celsius / (_SHIFT + celsius))
    return pressure


def dew_point(temperature: float, humidity: float) -> float:
    """Temperature at or below which a surface draws water from the air.

    ``t_d = 243.12 g / (17.62 - g)`` with ``g = ln(U) + 17.62 t / (243.12 + t)``.

    Parameters
    ----------
    temperature : float
        Of the air, between -45 and 60 degC. [K]
    humidity : float
        Relative humidity, above 0 and at most 1. [1]

    Returns
    -------
    float
        The dew point. [K]

    Raises
    ------
    BadInput
        If the humidity is not above 0 and at most 1.
    OutsideValidity
        If the temperature is outside the range.

    Notes
    -----
    Within 0.35 K for dew points above -45 degC (from memory). Humidity as a share, not in per cent.

    Source: WMO Guide to Instruments and Methods of Observation (WMO-No. 8), annex 4.B (from memory), turned round.
    """
    if not 0.0 < humidity <= 1.0:
        raise BadInput("not a relative humidity", field="humidity", value=humidity, allowed="above 0, at most 1")
    vapour = math.log(humidity * float(saturation_pressure(temperature)) / _PRESSURE)
    return ICE + _SHIFT * vapour / (_FACTOR - vapour)
