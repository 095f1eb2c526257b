"""Hover against momentum theory and the ideally twisted blade, both in closed form.

W. Johnson, Helicopter Theory, 1980; A. Gessow, G. C. Myers, Aerodynamics of the Helicopter, 1952 (from memory).
"""

import math

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from bladewright.engine.rotor.blade_element import (
    LiftingBlade,
    hover_at_pitch,
    hover_at_thrust,
    integral,
    steady_at_pitch,
)
from bladewright.engine.rotor.momentum import climb_induced_velocity, hover_momentum
from bladewright.errors import BadInput, StationOrder

SPEED = 560.0 * math.pi / 30.0
RADIUS, CHORD, DENSITY = 3.0, 0.18, 1.225


def test_momentum_theory_of_one_rotor() -> None:
    found = hover_momentum(3600.0, RADIUS, CHORD, 2, SPEED, DENSITY, 1.15, 0.0095)
    assert found.solidity == pytest.approx(0.038197186, rel=1e-7)
    assert found.disc_loading == pytest.approx(127.32395, rel=1e-7)
    assert found.induced_velocity == pytest.approx(7.2089501, rel=1e-7)
    assert found.thrust_coefficient == pytest.approx(0.0033581356, rel=1e-7)
    assert found.ideal_power == pytest.approx(25952.22, rel=1e-6)
    assert found.power == pytest.approx(38399.8, rel=1e-6)
    assert found.figure_of_merit == pytest.approx(0.67584259, rel=1e-7)
    assert climb_induced_velocity(found.induced_velocity, 2.0) == pytest.approx(6.2779778, rel=1e-7)


def untwisted(twist: np.ndarray, y: np.ndarray, zero: float = 0.0) -> LiftingBlade:
    return LiftingBlade(y, np.full_like(y, CHORD), twist, np.full_like(y, zero), 5.73)


def test_ideally_twisted_blade() -> None:
    # twist th_t/r: lift per length is proportional to radius; thrust and inflow in closed form
    y = np.linspace(1e-9, RADIUS, 401)
    found = hover_at_pitch(untwisted(math.radians(6.0) * RADIUS / y, y), 2, SPEED, DENSITY, 0.0)
    tip_speed = SPEED * RADIUS
    assert found.inflow / tip_speed == pytest.approx(0.041566674, rel=1e-7)
    coefficient = found.thrust / (DENSITY * math.pi * RADIUS**2 * tip_speed**2)
    assert coefficient == pytest.approx(0.00345557678, rel=1e-7)


@settings(max_examples=25)
@given(st.floats(1000.0, 8000.0), st.floats(-0.2, 0.0), st.floats(-0.05, 0.05))
def test_collective_for_a_thrust_gives_that_thrust_back(thrust: float, wash_out: float, zero: float) -> None:
    y = np.linspace(0.45, RADIUS, 61)
    blade = untwisted(wash_out * (y / RADIUS - 0.75), y, zero)
    wanted = hover_at_thrust(blade, 2, SPEED, DENSITY, thrust)
    assert wanted.thrust == pytest.approx(thrust, rel=1e-12)
    got = hover_at_pitch(blade, 2, SPEED, DENSITY, wanted.collective)
    assert (got.thrust, got.inflow) == pytest.approx((thrust, wanted.inflow), rel=1e-9)
    same = steady_at_pitch(blade, 2, SPEED, DENSITY, thrust, wanted.collective)
    assert same.inflow == pytest.approx(wanted.inflow, rel=1e-9)


def test_lower_collective_at_the_same_thrust_means_air_from_below() -> None:
    y = np.linspace(0.45, RADIUS, 61)
    blade = untwisted(np.zeros_like(y), y)
    low = steady_at_pitch(blade, 2, SPEED, DENSITY, 4700.0, math.radians(1.5))
    assert low.inflow < 0.0
    assert low.thrust == pytest.approx(4700.0, rel=1e-12)


@pytest.mark.parametrize("count", [5, 6, 12, 41])
def test_integral_of_a_cubic_is_exact_for_any_number_of_even_stations(count: int) -> None:
    y = np.linspace(0.3, 2.7, count)
    assert integral(y**2, y) == pytest.approx((2.7**3 - 0.3**3) / 3.0, rel=1e-13)


def test_bad_rotors_are_refused() -> None:
    y = np.linspace(0.45, RADIUS, 11)
    with pytest.raises(BadInput) as lifts:
        hover_at_pitch(untwisted(np.zeros_like(y), y), 2, SPEED, DENSITY, -0.05)
    assert (lifts.value.field, lifts.value.allowed) == ("collective", "a thrust up")
    with pytest.raises(BadInput) as thrust:
        hover_at_thrust(untwisted(np.zeros_like(y), y), 2, SPEED, DENSITY, 0.0)
    assert (thrust.value.field, thrust.value.allowed) == ("thrust", "more than 0")
    with pytest.raises(StationOrder) as order:
        untwisted(np.zeros_like(y), y[::-1].copy())
    assert order.value.field == "y"
    with pytest.raises(BadInput) as radius:
        hover_momentum(3600.0, -3.0, CHORD, 2, SPEED, DENSITY, 1.15, 0.0095)
    assert (radius.value.field, radius.value.value) == ("radius", -3.0)
    with pytest.raises(BadInput) as climb:
        climb_induced_velocity(7.0, -1.0)
    assert climb.value.field == "climb"
