"""Air on strips against the closed model of a stiff blade, and against Theodorsen's force and moment written out."""

from dataclasses import replace

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from numpy.polynomial.legendre import leggauss

from bladewright.engine.dynamics.lift_deficiency import shed_wake
from bladewright.engine.dynamics.pitch_flap import PitchFlap, pitch_flap_roots, strip_pitch_damping
from bladewright.engine.dynamics.roots_in_air import Structure, roots_in_air
from bladewright.engine.dynamics.strip_air import Effects, StripAir, Strips, air_matrices
from bladewright.errors import BadInput

BARE = Effects(pitch_rate_lift=False, coned_turning=False, apparent_mass=False)
RADIUS, CHORD, DENSITY = 3.0, 0.18, 1.225
PLACE, SHARE = leggauss(12)
Y, LENGTH = 0.5 * RADIUS * (PLACE + 1.0), 0.5 * RADIUS * SHARE
PLATE = StripAir(
    y=np.array([0.0, RADIUS]),
    chord=np.full(2, CHORD),
    lift_slope=np.full(2, 2.0 * np.pi),
    aerodynamic_centre=np.zeros(2),
    density=DENSITY,
    effects=BARE,
)


def stiff_blade(rotor_speed: float) -> Strips:
    """Rows: flapping about the axis, pitch."""
    flap = np.vstack([Y, 0.0 * Y])
    slope, pitch = np.vstack([np.ones_like(Y), 0.0 * Y]), np.vstack([0.0 * Y, np.ones_like(Y)])
    return Strips(Y, LENGTH, flap, slope, 0.0 * flap, pitch, rotor_speed * Y, rotor_speed)


@given(st.floats(10.0, 80.0), st.floats(-0.02, 0.02), st.floats(-0.02, 0.02), st.floats(0.0, 5.0))
def test_a_stiff_blade_of_strips_is_the_closed_model(
    speed: float, offset: float, centre: float, control: float
) -> None:
    inertia = 26.0
    lock_number = DENSITY * 2.0 * np.pi * CHORD * RADIUS**4 / inertia
    model = PitchFlap(
        lock_number, 1.0, 0.0007, strip_pitch_damping(lock_number, CHORD / RADIUS), control, centre / RADIUS
    )
    crossed = np.array([[1.0, -offset], [-offset, 0.0007]]) * inertia
    stiffness = np.array([[1.0, -offset], [-offset, 0.0007 * (control**2 + 1.0)]]) * inertia * speed**2
    air = replace(PLATE, aerodynamic_centre=np.full(2, centre))
    roots = roots_in_air(Structure(crossed, 0.0 * crossed, stiffness), air, stiff_blade(speed))
    told = pitch_flap_roots(model, offset) * speed
    for root in roots.values:
        assert np.min(np.abs(told - root)) < 1e-7 * np.abs(told).max()


@given(st.floats(0.05, 2.0), st.floats(-0.5, 0.5), st.floats(20.0, 200.0))
def test_a_section_feels_what_theodorsen_wrote(k: float, axis: float, speed: float) -> None:
    # heave down h and pitch p going as exp(i w t), the axis at a half chords behind the middle
    half = 0.5 * CHORD
    frequency = k * speed / half
    kept = shed_wake(np.array([k]))
    full = replace(PLATE, aerodynamic_centre=np.full(2, -(0.5 + axis) * half), effects=Effects(coned_turning=False))
    one, none = np.ones(1), np.zeros((2, 1))
    strips = Strips(one, one, np.array([[1.0], [0.0]]), none, none, np.array([[0.0], [1.0]]), speed * one, 0.0)
    air = air_matrices(full, strips, kept)
    ours = frequency**2 * air.mass - 1j * frequency * air.damping - air.stiffness  # up force, nose-up moment
    turn = 1j * frequency
    for heave, pitch in ((1.0, 0.0), (0.0, 1.0)):
        swept = turn * heave + speed * pitch + half * (0.5 - axis) * turn * pitch
        rho, c = DENSITY, kept[0]
        lift = np.pi * rho * half**2 * (turn**2 * heave + speed * turn * pitch - half * axis * turn**2 * pitch)
        lift += 2.0 * np.pi * rho * speed * half * c * swept
        moment = np.pi * rho * half**2 * (
            half * axis * turn**2 * heave - speed * half * (0.5 - axis) * turn * pitch
            - half**2 * (0.125 + axis**2) * turn**2 * pitch
        )  # fmt: skip
        moment += 2.0 * np.pi * rho * speed * half**2 * (axis + 0.5) * c * swept
        found = ours @ np.array([-heave, pitch])
        assert found[0] == pytest.approx(lift, rel=1e-10)
        assert found[1] == pytest.approx(moment, rel=1e-9, abs=1e-9 * abs(lift) * half)


