"""The section's matrices: an isotropic bar in closed form, and energies that do not care which axis is chosen."""

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from bladewright.engine.arrays import Floats
from bladewright.engine.structure.moments import region_moments
from bladewright.engine.structure.section_matrices import about, mass_matrix, stiffness_matrix, turned
from bladewright.errors import BadInput

E, G, RHO = 71e9, 26.9e9, 2780.0
WIDTH, DEPTH = 0.06, 0.012
GJ = G * 0.2915 * WIDTH * DEPTH**3  # width over depth of 5; J enters as given
PLACES = st.floats(-0.5, 0.5)


def ring(x: float, z: float) -> Floats:
    half = np.array([WIDTH, DEPTH]) / 2.0
    corners: Floats = np.array([(-1, -1), (1, -1), (1, 1), (-1, 1)]) * half + np.array([x, z])
    return corners


def bar(x: float = 0.0, z: float = 0.0) -> Floats:
    """Stiffness about the origin of a bar whose middle is elsewhere."""
    shearing = 5.0 / 6.0 * G * WIDTH * DEPTH * np.eye(2)
    return stiffness_matrix(E * region_moments(ring(x, z)), shearing, np.array(GJ), np.array(x), np.array(z))


def test_a_bar_about_its_own_middle_has_nothing_off_the_diagonal() -> None:
    # EA, 5/6 GA twice, EI both ways, GJ: any text on strength of materials
    area = WIDTH * DEPTH
    expected = [E * area, 5 / 6 * G * area, 5 / 6 * G * area, E * DEPTH * WIDTH**3 / 12, E * WIDTH * DEPTH**3 / 12, GJ]
    assert bar() == pytest.approx(np.diag(expected), rel=1e-12, abs=1e-6)


def test_a_force_off_the_shear_centre_twists() -> None:
    # a force up, aft of the shear centre by a: torque nose-down of F a about it, so twist -F a / GJ; statics by hand
    a, force = 0.03, 100.0
    strains = np.linalg.solve(bar(-a, 0.0), np.array([0.0, 0.0, force, 0.0, 0.0, 0.0]))
    assert strains[5] == pytest.approx(-force * a / GJ, rel=1e-12)


@settings(max_examples=50)
@given(PLACES, PLACES)
def test_moving_the_axis_is_drawing_the_bar_elsewhere(x: float, z: float) -> None:
    assert about(bar(), x, z) == pytest.approx(bar(-x, -z), rel=1e-9, abs=1e-3)
    mass = mass_matrix(RHO * region_moments(ring(0.0, 0.0)))
    there = mass_matrix(RHO * region_moments(ring(-x, -z)))
    assert about(mass, x, z) == pytest.approx(there, rel=1e-9, abs=1e-12)


@settings(max_examples=50)
@given(st.floats(-3.0, 3.0), PLACES, PLACES, st.lists(st.floats(-1.0, 1.0), min_size=6, max_size=6))
def test_energy_does_not_care_for_axes(angle: float, x: float, z: float, strains: list[float]) -> None:
    old = np.array(strains)
    stretch, aft, up, bend_aft, bend_up, twist = old
    moved = np.array([stretch + x * bend_aft + z * bend_up, aft + z * twist, up - x * twist, bend_aft, bend_up, twist])
    matrix = bar(0.1, -0.02)
    assert moved @ about(matrix, x, z) @ moved == pytest.approx(old @ matrix @ old, rel=1e-9)
    c, s = np.cos(angle), np.sin(angle)
    rotated = np.array([stretch, c * aft + s * up, c * up - s * aft, c * bend_aft + s * bend_up,
                        c * bend_up - s * bend_aft, twist])  # fmt: skip
    assert rotated @ turned(matrix, angle) @ rotated == pytest.approx(old @ matrix @ old, rel=1e-9)
    assert turned(about(about(matrix, x, z), -x, -z), 0.0) == pytest.approx(matrix, rel=1e-9, abs=1e-3)


def test_a_section_without_stiffness_is_refused() -> None:
    with pytest.raises(BadInput) as caught:
        stiffness_matrix(
            E * region_moments(ring(0.0, 0.0)), np.zeros((2, 2)), np.array(GJ), np.array(0.0), np.array(0.0)
        )
    assert caught.value.field == "stiffness"
    assert caught.value.allowed == "positive stiffness in pull, bending, shear and torsion"
