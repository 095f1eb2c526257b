"""A blade's motions in its air over rotor speed, by what must hold."""

from dataclasses import replace

import numpy as np
import pytest

from bladewright.engine.dynamics.blade_beam import Root
from bladewright.engine.dynamics.flutter_curve import FlutterCurve, flutter_curve
from bladewright.engine.dynamics.pitch_flap import pitch_flap_roots
from bladewright.engine.dynamics.stiff_blade import as_stiff_blade
from bladewright.engine.dynamics.strip_air import Effects
from bladewright.errors import BadInput, StationOrder
from tests.engine_dynamics.even_blade import even_air, even_blade

SPEED = 560.0 * np.pi / 30.0
SPEEDS = SPEED * np.linspace(0.3, 1.2, 7)


def curve(aft: float = 0.0, control: float = 3000.0, **changed) -> FlutterCurve:  # type: ignore[no-untyped-def]
    air = changed.pop("air", even_air(effects=Effects(), drag=0.009))
    asked = {"rotor_speeds": SPEEDS} | changed
    return flutter_curve(even_blade(aft=aft), Root("hinged", control), "cyclic", air, **asked)


def test_the_lowest_two_come_to_the_closed_ones_as_the_blade_is_made_stiffer() -> None:
    gone = []
    for stiffer in (1e2, 1e3, 1e4):
        blade = even_blade(aft=0.005, stiffer=stiffer, inner=0.01, thick=1e-6)
        told = flutter_curve(blade, Root("hinged", 300.0), "cyclic", even_air(), np.array([SPEED]))
        model, offset = as_stiff_blade(blade, even_air(), 300.0, SPEED)
        closed = pitch_flap_roots(model, offset)[2:] * SPEED
        found = told.growth[0] + 1j * told.frequency[0]
        gone.append(max(float(np.min(np.abs(found - root))) for root in closed) / SPEED)
    assert gone[0] / gone[1] == pytest.approx(10.0, rel=0.15)
    assert gone[1] / gone[2] == pytest.approx(10.0, rel=0.15)
    assert gone[2] < 1e-3


def test_a_motion_keeps_its_place_from_speed_to_speed() -> None:
    told = curve(chordwise=True)
    steps = np.abs(np.diff(told.frequency, axis=0)) / told.frequency[1:]
    assert told.frequency.shape == (7, 12)
    assert np.all(steps < 0.6)
    assert {"flap", "chordwise", "torsion"} == set(told.moves)
    assert np.all(np.diff(told.rotor_speeds) > 0.0)


def test_a_balanced_blade_dies_out_and_a_tail_heavy_one_grows() -> None:
    assert curve().growth.max() < 0.0
    assert curve(aft=0.02, control=1500.0).growth[-1].max() > 0.0


@pytest.mark.parametrize("wake", ["shed", "returning"])
def test_a_wake_is_settled_and_takes_damping_from_flap(wake: str) -> None:
    plain, waked = curve(), curve(air=even_air(effects=Effects(wake=wake), drag=0.009))  # type: ignore[arg-type]
    assert waked.settled.all()
    first = int(np.argmax([moves == "flap" for moves in plain.moves]))
    assert np.all(waked.damping[:, first] < plain.damping[:, first])
    assert np.all(waked.damping[:, first] > 0.1)


def test_a_wake_blown_far_below_is_the_blades_own() -> None:
    far = replace(even_air(effects=Effects(wake="returning"), drag=0.009), inflow=1e4)
    own = curve(air=even_air(effects=Effects(wake="shed"), drag=0.009))
    assert curve(air=far).growth == pytest.approx(own.growth, rel=1e-4, abs=1e-6)


def test_divergence_is_told_as_a_factor_on_the_air() -> None:
    balanced, ahead = curve().divergence, curve(air=even_air(centre=-0.03, effects=Effects())).divergence
    assert np.all(ahead < balanced)
    assert np.all(ahead > 1.0)


def test_no_speed_no_answer() -> None:
    with pytest.raises(BadInput) as refused:
        curve(rotor_speeds=np.array([]))
    assert refused.value.field == "rotor_speeds"
    with pytest.raises(BadInput) as refused:
        curve(rotor_speeds=np.array([0.0, 30.0]))
    assert refused.value.field == "rotor_speed"
    with pytest.raises(StationOrder):
        curve(rotor_speeds=np.array([30.0, 20.0]))
