"""Equivalent minutes, glass transition and gel: closed forms as properties, and what is refused."""

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from bladewright.engine.cure.equivalent_time import equivalent_rate, equivalent_time
from bladewright.engine.cure.gel import gel_conversion, time_reached
from bladewright.engine.cure.glass_transition import GlassTransition, conversion_from_transition, glass_transition
from bladewright.errors import BadInput, OutsideValidity, StationOrder
from bladewright.selfcheck.arrhenius_counting import ramp, ramp_in_closed_form

REFERENCE, ENERGY = 394.15, 80e3
warm = st.floats(250.0, 480.0)


@settings(max_examples=40, deadline=None)
@given(first=st.floats(-20.0, 180.0), rise=st.floats(5.0, 150.0), energy=st.floats(20e3, 150e3))
def test_any_ramp_is_its_exponential_integral(first: float, rise: float, energy: float) -> None:
    exact = ramp_in_closed_form(first, first + rise, 30.0, energy)
    assert ramp(first, first + rise, 30.0, energy) == pytest.approx(exact, rel=3e-11)


@settings(max_examples=30, deadline=None)
@given(temperatures=st.lists(warm, min_size=3, max_size=8), cut=st.integers(1, 6))
def test_time_counts_the_same_in_pieces_and_backwards(temperatures: list[float], cut: int) -> None:
    seconds, history = 60.0 * np.arange(len(temperatures)), np.array(temperatures)
    whole = equivalent_time(seconds, history, ENERGY, REFERENCE)[-1]
    at = min(cut, len(temperatures) - 2)
    first = equivalent_time(seconds[: at + 1], history[: at + 1], ENERGY, REFERENCE)[-1]
    rest = equivalent_time(seconds[at:], history[at:], ENERGY, REFERENCE)[-1]
    assert first + rest == pytest.approx(whole, rel=1e-10)
    assert equivalent_time(seconds, history[::-1], ENERGY, REFERENCE)[-1] == pytest.approx(whole, rel=1e-10)


def test_a_second_at_the_reference_is_a_second() -> None:
    held = np.full((3, 2), REFERENCE)
    np.testing.assert_allclose(equivalent_time(np.array([0.0, 77.0]), held, ENERGY, REFERENCE)[:, -1], 77.0, rtol=1e-14)


@pytest.mark.parametrize("celsius", [121.0, 25.0, -18.0, np.nan, 1e5])
def test_celsius_never_gets_into_an_exponent(celsius: float) -> None:
    with pytest.raises(OutsideValidity) as wrong:
        equivalent_rate(np.array([REFERENCE, celsius]), ENERGY, REFERENCE)
    assert (wrong.value.field, wrong.value.row, wrong.value.allowed) == ("temperature", 2, "200 to 1000 K")
    with pytest.raises(OutsideValidity) as reference:
        equivalent_rate(np.array([REFERENCE]), ENERGY, 121.0)
    assert reference.value.field == "reference"


def test_times_must_increase() -> None:
    with pytest.raises(StationOrder) as wrong:
        equivalent_time(np.array([0.0, 60.0, 60.0]), np.full(3, 390.0), ENERGY, REFERENCE)
    assert (wrong.value.field, wrong.value.row) == ("seconds", 3)


@settings(max_examples=30, deadline=None)
@given(uncured=st.floats(230.0, 290.0), rise=st.floats(50.0, 300.0), ratio=st.floats(0.05, 1.0))
def test_a_measured_transition_gives_back_the_degree_of_cure(uncured: float, rise: float, ratio: float) -> None:
    curve = GlassTransition(uncured, uncured + rise, ratio)
    cured = np.linspace(0.0, 1.0, 11)
    there = glass_transition(curve, cured)
    assert (np.diff(there) > 0.0).all()
    np.testing.assert_allclose(conversion_from_transition(curve, there[1:-1]), cured[1:-1], rtol=1e-9)


def test_a_transition_outside_the_curve_says_nothing() -> None:
    curve = GlassTransition(260.0, 390.0, 0.4)
    assert np.isnan(conversion_from_transition(curve, np.array([250.0, 400.0]))).all()
    with pytest.raises(BadInput) as ends:
        GlassTransition(390.0, 260.0, 0.4)
    assert (ends.value.field, ends.value.value) == ("cured", 260.0)
    with pytest.raises(BadInput) as ratio:
        GlassTransition(260.0, 390.0, 0.0)
    assert ratio.value.field == "ratio"


def test_when_a_level_is_passed_first() -> None:
    seconds = np.array([0.0, 10.0, 20.0, 30.0])
    cured = np.array([[0.0, 0.2, 0.6, 0.9], [0.0, 0.1, 0.2, 0.3], [0.7, 0.8, 0.9, 0.9]])
    np.testing.assert_allclose(time_reached(seconds, cured, 0.5), [17.5, np.nan, 0.0])


@pytest.mark.parametrize(("functions", "balance"), [(2.0, 1.0), (4.0, 0.3), (4.0, 1.5)])
def test_partners_that_never_gel_are_refused(functions: float, balance: float) -> None:
    with pytest.raises(BadInput) as wrong:
        gel_conversion(functions, 2.0, balance)
    assert wrong.value.field == "functions"
