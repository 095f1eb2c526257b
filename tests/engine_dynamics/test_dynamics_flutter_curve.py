"""A blade's motions in its air over rotor speed, by what must hold."""

from dataclasses import replace

import numpy as np
import pytest

from bladewright.engine.dynamics.blade_beam import BladeBeam, Root
from bladewright.engine.dynamics.flutter_curve import FlutterCurve, flutter_curve
from bladewright.engine.dynamics.pitch_flap import pitch_flap_roots
from bladewright.engine.dynamics.stiff_blade import as_stiff_blade
from bladewright.engine.dynamics.strip_air import Effects, StripAir
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


def test_a_wing_that_does_not_turn_goes_the_blades_way_to_its_published_flutter() -> None:
    # the uniform wing of M. Goland, Y. L. Luke, J. Appl. Mech. 15, 1948 (from memory), 137.2 m/s, 70.7 rad/s, as a beam
    # that turns once in a hundred minutes
    y = np.linspace(0.0, 6.096, 9)
    one, none = np.ones_like(y), np.zeros_like(y)
    chord, still = 1.8288, 1e-3
    wing = BladeBeam(
        y=y, twist=none, mass_per_length=35.72 * one, mass_x=0.10 * chord * one, mass_z=none,
        chordwise_inertia=8.64 * one, normal_inertia=1e-6 * one, product_of_inertia=none, axial=1e9 * one,
        flapwise=9.77e6 * one, chordwise=9.77e8 * one, bending_product=none, torsion=0.987581e6 * one,
        elastic_x=none, elastic_z=none, shear_x=none, shear_z=none, gyration_squared=none,
    )  # fmt: skip
    air = StripAir(
        y, chord * one, 2.0 * np.pi * one, -0.08 * chord * one, 1.225, effects=Effects(wake="shed", coned_turning=False)
    )
    low, high = 100.0, 180.0
    for _ in range(18):
        speed = 0.5 * (low + high)
        told = flutter_curve(
            wing, Root("clamped", np.inf), "cyclic", air, np.array([still]), forward_speed=speed, count=6
        )
        low, high = (speed, high) if told.growth.max() < 0.0 else (low, speed)
    assert high == pytest.approx(137.2, rel=0.01)
    assert told.frequency[0, np.argmax(told.growth)] == pytest.approx(70.7, rel=0.01)
