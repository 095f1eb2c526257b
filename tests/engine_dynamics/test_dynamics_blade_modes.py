"""Frequencies of turning beams against published values, closed forms and what must hold of any blade."""

from dataclasses import replace

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from scipy.optimize import brentq

from bladewright.engine.arrays import Floats
from bladewright.engine.dynamics.blade_beam import BladeBeam, Pattern, Root
from bladewright.engine.dynamics.blade_matrices import blade_matrices
from bladewright.engine.dynamics.blade_modes import blade_modes
from bladewright.engine.dynamics.outboard import outboard_pull
from bladewright.errors import BadInput, OutsideValidity
from tests.engine_dynamics.plain_beam import likely_blade, moved, plain_beam

CLAMPED = Root("clamped", np.inf)
TEETERING = Root("teetering", 500.0)


def frequencies(
    beam: BladeBeam, root: Root, speed: float, count: int = 10, pitch: float = 0.0, pattern: Pattern = "collective"
) -> Floats:
    return blade_modes(blade_matrices(beam, root, pattern, pitch), speed, count).frequencies


# A. D. Wright, C. E. Smith, R. W. Thresher, J. L. C. Wang, J. Appl. Mech. 49, 1982: flapwise, root on the axis;
# recomputed by a power series of forty digits.
@pytest.mark.outside
@pytest.mark.parametrize(
    ("speed", "clamped", "hinged"),
    [
        (0.0, (3.516015, 22.034492, 61.697214), (0.0, 15.418206, 49.964862)),
        (1.0, (3.681647, 22.181011, 61.841763), (1.0, 15.624242, 50.143687)),
        (2.0, (4.137320, 22.614922, 62.273184), (2.0, 16.226102, 50.676005)),
        (3.0, (4.797279, 23.320264, 62.984967), (3.0, 17.180732, 51.549784)),
        (5.0, (6.449545, 25.446080, 65.205041), (5.0, 19.919662, 54.241938)),
        (8.0, (9.256838, 29.995382, 70.292962), (8.0, 25.343564, 60.251284)),
        (10.0, (11.202328, 33.640366, 74.649295), (10.0, 29.443927, 65.255442)),
    ],
)
def test_a_uniform_beam_turns_at_the_published_frequencies(
    speed: float, clamped: tuple[float, ...], hinged: tuple[float, ...]
) -> None:
    for flap, published in (("clamped", clamped), ("hinged", hinged)):
        found = frequencies(plain_beam(), Root(flap, np.inf), speed, 3)  # type: ignore[arg-type]
        assert found == pytest.approx(published, rel=2e-7, abs=1e-5)


# The same authors treat tip mass and offset; 40-digit series.
@pytest.mark.outside
@pytest.mark.parametrize(
    ("speed", "tip", "offset", "clamped", "hinged"),
    [
        (0.0, 0.1, 0.0, (2.967838, 19.355801, 55.518246), (0.0, 13.429617)),
        (3.0, 0.1, 0.0, (4.408057, 20.917081, 57.136899), (3.0, 15.537668)),
        (5.0, 0.1, 0.0, (6.153450, 23.437060, 59.899246), (5.0, 18.692464)),
        (10.0, 0.1, 0.0, (10.989303, 32.721639, 71.344556), (10.0, 29.150937)),
        (5.0, 0.3, 0.0, (5.858992, 23.058888, 58.924188), (5.0, 18.762771)),
        (5.0, 0.1, 0.05, (6.296231, 23.667074, 60.171460), (5.170021, 18.988549)),
        (5.0, 0.0, 0.1, (6.741420, 25.865476, 65.677669), (5.361275, 20.478532)),
    ],
)
def test_a_tip_mass_and_a_hub_offset_count_as_published(
    speed: float, tip: float, offset: float, clamped: tuple[float, ...], hinged: tuple[float, ...]
) -> None:
    beam = plain_beam(inner=offset, tip_mass=tip)
    assert frequencies(beam, CLAMPED, speed, 3) == pytest.approx(clamped, rel=2e-7)
    found = frequencies(beam, Root("hinged", np.inf, hinge_offset=offset), speed, 2)
    assert found == pytest.approx(hinged, rel=2e-7, abs=1e-5)


def test_bending_in_the_plane_is_slower_by_exactly_the_rotor_speed() -> None:
    """Closed form: in the plane the pull's line turns with the blade;
    ``w_v**2 = w_w**2 - W**2`` for equal stiffness.
    """
    beam = plain_beam(chordwise=1.0 + 1e-9)
    for speed in (1.0, 5.0, 10.0):
        modes = blade_modes(blade_matrices(beam, CLAMPED, "collective"), speed, 4)
        flap = modes.frequencies[modes.share[:, 0] > 0.5][:2]
        aft = modes.frequencies[modes.share[:, 1] > 0.5][:2]
        assert aft**2 == pytest.approx(flap**2 - speed**2, rel=1e-7)