@given(st.floats(-0.05, 0.05), st.floats(5.0, 80.0))
def test_a_rotor_leaning_over_as_a_whole_feels_no_air(centre: float, speed: float) -> None:
    # b = cos W t with p = b'/W keeps every blade in one leaning plane: a matter of which way is up, not of air
    full = replace(PLATE, aerodynamic_centre=np.full(2, centre), effects=Effects())
    air = air_matrices(full, stiff_blade(speed))
    leaning = np.array([1.0, 1j])
    force = (-(speed**2) * air.mass + 1j * speed * air.damping + air.stiffness) @ leaning
    assert np.abs(force).max() < 1e-12 * np.abs(air.stiffness).max()


def test_a_blade_bent_up_meets_air_as_a_cambered_section_does() -> None:
    # steady: a point x aft of the axis goes outward at W x, so air rises along the chord; about the quarter chord it is
    # -(pi rho c^3/16) W^2 b integral of y dy
    with_slope = air_matrices(replace(PLATE, effects=Effects()), stiff_blade(50.0))
    without = air_matrices(replace(PLATE, effects=Effects(coned_turning=False)), stiff_blade(50.0))
    moment = with_slope.stiffness[1, 0] - without.stiffness[1, 0]
    assert moment == pytest.approx(np.pi * DENSITY * CHORD**3 / 16.0 * 50.0**2 * RADIUS**2 / 2.0, rel=1e-12)


def test_carried_air_is_that_of_a_plate() -> None:
    # pi rho b^2 per length moved square to itself, pi rho b^4 (1/8 + 1/4) turned about its quarter chord
    carried = air_matrices(replace(PLATE, effects=Effects()), stiff_blade(50.0)).mass
    half = 0.5 * CHORD
    assert carried[0, 0] == pytest.approx(np.pi * DENSITY * half**2 * RADIUS**3 / 3.0, rel=1e-12)
    assert carried[1, 1] == pytest.approx(np.pi * DENSITY * half**4 * 0.375 * RADIUS, rel=1e-12)
    assert np.allclose(carried, carried.T)


def test_there_is_no_air_beyond_its_stations() -> None:
    # a bare grip out to a third of the radius: the damping of flap is rho a c W/2 of the integral of y^3 from there
    y = np.array([RADIUS / 3.0, RADIUS])
    half_a_blade = replace(PLATE, y=y)
    place, share = leggauss(40)
    fine, length = 0.5 * RADIUS * (place + 1.0), 0.5 * RADIUS * share
    flap = np.vstack([fine, 0.0 * fine])
    pitch = np.vstack([0.0 * fine, np.ones_like(fine)])
    strips = Strips(fine, length, flap, 0.0 * flap, 0.0 * flap, pitch, 50.0 * fine, 50.0)
    expected = 0.5 * DENSITY * 2.0 * np.pi * CHORD * 50.0 * (RADIUS**4 - (RADIUS / 3.0) ** 4) / 4.0
    assert air_matrices(half_a_blade, strips).damping[0, 0] == pytest.approx(expected, rel=0.01)  # a strip more or less
    assert air_matrices(PLATE, strips).damping[0, 0] == pytest.approx(expected * 81.0 / 80.0, rel=1e-9)


def test_drag_holds_back_chordwise_swinging() -> None:
    still = stiff_blade(50.0)
    lagging = replace(still, flap=0.0 * still.flap, flap_slope=0.0 * still.flap, chordwise=still.flap)
    air = replace(PLATE, drag_coefficient=np.full(2, 0.01))
    # rho c cd W int y y^2 dy
    expected = DENSITY * CHORD * 0.01 * 50.0 * RADIUS**4 / 4.0
    assert air_matrices(air, lagging).damping[0, 0] == pytest.approx(expected, rel=1e-12)
    assert air_matrices(PLATE, lagging).damping[0, 0] == 0.0


@pytest.mark.parametrize(
    ("field", "value"),
    [
        ("chord", np.array([0.18, 0.0])),
        ("lift_slope", np.array([5.7, np.nan])),
        ("density", 0.0),
        ("density", np.nan),
        ("aerodynamic_centre", np.zeros(3)),
        ("blades", 0),
    ],
)
def test_what_cannot_be_air_on_a_blade_is_refused(field: str, value: object) -> None:
    with pytest.raises(BadInput) as refused:
        replace(PLATE, **{field: value})  # type: ignore[arg-type]
    assert refused.value.field == field


def test_a_returning_wake_needs_something_to_carry_it_away() -> None:
    with pytest.raises(BadInput) as refused:
        replace(PLATE, effects=Effects(wake="returning"))
    assert refused.value.field == "inflow"
    assert refused.value.fix
