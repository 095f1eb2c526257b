"""Track of unlike mates and what it does to the hub. W. Johnson, Helicopter Theory, 1980, ch. 5 (from memory)."""

import dataclasses
import math

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from bladewright.engine.flow.polar import straight_polar
from bladewright.engine.rotor.inflow import InflowModel
from bladewright.engine.rotor.level_flight import level_flight
from bladewright.engine.rotor.mates_in_flight import pitch_response
from bladewright.engine.rotor.rotor import Modelled
from bladewright.engine.rotor.shake import hub_force, rigid_shake, shake_of_mates
from bladewright.engine.rotor.track import MateDifference, Rise, mate_difference, tip_rise_per_pitch, track_split
from bladewright.engine.rotor.trim import find_trim
from bladewright.errors import BadInput
from tests.engine_rotor.training_rotor import AIR, CHORD, RADIUS, SPEED, blade, flight, teetering

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


def test_pitch_more_all_along_the_blade_is_the_same_as_more_pitch() -> None:
    y = np.linspace(0.45, 3.55, 2001)
    chord = np.full_like(y, 0.2)
    per_pitch = tip_rise_per_pitch(y, chord, 5.73, 1.225, RISE.flap_inertia, RISE.tip)
    rise = dataclasses.replace(RISE, per_pitch=per_pitch)
    none = np.zeros_like(y)
    along = mate_difference(y, chord, none + 0.002, none, none, 5.73, 1.225, SPEED)
    by_pitch = track_split(MateDifference(0.002, 0.0, 0.0), rise, 600.0, 2200.0)
    assert track_split(along, rise, 600.0, 2200.0).soft == pytest.approx(by_pitch.soft, rel=1e-5)


def test_a_section_moment_along_the_blade_is_integrated() -> None:
    y = np.linspace(0.45, 3.55, 2001)
    none = np.zeros_like(y)
    along = mate_difference(y, none + 0.2, none, none, none + 0.001, 5.73, 1.225, SPEED, mass_moment=0.5)
    by_hand = 1.225 * 0.2**2 * SPEED**2 * (3.55**3 - 0.45**3) * 0.001 / 6.0
    assert along.feathering_moment == pytest.approx(by_hand + 0.5, rel=1e-6)


def test_standing_still_the_pair_in_flight_answers_as_in_hover() -> None:
    rotor = teetering(blade=blade(polar=straight_polar(5.73, 0.0, 0.01, 0.0)))
    bare = Modelled(InflowModel("uniform", 1.0, lossy_tip=False))
    still = pitch_response(level_flight(rotor, flight(0.0), SPEED, model=bare))
    y = np.linspace(0.45, RADIUS, 201)
    rise = tip_rise_per_pitch(y, np.full_like(y, CHORD), 5.73, AIR.density, rotor.flap_inertia, RADIUS)
    assert still.split == pytest.approx(rise, rel=0.03)  # a blade that cones more turns more: 1.4 %
    assert (still.split_cosine, still.split_sine, still.beat) == pytest.approx((0.0, 0.0, 0.0), abs=1e-6)


def test_in_flight_a_pair_beats_the_more_the_faster() -> None:
    beats = [pitch_response(level_flight(teetering(), flight(speed), SPEED)).beat for speed in (10.0, 25.0, 45.0)]
    assert beats[0] < beats[1] < beats[2]


def test_a_pair_out_of_track_is_what_two_blades_flown_each_by_its_own_pitch_are() -> None:
    # each blade with its own pitch and its own even flapping, odd flapping shared: no linear step taken
    state = level_flight(teetering(), flight(35.0), SPEED)
    found, small = pitch_response(state), 1e-3

    def even_flapping(sign: float) -> np.ndarray:
        moved = dataclasses.replace(state.setting, collective=state.setting.collective + sign * 0.5 * small)
        names = ("coning", "cosine_flap_2", "sine_flap_2")
        return np.array([getattr(find_trim(state.disc, moved, names, names), name) for name in names])

    apart = RADIUS * (even_flapping(1.0) - even_flapping(-1.0)) / small
    assert apart == pytest.approx([found.split, found.split_cosine, found.split_sine], rel=0.05, abs=0.01)
    assert found.height(np.zeros(1)) == pytest.approx([found.split + found.split_cosine])


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
    hinged = level_flight(teetering(hub="hinged"), flight(20.0), SPEED)
    with pytest.raises(BadInput) as hub:
        pitch_response(hinged)
    assert hub.value.field == "hub"
    with pytest.raises(BadInput) as weightless:
        rigid_shake(1.0, 0.0, SPEED)
    assert weightless.value.field == "mass"
    with pytest.raises(BadInput) as backwards:
        hub_force(0.1, -1.0)
    assert backwards.value.field == "rotor_speed"