def test_a_stiff_blade_flaps_at_the_closed_form_of_its_offset_hinge() -> None:
    """Closed form: ``nu**2 = 1 + e S / I``; with thickness ``(I - I_n) / (I + I_n)`` about a hinge on the axis."""
    beam = plain_beam(inner=0.3, length=2.7, flapwise=1e9, chordwise=1e9, torsion=1e9)
    first, second = 2.7**2 / 2.0, 2.7**3 / 3.0
    found = frequencies(beam, Root("hinged", np.inf, hinge_offset=0.3), 40.0, 1)[0]
    assert (found / 40.0) ** 2 == pytest.approx(1.0 + 0.3 * first / second, rel=1e-6)
    thick = plain_beam(normal_inertia=0.01, flapwise=1e9, chordwise=1e9, torsion=1e9)
    found = frequencies(thick, Root("teetering", np.inf), 40.0, 1, pattern="cyclic")[0]
    assert (found / 40.0) ** 2 == pytest.approx((1.0 / 3.0 - 0.01) / (1.0 / 3.0 + 0.01), rel=1e-6)


def test_the_hub_between_axis_and_inner_end_is_part_of_a_seesaw() -> None:
    beam = plain_beam(inner=0.25, length=2.75, flapwise=1e8, chordwise=1e9, torsion=1e9)
    assert frequencies(beam, Root("teetering", np.inf), 58.0, 1, pattern="cyclic")[0] == pytest.approx(58.0, rel=1e-7)


# J. C. Houbolt, G. W. Brooks, NACA Report 1346, 1958, torsion equation (from memory); closed form for a constant pull.
@pytest.mark.outside
def test_torsion_is_held_by_stiffness_and_by_its_own_flattening() -> None:
    length, speed, inertia = 2.7, 560.0 * np.pi / 30.0, 0.0062
    beam = plain_beam(
        length=length, chordwise_inertia=0.988 * inertia, normal_inertia=0.012 * inertia,
        torsion=2600.0, flapwise=1e7, chordwise=1e7,
    )  # fmt: skip
    still = frequencies(beam, CLAMPED, 0.0, 1)[0]
    turning = frequencies(beam, CLAMPED, speed, 1)[0]
    assert still == pytest.approx(0.5 * np.pi * np.sqrt(2600.0 / inertia) / length, rel=1e-8)
    assert turning**2 == pytest.approx(still**2 + 0.976 * speed**2, rel=1e-8)


def test_a_pull_stiffens_torsion_by_its_spread() -> None:
    """A heavy tip weight far out makes the pull nearly constant: ``G J + T k_A**2`` (closed form)."""
    speed, weight, spread = 10.0, 300.0, 0.0019
    beam = plain_beam(
        inner=0.0, tip_mass=weight, torsion=26.0, chordwise_inertia=0.0031, normal_inertia=0.0031,
        mass_per_length=1e-6, gyration_squared=spread, flapwise=1e9, chordwise=1e9,
    )  # fmt: skip
    pull = weight * speed**2
    found = blade_modes(blade_matrices(beam, CLAMPED, "collective"), speed, 1).frequencies[0]
    assert found == pytest.approx(0.5 * np.pi * np.sqrt((26.0 + pull * spread) / 0.0062), rel=1e-6)


def dynamic_stiffness(frequency: float, aft: float, flapwise: float, torsion: float, inertia: float) -> float:
    """Determinant, nought at a mode of a clamped uniform beam of unit mass and length, mass aft of its shear centre.

    ``EI w"" = W**2 (w - a p)``, ``-GJ p" = W**2 (I p - a w)``: six exponentials, closed form.
    """
    square = frequency**2
    cubic = [flapwise * torsion, flapwise * square * inertia, -square * torsion, square**2 * (aft**2 - inertia)]
    s = np.sqrt(np.roots(cubic).astype(complex))
    s = np.concatenate((s, -s))
    twist = -(flapwise * s**4 - square) / (square * aft)
    end = np.exp(s)
    rows = np.array([np.ones(6), s, twist, flapwise * s**2 * end, flapwise * s**3 * end, torsion * twist * s * end])
    rows = rows / np.abs(rows).max(axis=1, keepdims=True)
    value = np.linalg.det(rows) / np.prod(np.subtract.outer(s, s)[np.triu_indices(6, 1)])
    return float(value.real if abs(value.real) >= abs(value.imag) else value.imag)


