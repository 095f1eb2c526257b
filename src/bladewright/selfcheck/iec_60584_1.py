"""Tolerance classes of thermocouple wire."""

from functools import partial

from bladewright.engine.metrology.thermocouple import ThermocoupleType
from bladewright.engine.metrology.thermocouple_tolerance import ToleranceClass, thermocouple_tolerance
from bladewright.selfcheck.case import Case
from bladewright.units import to_si

_IEC = "IEC 60584-1:2013, Thermocouples: EMF specifications and tolerances, table of classes (read in three reprints)"
_ASTM = "ASTM E230, initial tolerances of thermocouples (public limits, read in two reprints; edition from memory)"
_EXACT = "exact"
_AT = (121.0, 130.0, 180.0, 350.0)  # [degC]
_LIMITS: dict[tuple[ThermocoupleType, ToleranceClass], tuple[float, ...]] = {
    ("K", "class 1"): (1.5, 1.5, 1.5, 1.5),
    ("K", "class 2"): (2.5, 2.5, 2.5, 2.625),
    ("J", "class 1"): (1.5, 1.5, 1.5, 1.5),
    ("J", "class 2"): (2.5, 2.5, 2.5, 2.625),
    ("T", "class 1"): (0.5, 0.52, 0.72, 1.4),
    ("T", "class 2"): (1.0, 1.0, 1.35, 2.625),
}
_US: dict[tuple[ThermocoupleType, ToleranceClass], float] = {("K", "standard"): 2.2, ("K", "special"): 1.1}


def _limit(letter: ThermocoupleType, tolerance: ToleranceClass, celsius: float) -> float:
    return float(thermocouple_tolerance(to_si(f"{celsius} degC", "temperature"), letter, tolerance))


CASES: tuple[Case, ...] = (
    *(
        Case(_IEC, f"type {letter} {name} at {at:g} degC [K]", partial(_limit, letter, name, at), value, 1e-9, _EXACT)
        for (letter, name), values in _LIMITS.items()
        for at, value in zip(_AT, values, strict=True)
    ),
    *(
        Case(_ASTM, f"type {letter} {name} at 121 degC [K]", partial(_limit, letter, name, 121.0), value, 1e-9, _EXACT)
        for (letter, name), value in _US.items()
    ),
)
