"""Thermocouple voltages, their inverse, and what wrong types and terminals show, against the reference tables."""

from functools import partial

from bladewright.engine.metrology.thermocouple import (
    ThermocoupleType,
    thermocouple_sensitivity,
    thermocouple_temperature,
    thermocouple_voltage,
)
from bladewright.engine.metrology.thermocouple_circuit import shown_temperature, shown_with_crossed_leads
from bladewright.selfcheck.case import Case
from bladewright.units import from_si, to_si

_SOURCE = "G. W. Burns et al., NIST Monograph 175, Temperature-electromotive force reference functions, 1993"
_TABLE = f"{_SOURCE} (tables printed to three decimals of a millivolt)"
_FUNCTIONS = f"{_SOURCE} (reference functions worked out to five decimals)"
_CIRCUIT = f"{_SOURCE} (reference functions put into the circuit by hand)"
_PRINTED, _WORKED, _KELVIN = "printed to three decimals", "worked out to five decimals", "worked out to two decimals"

_TABLES: tuple[tuple[ThermocoupleType, float, float], ...] = (
    ("K", 120.0, 4.920),
    ("J", 100.0, 5.269),
    ("T", 100.0, 4.279),
)
_VOLTAGES: dict[ThermocoupleType, dict[float, float]] = {
    "K": {-40: -1.52695, -18: -0.70095, 25: 1.00024, 100: 4.09623, 121: 4.96084, 130: 5.32839, 180: 7.34002},
    "J": {-40: -1.96065, -18: -0.89647, 25: 1.27729, 100: 5.26892, 121: 6.41507, 130: 6.90874, 180: 9.66936},
    "T": {-40: -1.47499, -18: -0.68285, 25: 0.99198, 100: 4.27852, 121: 5.27668, 130: 5.71375, 180: 8.23661},
}
_SENSITIVITY: dict[ThermocoupleType, float] = {"K": 40.947, "J": 54.777, "T": 48.261}
_OF_FIVE: dict[ThermocoupleType, float] = {"K": 121.9566, "J": 95.0480, "T": 115.2436}
#: wire, selected, true [degC], shown [degC]; both terminals at 0 degC
_MISREAD: tuple[tuple[ThermocoupleType, ThermocoupleType, float, float], ...] = (
    ("K", "J", 20.0, 15.70), ("K", "J", 60.0, 47.18), ("K", "J", 100.0, 78.32), ("K", "J", 120.0, 93.57),
    ("K", "J", 121.0, 94.33), ("K", "J", 180.0, 137.84), ("J", "K", 120.0, 155.52), ("J", "K", 121.0, 156.88),
    ("K", "T", 120.0, 113.57), ("T", "K", 120.0, 127.55),
)  # fmt: skip
#: what, wire and selected, true, terminals, terminals as assumed, shown; all in degC
_TERMINALS: tuple[tuple[str, ThermocoupleType, ThermocoupleType, float, float, float, float], ...] = (
    ("K 3 K warmer than taken", "K", "K", 121.0, 28.0, 25.0, 118.030),
    ("J 3 K warmer than taken", "J", "J", 121.0, 28.0, 25.0, 118.160),
    ("T 3 K warmer than taken", "T", "T", 121.0, 28.0, 25.0, 118.459),
    ("K not compensated", "K", "K", 121.0, 25.0, 0.0, 96.723),
    ("K 4 K colder than taken", "K", "K", 121.0, 25.0, 29.0, 124.970),
    ("K read as J, compensated as J", "K", "J", 120.0, 25.0, 25.0, 98.68),
)


def _kelvin(celsius: float) -> float:
    return to_si(f"{celsius} degC", "temperature")


def _celsius(kelvin: float) -> float:
    return from_si(kelvin, "degC", "temperature")


def _millivolts(letter: ThermocoupleType, celsius: float) -> float:
    return 1e3 * float(thermocouple_voltage(_kelvin(celsius), letter))


def _microvolts(letter: ThermocoupleType, celsius: float) -> float:
    return 1e6 * float(thermocouple_sensitivity(_kelvin(celsius), letter))


def _of_five(letter: ThermocoupleType) -> float:
    return _celsius(float(thermocouple_temperature(5e-3, letter)))


def _shown(
    wire: ThermocoupleType, selected: ThermocoupleType, true: float, terminal: float = 0.0, assumed: float = 0.0
) -> float:
    return _celsius(float(shown_temperature(_kelvin(true), _kelvin(terminal), wire, selected, _kelvin(assumed))))


def _crossed() -> float:
    return _celsius(float(shown_with_crossed_leads(_kelvin(121.0), _kelvin(40.0), _kelvin(25.0), "K")))


CASES: tuple[Case, ...] = (
    *(
        Case(_TABLE, f"type {letter} at {at:g} degC [mV]", partial(_millivolts, letter, at), value, 0.00051, _PRINTED)
        for letter, at, value in _TABLES
    ),
    *(
        Case(_FUNCTIONS, f"type {letter} at {at:g} degC [mV]", partial(_millivolts, letter, at), value, 1e-5, _WORKED)
        for letter, values in _VOLTAGES.items()
        for at, value in values.items()
    ),
    *(
        Case(
            _FUNCTIONS,
            f"type {letter} sensitivity at 121 degC [uV/K]",
            partial(_microvolts, letter, 121.0),
            value,
            5.1e-4,
            "worked out to three decimals",
        )
        for letter, value in _SENSITIVITY.items()
    ),
    *(
        Case(_FUNCTIONS, f"type {letter} of 5 mV [degC]", partial(_of_five, letter), value, 1e-4, "four decimals")
        for letter, value in _OF_FIVE.items()
    ),
    *(
        Case(
            _CIRCUIT,
            f"type {wire} at {true:g} degC read as {selected}, terminals at 0 degC [degC]",
            partial(_shown, wire, selected, true),
            shown,
            0.0051,
            _KELVIN,
        )
        for wire, selected, true, shown in _MISREAD
    ),
    *(
        Case(
            _CIRCUIT,
            f"at {true:g} degC, {what} [degC]",
            partial(_shown, wire, selected, true, terminal, assumed),
            shown,
            0.0051,
            _KELVIN,
        )
        for what, wire, selected, true, terminal, assumed, shown in _TERMINALS
    ),
    Case(_CIRCUIT, "type K at 121 degC, leads crossed, head at 40 degC [degC]", _crossed, 91.35, 0.0051, _KELVIN),
)