def test_flap_and_twist_of_an_offset_mass_meet_the_dynamic_stiffness() -> None:
    aft, flapwise, torsion, inertia = 0.05, 1.0, 0.1, 0.006
    beam = plain_beam(mass_x=aft, flapwise=flapwise, torsion=torsion, chordwise_inertia=inertia, chordwise=1e6)
    found = frequencies(beam, CLAMPED, 0.0, 4)
    for one in found:
        about = one * (1.0 - 1e-5), one * (1.0 + 1e-5)  # a root lies within
        root = brentq(dynamic_stiffness, *about, (aft, flapwise, torsion, inertia), rtol=1e-12)
        assert one == pytest.approx(root, rel=2e-8)


def test_pretwist_at_pitch_turns_the_soft_direction() -> None:
    """At a pitch of a quarter turn flap and chordwise trade places (closed form)."""
    beam = plain_beam(chordwise=16.0, chordwise_inertia=1e-12)
    flat = blade_modes(blade_matrices(beam, CLAMPED, "collective"), 0.0, 2)
    upright = blade_modes(blade_matrices(beam, CLAMPED, "collective", 0.5 * np.pi), 0.0, 2)
    assert upright.frequencies == pytest.approx(flat.frequencies, rel=1e-7)
    assert flat.names == ("first flap", "first chordwise")
    assert upright.names == ("first chordwise", "first flap")


def test_a_blade_set_beside_its_axis_as_a_whole_vibrates_as_before() -> None:
    """Held at its root, untwisted: a rotor may carry its blades higher, and at rest anywhere; aft, they are flung."""
    none = np.zeros(41)
    blade = replace(likely_blade(), masses=(), twist=none, mass_x=none, elastic_x=none, shear_x=none)
    for speed, pitch, away in ((0.0, 0.1, moved(blade, 0.04, 0.02)), (58.0, 0.0, moved(blade, 0.0, 0.03))):
        there = frequencies(away, CLAMPED, speed, 6, pitch)
        assert there == pytest.approx(frequencies(blade, CLAMPED, speed, 6, pitch), rel=5e-6)


def test_the_error_falls_faster_than_any_low_power_of_the_order() -> None:
    """Spectral: each order more divides the tenth frequency's error; elements of fixed order would not."""
    blade = likely_blade(9)
    exact = blade_modes(blade_matrices(blade, TEETERING, "cyclic", 0.1, order=16), 58.0).frequencies
    worst = [
        np.abs(
            blade_modes(blade_matrices(blade, TEETERING, "cyclic", 0.1, order=order), 58.0).frequencies / exact - 1.0
        )[1:].max()
        for order in (6, 8, 10)
    ]
    assert worst[1] < worst[0] / 30.0
    assert worst[2] < worst[1] / 30.0
    assert worst[2] < 1e-6


def test_a_step_is_two_stations_and_moves_nothing_when_nothing_steps() -> None:
    plain = likely_blade(12)
    at = 5
    stepped = replace(
        plain,
        **{
            name: np.insert(getattr(plain, name), at, getattr(plain, name)[at])
            for name in plain.__dataclass_fields__
            if name not in ("y", "masses")
        },
        y=np.insert(plain.y, at + 1, plain.y[at] + 1e-6),
    )
    assert frequencies(stepped, TEETERING, 58.0) == pytest.approx(frequencies(plain, TEETERING, 58.0), rel=1e-6)


def test_a_beam_of_two_parts_meets_its_closed_form() -> None:
    """Torsion of two lengths: ``tan(b L1) tan(b L2 c1/c2) = Z1/Z2`` for clamped and free (closed form)."""
    y = np.array([0.0, 0.4, 0.4 + 1e-6, 1.0])
    base = plain_beam(stations=4, flapwise=1e6, chordwise=1e6)
    stiff = np.array([4.0, 4.0, 1.0, 1.0])
    beam = replace(base, y=y, torsion=stiff, chordwise_inertia=0.01 * np.ones(4))

    def mismatch(frequency: float) -> float:
        one, two = frequency * np.sqrt(0.01 / 4.0), frequency * np.sqrt(0.01 / 1.0)
        return float(4.0 * one / np.tan(one * 0.4) - 1.0 * two * np.tan(two * 0.6))

    root = brentq(mismatch, 5.0, 25.0)
    assert frequencies(beam, CLAMPED, 0.0, 1)[0] == pytest.approx(root, rel=3e-6)


@st.composite
def blades(draw: st.DrawFn) -> BladeBeam:
    stations = draw(st.integers(2, 7))
    blade = likely_blade(stations)
    scale = st.lists(st.floats(0.3, 3.0), min_size=stations, max_size=stations).map(np.array)
    mass = draw(scale)
    bend = draw(scale)
    return replace(
        blade,
        mass_per_length=blade.mass_per_length * mass,
        chordwise_inertia=blade.chordwise_inertia * mass,
        normal_inertia=blade.normal_inertia * mass,
        product_of_inertia=blade.product_of_inertia * mass,
        flapwise=blade.flapwise * bend,
        chordwise=blade.chordwise * bend,
        bending_product=blade.bending_product * bend,
        torsion=blade.torsion * draw(scale),
    )


