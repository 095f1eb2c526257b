"""Steady shapes: closed forms, sums of all forces at the root, stops that only push."""

from dataclasses import replace

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from bladewright.engine.dynamics.blade_beam import Pattern, Root
from bladewright.engine.dynamics.held_shape import BentBlade, held_shape
from bladewright.engine.dynamics.inner_moments import in_section_axes
from bladewright.engine.rotor.propeller_moment import propeller_moment
from bladewright.errors import BadInput, OutsideValidity
from tests.engine_dynamics.plain_beam import likely_blade, plain_beam

HELD = Root("clamped", np.inf)
NONE = np.zeros(2)


def test_a_cantilever_bends_and_twists_by_the_handbook() -> None:
    """Elementary: ``q L**4 / 8 EI``, ``q L**2 / 2``, ``t L**2 / 2 GJ``; round-off."""
    beam = plain_beam(length=2.0, flapwise=3.0, chordwise=5.0, torsion=7.0)
    bent = held_shape(beam, HELD, "collective", 0.0, NONE + 0.6, NONE + 0.4, NONE + 0.2)
    assert bent.flap[-1] == pytest.approx(0.6 * 16.0 / 24.0, rel=1e-11)
    assert bent.chordwise[-1] == pytest.approx(0.4 * 16.0 / 40.0, rel=1e-11)
    assert bent.twist[-1] == pytest.approx(0.2 * 4.0 / 14.0, rel=1e-11)
    assert bent.flap_moment[0] == pytest.approx(1.2, rel=1e-10)
    assert bent.chord_moment[0] == pytest.approx(0.8, rel=1e-10)
    assert bent.torsion_moment[0] == pytest.approx(0.4, rel=1e-10)
    assert bent.root.control_moment == pytest.approx(0.4, rel=1e-10)


def test_a_tapered_beam_bends_as_it_was_made_to() -> None:
    """Made to measure: ``w = y**2 (6 - 4 y + y**2)`` and ``EI = 1 + y`` make ``q = (EI w'')''``; found to round-off."""
    y = np.linspace(0.0, 1.0, 401)
    beam = replace(plain_beam(stations=401), flapwise=1.0 + y)
    # w'' = 12 - 24 y + 12 y**2 ; (EI w'')'' = ((1 + y)(12)(1 - y)**2)'' = 12 (6 y - 2), straight in y
    bent = held_shape(beam, HELD, "collective", 0.0, 12.0 * (6.0 * y - 2.0), 0.0 * y, 0.0 * y)
    assert bent.flap == pytest.approx(y**2 * (6.0 - 4.0 * y + y**2), abs=1e-10)
    assert bent.flap_moment == pytest.approx((1.0 + y) * 12.0 * (1.0 - y) ** 2, abs=1e-7)


def test_pull_straightens_a_limp_blade_onto_its_coning_line() -> None:
    """Closed form in the limit: a string under lift like its mass stands at ``q / (m W**2)`` per radius."""
    beam = plain_beam(flapwise=1e-5, chordwise=1e3)
    speed = 10.0
    bent = held_shape(beam, Root("hinged", np.inf), "collective", speed, np.array([0.0, 1.0]), NONE, NONE)
    assert bent.flap[-1] == pytest.approx(1.0 / speed**2, rel=1e-3)
    assert bent.hinge_angle == pytest.approx(1.0 / speed**2, rel=1e-6)
    assert bent.coning == pytest.approx(1.0 / speed**2, rel=1e-9)


def test_a_pitched_blade_puts_its_propeller_moment_on_the_control_run() -> None:
    """The same moment as the rotor room finds for a stiff blade."""
    blade = replace(likely_blade(), masses=(), torsion=np.full(41, 1e9), flapwise=np.full(41, 1e9),
                    chordwise=np.full(41, 1e9), bending_product=np.zeros(41), elastic_x=np.zeros(41),
                    elastic_z=np.zeros(41), gyration_squared=np.zeros(41))  # fmt: skip
    bent = held_shape(blade, Root("clamped", np.inf), "collective", 58.0, *np.zeros((3, 41)), pitch=0.12)
    stiff = propeller_moment(
        blade.y, blade.chordwise_inertia, blade.normal_inertia, blade.product_of_inertia, blade.twist + 0.12, 58.0
    )
    assert bent.root.control_moment == pytest.approx(stiff.total, rel=2e-3)


CONFIGURATIONS: list[tuple[Root, Pattern]] = [
    (Root("teetering", 500.0, precone=0.03), "collective"),
    (Root("teetering", np.inf, precone=0.03), "collective"),
    (Root("teetering", 2000.0), "cyclic"),
    (Root("hinged", 500.0, hinge_offset=0.1), "collective"),
]


def curved_at_root(bent: BentBlade, pitch: float, speed: float) -> tuple[float, float]:
    """Bending at the inner end about the feathering axis, from curvature and the place of all outboard mass. [N m]"""
    blade = likely_blade()
    angle = blade.twist[0] + pitch
    aft = blade.elastic_x[0] * np.cos(angle) + blade.elastic_z[0] * np.sin(angle)
    up = blade.elastic_z[0] * np.cos(angle) - blade.elastic_x[0] * np.sin(angle)
    y = np.linspace(blade.y[0], blade.y[-1], 4001)
    at = pitch + np.interp(y, blade.y, blade.twist)
    mass = speed**2 * np.interp(y, blade.y, blade.mass_per_length)
    (weight,) = blade.masses
    there = pitch + np.interp(weight.y, blade.y, blade.twist)
    lump = speed**2 * weight.mass
    mass_aft = np.trapezoid(mass * (0.005 * np.cos(at) + 0.001 * np.sin(at)), y)
    mass_up = np.trapezoid(mass * y * (0.001 * np.cos(at) - 0.005 * np.sin(at)), y)
    mass_aft += lump * (weight.x * np.cos(there) + weight.z * np.sin(there))
    mass_up += lump * weight.y * (weight.z * np.cos(there) - weight.x * np.sin(there))
    turn = bent.twist[0]  # the steady bending turns with the section
    return (
        bent.flap_moment[0] - bent.tension[0] * up + turn * blade.y[0] * mass_aft,
        bent.chord_moment[0] - bent.tension[0] * aft - turn * mass_up,
    )


