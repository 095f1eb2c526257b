"""Hover by rings: balances of momentum and energy, limits, and a rotor that cannot carry.

A. Gessow, NACA TN 1542, 1948 (from memory); the closed forms run in tests/validation.
"""

import math

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from bladewright.engine.flow.polar import straight_polar
from bladewright.engine.rotor.atmosphere import standard_air
from bladewright.engine.rotor.ground_effect import ground_inflow, ground_thrust
from bladewright.engine.rotor.hover import greatest_hover, hover_sweep, hover_with_thrust
from bladewright.engine.rotor.rotor_blade import RotorBlade, elements, plain_blade
from bladewright.engine.rotor.tip_loss import tip_loss
from bladewright.errors import BadInput, CannotCarry, OutsideValidity, StationOrder
from tests.engine_rotor.training_rotor import AIR, CHORD, RADIUS, SPEED, blade, stalling


@settings(max_examples=15, deadline=None)
@given(st.floats(0.03, 0.2), st.floats(-0.2, 0.0), st.floats(0.6, 1.0))
def test_every_ring_carries_what_its_air_is_given(collective: float, wash_out: float, ground: float) -> None:
    (found,) = hover_sweep(blade(wash_out), 2, SPEED, AIR, np.array([collective]), ground=ground)
    y, far = found.parts.y, found.inflow / ground
    loss = tip_loss(2, 1.0 - y / RADIUS, far / (SPEED * RADIUS))
    momentum = 4.0 * math.pi * AIR.density * loss * y * far * np.abs(far)
    assert 2.0 * found.lift_per_length == pytest.approx(momentum, rel=1e-6, abs=1e-6)
    # energy: what the shaft gives is thrust times inflow plus what drag eats
    given_up = found.lift_per_length * found.inflow + found.drag_per_length * SPEED * y
    assert found.power == pytest.approx(2.0 * float(given_up @ found.parts.length), rel=1e-12)
    assert found.thrust == pytest.approx(2.0 * float(found.lift_per_length @ found.parts.length), rel=1e-12)


@settings(max_examples=10, deadline=None)
@given(st.floats(1500.0, 5500.0))
def test_a_collective_for_a_thrust_gives_it_back_and_costs_more_than_the_ideal(thrust: float) -> None:
    found = hover_with_thrust(blade(), 2, SPEED, AIR, thrust)
    assert found.thrust == pytest.approx(thrust, rel=1e-9)
    assert 0.3 < found.figure_of_merit < 0.85
    ideal = thrust * math.sqrt(thrust / (2.0 * AIR.density * math.pi * RADIUS**2))
    assert found.induced_power > ideal
    (again,) = hover_sweep(blade(), 2, SPEED, AIR, np.array([found.collective]))
    assert again.thrust == pytest.approx(thrust, rel=1e-9)


def test_a_sweep_is_the_same_as_one_by_one() -> None:
    collectives = np.radians([2.0, 8.0, 14.0])
    together = hover_sweep(blade(), 2, SPEED, AIR, collectives)
    for one, collective in zip(together, collectives, strict=True):
        (alone,) = hover_sweep(blade(), 2, SPEED, AIR, np.array([collective]))
        assert alone.thrust == pytest.approx(one.thrust, rel=1e-9)


def test_a_rotor_that_stalls_first_says_how_much_short_and_where() -> None:
    with pytest.raises(CannotCarry) as stalled:
        hover_with_thrust(blade(), 2, SPEED, AIR, 20_000.0)
    error = stalled.value
    assert (error.field, error.value, error.exit_code) == ("thrust", 20_000.0, 1)
    assert error.short == pytest.approx(20_000.0 - error.greatest)
    (there,) = hover_sweep(blade(), 2, SPEED, AIR, np.array([error.at]))
    assert greatest_hover(blade(), 2, SPEED, AIR).thrust == error.greatest
    assert there.thrust == pytest.approx(error.greatest, rel=1e-9)
    around = hover_sweep(blade(), 2, SPEED, AIR, error.at + np.radians([-3.0, -1.0, 1.0, 3.0]))
    assert all(one.thrust < error.greatest for one in around)
    nearly = hover_with_thrust(blade(), 2, SPEED, AIR, error.greatest * (1.0 - 1e-6))
    assert nearly.thrust == pytest.approx(error.greatest, rel=1e-3)


