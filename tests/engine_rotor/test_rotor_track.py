"""Track of unlike mates and what it does to the hub. W. Johnson, Helicopter Theory, 1980, ch. 5 (from memory)."""

import math

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from bladewright.engine.rotor.shake import hub_force, shake_of_mates
from bladewright.engine.rotor.track import MateDifference, Rise, track_split
from bladewright.errors import BadInput

SPEED = 500.0 * math.pi / 30.0
RISE = Rise(per_pitch=1.1, tip=3.55, flap_inertia=60.0, rotor_speed=SPEED, coning=0.04, propeller_stiffness=70.0)


@settings(max_examples=60)
@given(st.floats(-0.01, 0.01), st.floats(-100.0, 100.0), st.floats(-5.0, 5.0), st.floats(-0.5, 0.5))
def test_differences_turned_round_turn_the_split_round_and_add_up(
    pitch: float, flap: float, moment: float, inertia: float
) -> None:
    split = track_split(MateDifference(pitch, flap, moment, inertia), RISE, 600.0, 2200.0)
    other = track_split(MateDifference(-pitch, -flap, -moment, -inertia), RISE, 600.0, 2200.0)
    assert (other.soft, other.stiff) == pytest.approx((-split.soft, -split.stiff), abs=1e-15)
    parts = [
        track_split(MateDifference(pitch, 0.0, 0.0), RISE, 600.0, 2200.0),
        track_split(MateDifference(0.0, flap, 0.0), RISE, 600.0, 2200.0),
        track_split(MateDifference(0.0, 0.0, moment), RISE, 600.0, 2200.0),
        track_split(MateDifference(0.0, 0.0, 0.0, inertia), RISE, 600.0, 2200.0),
    ]
    assert split.soft == pytest.approx(sum(part.soft for part in parts), abs=1e-12)
    assert split.stiff == pytest.approx(sum(part.stiff for part in parts), abs=1e-12)
    assert (split.turns_at is not None) == (split.direction == "not determined")
    if split.turns_at is not None:
        there = track_split(MateDifference(pitch, flap, moment, inertia), RISE, split.turns_at, split.turns_at)
        assert there.soft == pytest.approx(0.0, abs=1e-12)


def test_more_pitch_flies_high_more_weight_low_and_nothing_level() -> None:
    assert track_split(MateDifference(0.001, 0.0, 0.0), RISE, 600.0, 2200.0).direction == "high"
    heavy = track_split(MateDifference(0.0, 0.0, 0.0, 0.6), RISE, 600.0, 2200.0)
    assert heavy.direction == "low"
    assert heavy.soft == pytest.approx(-3.55 * 0.04 * 0.01)
    assert track_split(MateDifference(0.0, 0.0, 0.0), RISE, 600.0, 2200.0).direction == "level"


def test_a_stiffer_control_run_winds_up_less() -> None:
    split = track_split(MateDifference(0.0, 0.0, 2.0), RISE, 600.0, 2200.0)
    assert split.wind_up_soft == pytest.approx(2.0 / 670.0)
    assert split.wind_up_stiff == pytest.approx(2.0 / 2270.0)
    assert split.soft > split.stiff > 0.0


def test_the_hub_is_shaken_by_mass_and_by_the_leaning_thrust() -> None:
    shake = shake_of_mates(0.010, 0.002, 0.003, 4700.0, 3.55, SPEED)
    assert shake.outward == pytest.approx(hub_force(0.010, SPEED) - 4700.0 * 0.0015 / 3.55)
    assert shake.aft == pytest.approx(hub_force(0.002, SPEED))
    assert shake.size == pytest.approx(math.hypot(shake.outward, shake.aft))


def test_bad_pairs_are_refused() -> None:
    for soft, stiff in ((0.0, 1.0), (2.0, 1.0)):
        with pytest.raises(BadInput) as refused:
            track_split(MateDifference(0.0, 0.0, 1.0), RISE, soft, stiff)
        assert refused.value.field == "softest"
    with pytest.raises(BadInput) as inertia:
        Rise(1.0, 3.0, 0.0, SPEED, 0.0, 0.0)
    assert inertia.value.field == "flap_inertia"
    with pytest.raises(BadInput) as backwards:
        hub_force(0.1, -1.0)
    assert backwards.value.field == "rotor_speed"
