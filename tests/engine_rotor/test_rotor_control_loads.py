"""Feathering moments against closed forms and against the centrifugal potential of loose point masses.

W. Johnson, Helicopter Theory, 1980, ch. 9 (from memory) for the propeller moment; the rest needs no source.
"""

import math

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from bladewright.engine.flow.thin_airfoil import flap_derivatives
from bladewright.engine.rotor.control_loads import (
    Linkage,
    counterweight_moment,
    free_coning,
    handle_force,
    lift_offset_moment,
    mass_offset_moment,
    pitch_link_force,
    section_moment,
    trim_spring_force,
    weight_moment,
)
from bladewright.engine.rotor.propeller_moment import propeller_moment
from bladewright.engine.rotor.span_mass import SpanMass
from bladewright.errors import BadInput, StationOrder

SPEED = 560.0 * math.pi / 30.0
RADIUS, CHORD, DENSITY = 3.0, 0.18, 1.225
LEVER_UP_NOSE_UP = Linkage(0.15, 5.0, "nose up", "nose up")


def slices(y: np.ndarray, masses: list[tuple[float, float, float]]) -> SpanMass:
    """The same few masses (kg/m, x, z) in every slice."""
    m, x, z = np.array(masses).T
    total = m.sum()

    def all_along(value: float) -> np.ndarray:
        return np.full_like(y, value)

    return SpanMass(
        y=y,
        mass_per_length=all_along(total),
        chordwise_centre=all_along((m * x).sum() / total),
        normal_centre=all_along((m * z).sum() / total),
        chordwise_inertia=all_along((m * x * x).sum()),
        normal_inertia=all_along((m * z * z).sum()),
        product_of_inertia=all_along((m * x * z).sum()),
    )


def test_two_masses_on_the_chord_line_make_the_hand_solution() -> None:
    # masses m/2 at +a and -a: M = -m a^2 W^2 sin p cos p ; a slice of unit length carries them
    m, a, p = 3.0, 0.05, 0.14
    y = np.array([1.5, 2.5])
    blade = slices(y, [(m / 2, a, 0.0), (m / 2, -a, 0.0)])
    moment = propeller_moment(
        y,
        blade.chordwise_inertia,
        blade.normal_inertia,
        blade.product_of_inertia,
        np.full_like(y, p),
        SPEED,
    )
    assert moment.total == pytest.approx(-m * a**2 * SPEED**2 * math.sin(p) * math.cos(p), rel=1e-12)


@pytest.mark.parametrize(("degrees", "down"), [(4.0, 4.3201214), (8.0, 8.5561566), (12.0, 12.625656)])
def test_uniform_blade(degrees: float, down: float) -> None:
    # Johnson (1980, from memory): W^2 m R (k_c^2 - k_t^2) sin p cos p, m 2.9 kg/m, k_c^2 0.0021, k_t^2 2.5e-5 m^2
    y = np.array([0.0, RADIUS])
    ones = np.ones(2)
    found = propeller_moment(
        y, 2.9 * 0.0021 * ones, 2.9 * 2.5e-5 * ones, 0.0 * ones, math.radians(degrees) * ones, SPEED
    )
    assert found.total == pytest.approx(-down, rel=1e-7)


@settings(max_examples=40)
@given(
    st.lists(st.tuples(st.floats(0.1, 3.0), st.floats(-0.1, 0.1), st.floats(-0.02, 0.02)), min_size=1, max_size=5),
    st.floats(-0.3, 0.3),
    st.floats(0.0, 0.06),
    st.floats(-0.04, 0.04),
)
def test_all_inertia_moments_together_are_the_slope_of_the_centrifugal_potential(
    masses: list[tuple[float, float, float]], pitch: float, precone: float, bend: float
) -> None:
    # potential -W^2/2 sum m (distance from the rotor axis)^2 of point masses at one radius s on a blade pitched and
    # bent up by an angle from a feathering axis tilted by the precone, then turned a little, as it is, about that axis
    s = 2.0

    def potential(turn: float) -> float:
        energy = 0.0
        for m, x, z in masses:
            aft = x * math.cos(pitch) + z * math.sin(pitch)
            up = z * math.cos(pitch) - x * math.sin(pitch) + s * bend
            turned_aft = aft * math.cos(turn) + up * math.sin(turn)
            turned_up = up * math.cos(turn) - aft * math.sin(turn)
            out = s * math.cos(precone) - turned_up * math.sin(precone)
            energy -= 0.5 * SPEED**2 * m * (out**2 + turned_aft**2)
        return energy

    step = 1e-3
    exact = -(potential(step) - potential(-step)) / (2.0 * step)
    y = np.array([s - 0.5, s + 0.5])  # a slice of one metre; its arm s is the mean of the two ends'
    blade = slices(y, masses)
    angles = np.full_like(y, pitch)
    ours = (
        propeller_moment(
            y, blade.chordwise_inertia, blade.normal_inertia, blade.product_of_inertia, angles, SPEED
        ).total
        + mass_offset_moment(blade, angles, precone, SPEED)
        + mass_offset_moment(blade, angles, bend, SPEED)
    )
    # precone as a small angle: its cube, and its square times heights of the mass, are left out
    arm = SPEED**2 * sum(m * (abs(x) + abs(z)) for m, x, z in masses)
    small = arm * (precone**2 * (s * precone + s * abs(bend) + 0.12) + 1e-6)
    rounding = 1e-14 * SPEED**2 * sum(m for m, _, _ in masses) * s**2 / step  # of a difference of two energies
    assert ours == pytest.approx(exact, abs=small + rounding)