@pytest.mark.parametrize(("root", "pattern"), CONFIGURATIONS)
def test_curvature_at_the_root_bears_the_sum_of_all_forces_outboard(root: Root, pattern: Pattern) -> None:
    """Newton's sums over the bent blade, against energy: two ways to one moment."""
    blade = likely_blade()
    out = (blade.y / 3.0) ** 2
    bent = held_shape(blade, root, pattern, 58.0, 1000.0 * out, 60.0 * out, 0.0 * out - 2.0, 0.1, gravity=9.81)
    flap, chord = curved_at_root(bent, 0.1, 58.0)
    scale = bent.tension[0] * 3.0 * 1e-3  # a thousandth of the radius times the pull
    assert flap == pytest.approx(bent.root.flap_moment, abs=1e-3 * scale)
    assert chord == pytest.approx(bent.root.chord_moment, abs=1e-3 * scale)
    assert bent.root.pull == pytest.approx(bent.tension[0], rel=1e-9)
    assert bent.root.control_moment == pytest.approx(
        root.control_stiffness * bent.twist[0] if np.isfinite(root.control_stiffness) else bent.root.control_moment
    )


def test_a_hinge_bears_no_moment() -> None:
    blade = likely_blade()
    root = Root("hinged", np.inf, hinge_offset=0.1)
    bent = held_shape(blade, root, "collective", 58.0, 900.0 * (blade.y / 3.0) ** 2, *np.zeros((2, 41)))
    arm = blade.y[0] - 0.1
    lean = bent.root.pull * bent.hinge_angle * arm
    assert bent.root.flap_moment + bent.root.lift * arm - lean == pytest.approx(0.0, abs=0.05)


@settings(deadline=None, max_examples=20)
@given(st.floats(-400.0, 400.0), st.floats(0.0, 60.0))
def test_a_stop_pushes_or_is_free_but_never_pulls(lift: float, speed: float) -> None:
    beam = plain_beam(length=3.0, mass_per_length=3.0, flapwise=2000.0, chordwise=1e5)
    low, high = -0.03, 0.05
    bent = held_shape(
        beam, Root("hinged", np.inf), "collective", speed, NONE + lift, NONE, NONE, gravity=9.81, stops=(low, high)
    )
    assert bent.hinge_angle is not None
    assert low - 1e-12 <= bent.hinge_angle <= high + 1e-12
    if low + 1e-9 < bent.hinge_angle < high - 1e-9:
        assert bent.stop_moment == pytest.approx(0.0, abs=1e-6)
    elif bent.hinge_angle < 0.0:
        assert bent.stop_moment >= -1e-9
    else:
        assert bent.stop_moment <= 1e-9


def test_a_blade_at_rest_lies_on_its_droop_stop_with_its_whole_weight() -> None:
    beam = plain_beam(length=3.0, mass_per_length=3.0, flapwise=2000.0, chordwise=1e5)
    bent = held_shape(
        beam, Root("hinged", np.inf), "cyclic", 0.0, NONE, NONE, NONE, gravity=9.81, stops=(-0.03, np.inf)
    )
    assert bent.stop_moment == pytest.approx(3.0 * 9.81 * 4.5, rel=1e-9)
    assert bent.flap[-1] == pytest.approx(-0.03 * 3.0 - 3.0 * 9.81 * 81.0 / (8.0 * 2000.0), rel=1e-9)


def test_nothing_held_and_loads_that_do_not_fit_are_refused() -> None:
    beam = plain_beam()
    for root in (Root("hinged", np.inf), Root("clamped", 0.0)):
        with pytest.raises(OutsideValidity) as caught:
            held_shape(beam, root, "collective", 0.0, NONE + 1.0, NONE, NONE)
        assert caught.value.field == "root"
    with pytest.raises(BadInput) as caught:
        held_shape(beam, HELD, "collective", 1.0, np.zeros(3), NONE, NONE)
    assert caught.value.field == "lift"
    with pytest.raises(BadInput) as caught:
        held_shape(beam, HELD, "collective", 1.0, NONE, NONE, np.array([0.0, np.nan]))
    assert (caught.value.field, caught.value.row) == ("moment", 2)
    with pytest.raises(BadInput) as caught:
        held_shape(beam, HELD, "collective", 1.0, NONE, NONE, NONE, stops=(0.1, 0.0))
    assert caught.value.field == "stops"
    with pytest.raises(BadInput) as caught:
        held_shape(beam, HELD, "collective", -1.0, NONE, NONE, NONE)
    assert caught.value.field == "rotor_speed"


@given(st.floats(-5.0, 5.0), st.floats(-5.0, 5.0), st.floats(-1.0, 1.0))
def test_turned_moments_keep_their_size(flap: float, chord: float, angle: float) -> None:
    one, two = in_section_axes(np.array([flap]), np.array([chord]), np.array([angle]))
    assert one**2 + two**2 == pytest.approx(flap**2 + chord**2)
    level, _ = in_section_axes(np.array([flap]), np.array([chord]), np.zeros(1))
    assert level == pytest.approx(flap)
