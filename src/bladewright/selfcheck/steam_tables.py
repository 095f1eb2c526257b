"""Dew point and vapour pressure by the Magnus form, against saturated steam."""

from functools import partial

from bladewright.engine.metrology.moist_air import dew_point, saturation_pressure
from bladewright.selfcheck.case import Case
from bladewright.units import from_si, to_si

_SOURCE = "IAPWS-IF97, Properties of Water and Steam, saturation pressure (from memory)"
_STEAM = {5.0: 872.6, 10.0: 1228.1, 15.0: 1705.7, 20.0: 2339.2, 25.0: 3169.8, 30.0: 4246.9, 40.0: 7384.4}  # degC, Pa
_SHARE = 0.004  # what the Magnus form is known to be off by between 0 and 60 degC
_REASON = "the Magnus form is within 0.4 % of steam here, and within 0.35 K in dew point"


def _kelvin(celsius: float) -> float:
    return to_si(f"{celsius} degC", "temperature")


def _pressure(celsius: float) -> float:
    return float(saturation_pressure(_kelvin(celsius)))


def _dew(air: float, dew: float) -> float:
    """Dew point of air whose humidity follows from steam at both temperatures. [degC]"""
    return from_si(dew_point(_kelvin(air), _STEAM[dew] / _STEAM[air]), "degC", "temperature")


CASES: tuple[Case, ...] = (
    *(
        Case(_SOURCE, f"over water at {at:g} degC [Pa]", partial(_pressure, at), value, _SHARE * value, _REASON)
        for at, value in _STEAM.items()
    ),
    *(
        Case(_SOURCE, f"dew point, air of {air:g} degC [degC]", partial(_dew, air, dew), dew, 0.35, _REASON)
        for air, dew in ((25.0, 15.0), (20.0, 5.0), (30.0, 20.0))
    ),
)