@settings(max_examples=25)
@given(st.floats(0.001, 0.01), st.floats(0.0, 0.9), st.floats(-0.3, 0.3))
def test_a_symmetric_blade_is_always_flattened(chordwise: float, share: float, pitch: float) -> None:
    y = np.linspace(0.3, 3.0, 5)
    ones = np.ones_like(y)
    moment = propeller_moment(y, chordwise * ones, share * chordwise * ones, 0.0 * ones, pitch * ones, SPEED)
    assert moment.total * pitch <= 0.0


def test_counterweight_on_an_arm_square_to_the_chord_helps_the_nose_up() -> None:
    # 0.35 kg on 35 mm at 8 deg: + W^2 m l^2 sin p cos p, closed form; entered as its moment at 45 deg and half speed
    entered = 0.5 * 0.35 * 0.035**2 * (0.5 * SPEED) ** 2
    assert counterweight_moment(entered, math.radians(8.0), SPEED, 0.5 * SPEED) == pytest.approx(0.2032102, rel=1e-6)


def strip(cm: float) -> float:
    y = np.linspace(0.45, RADIUS, 41)
    return section_moment(y, np.full_like(y, CHORD), np.full_like(y, cm), SPEED, DENSITY)


def test_section_moment_of_a_constant_coefficient_and_its_share_at_the_handle() -> None:
    # strip theory: rho c^2 W^2 (R^3 - r0^3)/6; reflex of 8 % chord, trailing edge up, thin theory; linkage invented
    assert strip(0.001) == pytest.approx(0.61215116, rel=1e-8)
    per_degree = strip(flap_derivatives(0.08).moment * math.radians(1.0))
    assert per_degree == pytest.approx(5.33326, rel=1e-6)
    assert abs(pitch_link_force(per_degree, LEVER_UP_NOSE_UP)) == pytest.approx(35.55507, rel=1e-6)
    assert handle_force(2.0 * per_degree, LEVER_UP_NOSE_UP) == pytest.approx(-14.22203, rel=1e-6)


def test_lever_sense_turns_the_handle_force_and_link_sense_the_link_force() -> None:
    down = Linkage(0.15, 5.0, "nose up", "nose down")
    trailing = Linkage(0.15, 5.0, "nose down", "nose up")
    assert handle_force(6.0, LEVER_UP_NOSE_UP) == -8.0
    assert handle_force(6.0, down) == 8.0
    assert handle_force(6.0, trailing) == -8.0
    assert pitch_link_force(6.0, LEVER_UP_NOSE_UP) == -40.0  # nose-up moment pulls a leading horn's link up: tension
    assert pitch_link_force(6.0, trailing) == 40.0


def test_lift_behind_the_axis_turns_the_nose_down() -> None:
    y = np.linspace(0.0, 2.0, 9)
    assert lift_offset_moment(y, 500.0 * y, np.full_like(y, 0.004)) == pytest.approx(-4.0, rel=1e-12)


def test_coning_of_a_uniform_blade_with_lift_as_radius_squared() -> None:
    # lift 1800 N with its resultant at 0.75 R; mass 2.9 kg/m: beta = (T 0.75 R - g S)/(W^2 I), closed form
    y = np.linspace(0.0, RADIUS, 2001)
    blade = slices(y, [(2.9, 0.0, 0.0)])
    lift = 3.0 * 1800.0 * y**2 / RADIUS**3
    inertia, first = 2.9 * RADIUS**3 / 3.0, 2.9 * RADIUS**2 / 2.0
    expected = (1800.0 * 0.75 * RADIUS - 9.80665 * first) / (SPEED**2 * inertia)
    assert free_coning(y, lift, blade, SPEED) == pytest.approx(expected, rel=1e-6)


def test_weight_behind_the_axis_turns_the_nose_up() -> None:
    y = np.array([0.0, 1.0])
    blade = slices(y, [(2.0, 0.01, 0.0)])
    assert weight_moment(blade, np.zeros(2)) == pytest.approx(2.0 * 9.80665 * 0.01, rel=1e-12)


def test_spring_that_lifts_the_lever_lightens_it_less_the_higher_it_is() -> None:
    assert trim_spring_force(40.0, 0.0, 0.1) == -40.0
    assert trim_spring_force(40.0, 100.0, 0.1) == -30.0


def test_bad_linkages_and_stations_are_refused() -> None:
    with pytest.raises(BadInput) as caught:
        Linkage(0.0, 5.0, "nose up", "nose up")
    assert (caught.value.field, caught.value.value, caught.value.allowed) == ("pitch_arm", 0.0, "more than 0")
    one = np.ones(2)
    with pytest.raises(StationOrder) as order:
        propeller_moment(np.array([2.0, 1.0]), one, one, one, one, SPEED)
    assert order.value.field == "y"
