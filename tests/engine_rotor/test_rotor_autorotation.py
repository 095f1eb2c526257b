"""Descent without an engine: no torque, no lost energy, the best of it; and the seconds before it.

H. Glauert, ARC R&M 1111, 1926; W. Johnson, Helicopter Theory, 1980, ch. 7 (from memory).
"""

import itertools
import math

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from bladewright.engine.rotor.autorotation import autorotation, autorotation_at_collective, best_descents
from bladewright.engine.rotor.level_flight import level_flight
from bladewright.engine.rotor.rotor_energy import (
    PowerLoss,
    energy_indices,
    speed_after_power_loss,
    time_to_speed,
)
from bladewright.errors import BadInput, OutsideValidity
from tests.engine_rotor.training_rotor import AIR, RADIUS, SPEED, WEIGHT, flight, teetering


@settings(max_examples=10, deadline=None)
@given(st.one_of(st.just(0.0), st.floats(8.0, 48.0)), st.floats(0.9, 1.1))
def test_no_torque_and_height_pays_for_everything(speed: float, turning: float) -> None:
    found = autorotation(teetering(), flight(speed), turning * SPEED)
    down = -found.setting.climb
    assert down > 0.0
    assert abs(found.power) < 1e-6 * WEIGHT * down
    path = math.hypot(speed, down)
    parasite = 0.5 * AIR.density * 0.6 * path**3
    assert found.parasite_power == pytest.approx(parasite, rel=1e-5)
    assert WEIGHT * down == pytest.approx(found.induced_power + found.profile_power + parasite, rel=1e-6)


def test_straight_down_is_near_what_rotors_do() -> None:
    # 1.7 to 1.9 times the hover's induced velocity (common practice, no source)
    down = -autorotation(teetering(), flight(0.0, drag_area=0.0), SPEED).setting.climb
    hover = math.sqrt(WEIGHT / (2.0 * AIR.density * math.pi * RADIUS**2))
    assert 1.7 < down / hover < 2.0


def test_the_rate_of_descent_is_about_the_power_of_level_flight_over_weight() -> None:
    level = level_flight(teetering(), flight(25.0), SPEED)
    assert -autorotation(teetering(), flight(25.0), SPEED).setting.climb == pytest.approx(level.power / WEIGHT, rel=0.1)


def test_the_slowest_descent_is_slower_than_the_flattest_is_fast() -> None:
    best = best_descents(teetering(), flight(0.0), SPEED, np.arange(10.0, 45.0, 5.0))
    slow, flat = best.slowest, best.flattest
    assert slow.disc.flight.speed < flat.disc.flight.speed
    assert all(slow.setting.climb >= one.setting.climb - 0.02 for one in best.descents)
    glide = flat.disc.flight.speed / -flat.setting.climb
    assert all(glide >= one.disc.flight.speed / -one.setting.climb - 0.02 for one in best.descents)


@pytest.mark.parametrize("speed", [0.0, 25.0, 48.9])
def test_the_lever_held_low_turns_the_rotor_at_what_that_pitch_was_found_for(speed: float) -> None:
    at_speed = autorotation(teetering(), flight(speed), 1.05 * SPEED)
    held = autorotation_at_collective(teetering(), flight(speed), at_speed.setting.collective, SPEED)
    assert held.setting.rotor_speed == pytest.approx(1.05 * SPEED, rel=1e-6)
    lower = autorotation_at_collective(teetering(), flight(speed), at_speed.setting.collective - 0.02, SPEED)
    assert lower.setting.rotor_speed > held.setting.rotor_speed


def test_steep_through_its_own_wake_and_a_best_at_the_end_are_refused() -> None:
    with pytest.raises(OutsideValidity) as steep:
        autorotation(teetering(), flight(3.0), SPEED)
    assert steep.value.field == "speed"
    with pytest.raises(OutsideValidity) as end:
        best_descents(teetering(), flight(0.0), SPEED, [30.0, 35.0, 40.0])
    assert end.value.field == "speeds"
    with pytest.raises(BadInput):
        best_descents(teetering(), flight(0.0), SPEED, [30.0, 35.0])


LOSS = PowerLoss(SPEED, 120.0, 900.0, reaction=1.5, lowering=0.8, left=0.2)


@settings(max_examples=20, deadline=None)
@given(st.integers(0, 30), st.integers(0, 20), st.floats(-0.3, 1.0))
def test_speed_after_power_loss_solves_its_equation(reactions: int, lowerings: int, left: float) -> None:
    reaction, lowering = 0.1 * reactions, 0.1 * lowerings
    loss = PowerLoss(SPEED, 120.0, 900.0, reaction, lowering, left)
    for start, end in itertools.pairwise(np.unique([0.0, reaction, reaction + lowering, 6.0])):
        time = np.linspace(start, end, 2001)
        speed = speed_after_power_loss(loss, time)
        middle = 0.5 * (time[1:] + time[:-1])
        ramp = np.clip((middle - reaction) / lowering, 0.0, 1.0) if lowering else (middle > reaction) * 1.0
        torque = 900.0 * (1.0 - (1.0 - left) * ramp) * (0.5 * (speed[1:] + speed[:-1]) / SPEED) ** 2
        assert np.allclose(120.0 * np.diff(speed) / np.diff(time), -torque, rtol=1e-3, atol=1e-2)


def test_waiting_costs_speed_and_lowering_saves_it() -> None:
    times = np.linspace(0.0, 4.0, 9)
    speed = speed_after_power_loss(LOSS, times)
    assert speed[0] == SPEED
    assert (np.diff(speed) < 0.0).all()
    never = speed_after_power_loss(PowerLoss(SPEED, 120.0, 900.0, 100.0, 0.0, 1.0), times)
    assert (speed[4:] > never[4:]).all()
    assert speed_after_power_loss(LOSS, np.array([time_to_speed(LOSS, 0.95)]))[0] == pytest.approx(0.95 * SPEED)


def test_more_inertia_more_seconds_and_a_loaded_rotor_has_none() -> None:
    light, heavy = (energy_indices(i, SPEED, WEIGHT, 39.6, 60e3, 0.08, 0.14) for i in (120.0, 240.0))
    assert heavy.hover_seconds == pytest.approx(2.0 * light.hover_seconds)
    assert energy_indices(120.0, SPEED, WEIGHT, 39.6, 60e3, 0.13, 0.14).usable_hover_seconds < 0.0


def test_bad_losses_are_refused() -> None:
    for bad, field in (({"torque": 0.0}, "torque"), ({"reaction": -1.0}, "reaction")):
        given = {"rotor_speed": SPEED, "inertia": 1.0, "torque": 1.0, "reaction": 1.0, "lowering": 1.0, "left": 0.0}
        with pytest.raises(BadInput) as refused:
            PowerLoss(**given | bad)
        assert refused.value.field == field
    with pytest.raises(BadInput) as time:
        speed_after_power_loss(LOSS, np.array([-1.0]))
    assert time.value.field == "time"
    with pytest.raises(BadInput) as share:
        time_to_speed(LOSS, 0.0)
    assert share.value.field == "share"
    with pytest.raises(BadInput) as area:
        energy_indices(120.0, SPEED, WEIGHT, 0.0, 60e3, 0.08, 0.14)
    assert area.value.field == "disc_area"