def test_thinner_air_needs_more_pitch_and_power() -> None:
    low, high = (hover_with_thrust(blade(), 2, SPEED, air, 4700.0) for air in (AIR, standard_air(1500.0, 20.0)))
    assert high.collective > low.collective
    assert high.induced_power > low.induced_power


def test_near_the_ground_the_same_thrust_costs_that_much_less_induced_power() -> None:
    # a straight polar, so that the collective makes up for the inflow exactly and lift along the blade stays alike
    ideal = plain_blade(np.array([0.45, RADIUS]), np.full(2, CHORD), np.zeros(2), straight_polar(5.73, 0.0, 0.01, 0.0))
    share = ground_inflow(RADIUS, RADIUS)
    free = hover_with_thrust(ideal, 2, SPEED, AIR, 4700.0)
    near = hover_with_thrust(ideal, 2, SPEED, AIR, 4700.0, ground=share)
    assert near.induced_power / free.induced_power == pytest.approx(share, rel=5e-3)
    assert near.profile_power == pytest.approx(free.profile_power, rel=1e-9)
    assert float(ground_thrust(np.array([1.0]))[0]) == pytest.approx(1.0 / share)


def test_taper_and_two_sections_are_blended_between_stations() -> None:
    y = np.array([0.45, 2.0, RADIUS])
    thin, thick = straight_polar(5.7, 0.0, 0.01, 0.0), straight_polar(5.7, -0.02, 0.02, 0.0)
    zero = np.zeros(3)
    both = RotorBlade(y, np.array([0.25, 0.2, 0.15]), zero, zero, zero, zero, (thick, thin), np.array([0.45, RADIUS]))
    (found,) = hover_sweep(both, 2, SPEED, AIR, np.array([0.1]))
    share = (found.parts.y - 0.45) / (RADIUS - 0.45)
    expected = 0.5 * AIR.density * (SPEED * found.parts.y) ** 2 * found.parts.chord * (0.02 - 0.01 * share)
    assert found.drag_per_length == pytest.approx(expected, rel=1e-9)
    assert found.parts.length.sum() == pytest.approx(RADIUS - 0.45, rel=1e-12)


def test_extrapolated_sections_are_told_by_their_share_of_the_blade() -> None:
    (found,) = hover_sweep(blade(), 2, SPEED, AIR, np.array([0.1]))
    assert found.computed_share < 0.5  # one Reynolds and Mach number only are in that polar
    assert found.computed.shape == found.parts.y.shape


def test_bad_rotors_and_grounds_are_refused() -> None:
    for bad, field in (({"rotor_speed": 0.0}, "rotor_speed"), ({"ground": 1.5}, "ground")):
        asked = {"rotor_speed": SPEED, "ground": 1.0} | bad
        with pytest.raises(BadInput) as refused:
            hover_sweep(blade(), 2, asked["rotor_speed"], AIR, np.array([0.1]), ground=asked["ground"])
        assert refused.value.field == field
    with pytest.raises(BadInput) as thrust:
        hover_with_thrust(blade(), 2, SPEED, AIR, -1.0)
    assert thrust.value.field == "thrust"
    with pytest.raises(OutsideValidity) as low:
        ground_inflow(1.0, RADIUS)
    assert low.value.field == "height"
    with pytest.raises(OutsideValidity):
        ground_thrust(np.array([0.4]))
    y = np.array([0.45, RADIUS])
    with pytest.raises(StationOrder):
        plain_blade(y[::-1].copy(), np.ones(2), np.zeros(2), stalling())
    with pytest.raises(BadInput) as chord:
        plain_blade(y, np.array([0.2, 0.0]), np.zeros(2), stalling())
    assert chord.value.field == "chord"
    with pytest.raises(BadInput) as sections:
        RotorBlade(y, np.ones(2), *(np.zeros(2) for _ in range(4)), (stalling(),), y)
    assert sections.value.field == "section_y"
    assert elements(blade()).y.size == 40
