"""Thermocouples: reference functions and circuits against the tables, inverses and symmetries as properties."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from bladewright.engine.metrology.thermocouple import (
    TYPES,
    ThermocoupleType,
    thermocouple_range,
    thermocouple_sensitivity,
    thermocouple_temperature,
    thermocouple_voltage,
)
from bladewright.engine.metrology.thermocouple_circuit import shown_temperature, shown_with_crossed_leads
from bladewright.engine.metrology.thermocouple_tolerance import ToleranceClass, thermocouple_tolerance
from bladewright.errors import BadInput, OutsideValidity
from bladewright.selfcheck import iec_60584_1, nist_monograph_175
from bladewright.selfcheck.case import Case

ICE = 273.15
kinds = st.sampled_from(TYPES)
warm = st.floats(250.0, 600.0)


@pytest.mark.outside
@pytest.mark.parametrize("case", [*nist_monograph_175.CASES, *iec_60584_1.CASES], ids=lambda case: case.quantity)
def test_published_values(case: Case) -> None:
    assert case.ours() == pytest.approx(case.published, abs=case.band)


@pytest.mark.parametrize("letter", TYPES)
def test_the_inverse_undoes_the_function_over_the_whole_range(letter: ThermocoupleType) -> None:
    temperatures = np.linspace(*thermocouple_range(letter), 4001)
    back = thermocouple_temperature(thermocouple_voltage(temperatures, letter), letter)
    assert back == pytest.approx(temperatures, abs=1e-6)


@pytest.mark.parametrize("letter", TYPES)
def test_the_voltage_goes_up_everywhere_and_its_slope_is_the_sensitivity(letter: ThermocoupleType) -> None:
    temperatures = np.linspace(*thermocouple_range(letter), 2001)[1:-1]
    step = 1e-3
    above, below = (thermocouple_voltage(temperatures + side * step, letter) for side in (1.0, -1.0))
    slope = (above - below) / (2.0 * step)
    assert thermocouple_sensitivity(temperatures, letter) == pytest.approx(slope, rel=1e-4, abs=1e-9)
    assert (slope > 0.0).all()


@pytest.mark.parametrize("letter", TYPES)
def test_the_pieces_meet_and_nought_is_nought(letter: ThermocoupleType) -> None:
    # printed coefficients of type J meet at 760 degC within a tenth of a microvolt
    for edge in (ICE, ICE + 760.0) if letter != "T" else (ICE,):
        below, above = thermocouple_voltage(np.array([edge - 1e-9, edge]), letter)
        assert above == pytest.approx(below, abs=1e-7)
    assert float(thermocouple_voltage(ICE, letter)) == pytest.approx(0.0, abs=1e-11)


def test_a_reading_that_is_not_there_stays_not_there() -> None:
    assert np.isnan(thermocouple_temperature(np.array([np.nan, 0.0]), "K")).tolist() == [True, False]
    assert np.isnan(shown_temperature(np.array([np.nan]), ICE, "K", "J", ICE)).all()


@given(junction=warm, terminal=st.floats(270.0, 320.0), letter=kinds)
def test_a_right_circuit_shows_the_truth(junction: float, terminal: float, letter: ThermocoupleType) -> None:
    shown = float(shown_temperature(junction, terminal, letter, letter, terminal))
    assert shown == pytest.approx(junction, abs=1e-5)


@given(terminal=st.floats(270.0, 320.0), wire=kinds, selected=kinds)
def test_a_junction_as_warm_as_its_terminals_shows_nothing_wrong(
    terminal: float, wire: ThermocoupleType, selected: ThermocoupleType
) -> None:
    assert float(shown_temperature(terminal, terminal, wire, selected, terminal)) == pytest.approx(terminal, abs=1e-5)


@given(junction=st.floats(300.0, 600.0), warmer=st.floats(0.1, 20.0), letter=kinds)
def test_terminals_warmer_than_taken_read_low_by_less_than_the_error_or_nearly(
    junction: float, warmer: float, letter: ThermocoupleType
) -> None:
    shown = float(shown_temperature(junction, 298.15 + warmer, letter, letter, 298.15))
    assert 0.6 * warmer < junction - shown < 1.1 * warmer


@given(junction=st.floats(330.0, 600.0), letter=kinds)
def test_crossed_leads_do_nothing_where_head_and_terminals_are_as_warm(
    junction: float, letter: ThermocoupleType
) -> None:
    assert float(shown_with_crossed_leads(junction, 298.0, 298.0, letter)) == pytest.approx(junction, abs=1e-5)


@pytest.mark.parametrize(
    ("letter", "tolerance", "celsius"),
    [("K", "class 1", 375.0), ("K", "class 2", 1000.0 / 3.0), ("T", "class 1", 125.0), ("T", "class 2", 400.0 / 3.0)],
)
def test_the_share_takes_over_where_it_passes_the_fixed_limit(
    letter: ThermocoupleType, tolerance: ToleranceClass, celsius: float
) -> None:
    below, at, above = thermocouple_tolerance(ICE + celsius + np.array([-1.0, 0.0, 1.0]), letter, tolerance)
    assert below == pytest.approx(at)
    assert above > at


def test_cold_counts_by_how_far_it_is_from_nought() -> None:
    assert float(thermocouple_tolerance(ICE - 40.0, "T", "class 2")) == 1.0


@pytest.mark.parametrize(
    ("ask", "field"),
    [
        (lambda: thermocouple_voltage(1800.0, "K"), "temperature"),
        (lambda: thermocouple_voltage(20.0, "J"), "temperature"),
        (lambda: thermocouple_temperature(0.06, "K"), "voltage"),
        (lambda: thermocouple_temperature(np.array([0.0, -0.01]), "T"), "voltage"),
        (lambda: thermocouple_tolerance(1500.0, "K", "class 2"), "temperature"),
    ],
)
def test_outside_the_range_no_number_is_given(ask: object, field: str) -> None:
    with pytest.raises(OutsideValidity) as caught:
        ask()  # type: ignore[operator]
    assert caught.value.field == field
    assert caught.value.allowed


@pytest.mark.parametrize(
    ("ask", "field"),
    [
        (lambda: thermocouple_voltage(300.0, "X"), "letter"),  # type: ignore[arg-type]
        (lambda: thermocouple_tolerance(300.0, "K", "class 3"), "tolerance"),  # type: ignore[arg-type]
    ],
)
def test_an_unknown_type_or_class_is_refused(ask: object, field: str) -> None:
    with pytest.raises(BadInput) as caught:
        ask()  # type: ignore[operator]
    assert caught.value.field == field