@settings(deadline=None, max_examples=25)
@given(blades(), st.floats(-0.3, 0.3), st.floats(0.0, 70.0))
def test_mass_and_elastic_stiffness_of_any_blade_are_symmetric_and_positive(
    blade: BladeBeam, pitch: float, speed: float
) -> None:
    matrices = blade_matrices(blade, CLAMPED, "collective", pitch)
    for matrix in (matrices.mass, matrices.elastic, matrices.centrifugal):
        assert np.abs(matrix - matrix.T).max() <= 1e-12 * np.abs(matrix).max()
    np.linalg.cholesky(matrices.mass)
    np.linalg.cholesky(matrices.elastic)
    modes = blade_modes(matrices, speed)
    assert modes.vectors @ matrices.mass @ modes.vectors.T == pytest.approx(np.eye(10), abs=1e-8)
    energy = np.einsum("ki,ij,kj->k", modes.vectors, matrices.stiffness(speed), modes.vectors)
    assert energy == pytest.approx(modes.frequencies**2, rel=1e-8)
    assert modes.share.sum(axis=1) == pytest.approx(1.0)


@settings(deadline=None, max_examples=15)
@given(blades(), st.floats(0.1, 70.0))
def test_a_frequency_never_gains_faster_than_southwells_sum(blade: BladeBeam, speed: float) -> None:
    """Rayleigh's principle: the lowest squared is concave in the speed's square, so a fixed shape gives no less."""
    square = [frequencies(blade, CLAMPED, one, 1)[0] ** 2 for one in (0.0, speed / np.sqrt(2.0), speed)]
    assert square[1] >= 0.5 * (square[0] + square[2]) * (1.0 - 1e-9)


def test_the_pull_is_the_integral_of_mass_times_radius() -> None:
    beam = plain_beam(inner=0.5, length=2.0, tip_mass=3.0)
    y = np.array([0.5, 1.0, 2.5])
    assert outboard_pull(beam, y) == pytest.approx((2.5**2 - y**2) / 2.0 + 3.0 * 2.5, rel=1e-14)


def test_what_cannot_be_is_refused() -> None:
    beam = plain_beam()
    with pytest.raises(BadInput) as caught:
        replace(beam, mass_per_length=np.array([1.0, 0.0]))
    assert (caught.value.field, caught.value.row, caught.value.value) == ("mass_per_length", 2, 0.0)
    with pytest.raises(BadInput) as caught:
        replace(beam, torsion=np.array([1.0, np.nan]))
    assert (caught.value.field, caught.value.row) == ("torsion", 2)
    with pytest.raises(BadInput) as caught:
        replace(beam, y=np.array([1.0, 0.5]))
    assert (caught.value.field, caught.value.row) == ("y", 2)
    with pytest.raises(BadInput) as caught:
        replace(beam, bending_product=np.array([0.0, 100.0]))
    assert (caught.value.field, caught.value.row) == ("bending_product", 2)
    with pytest.raises(BadInput) as caught:
        replace(beam, mass_x=np.array([0.0, 1.0]))
    assert (caught.value.field, caught.value.row) == ("chordwise_inertia", 2)
    with pytest.raises(BadInput) as caught:
        Root("clamped", -1.0)
    assert caught.value.field == "control_stiffness"
    with pytest.raises(BadInput) as caught:
        blade_matrices(beam, Root("hinged", np.inf, hinge_offset=0.1), "collective")
    assert caught.value.field == "hinge_offset"
    for changed, field in (({"pitch": np.nan}, "pitch"), ({"order": 2}, "order")):
        with pytest.raises(BadInput) as caught:
            blade_matrices(beam, CLAMPED, "collective", **changed)  # type: ignore[arg-type]
        assert caught.value.field == field
    matrices = blade_matrices(beam, CLAMPED, "collective")
    for speed in (-1.0, np.inf):
        with pytest.raises(BadInput) as caught:
            blade_modes(matrices, speed)
        assert caught.value.field == "rotor_speed"


def test_a_blade_that_its_turning_overturns_has_no_frequencies() -> None:
    """A rod on edge: its own flattening turns it away from its pitch, and a loose control run lets it."""
    beam = plain_beam(chordwise_inertia=1e-6, normal_inertia=0.01, flapwise=100.0)
    with pytest.raises(OutsideValidity) as caught:
        blade_modes(blade_matrices(beam, Root("clamped", 0.0), "collective"), 10.0)
    assert caught.value.field == "rotor_speed"
