"""Roots with a wake against the determinant they must make nothing, and what is refused."""

from dataclasses import replace

import numpy as np
import pytest

from bladewright.engine.dynamics.lift_deficiency import shed_wake
from bladewright.engine.dynamics.roots_in_air import Structure, roots_in_air
from bladewright.engine.dynamics.strip_air import Effects, StripAir, Strips
from bladewright.errors import OutsideValidity

ONE, NONE = np.ones(1), np.zeros((2, 1))
PLATE = StripAir(np.array([0.0, 1.0]), np.full(2, 2.0), np.full(2, 2.0 * np.pi), np.full(2, -0.3), 1.0)
MASS = 20.0 * np.pi * np.array([[1.0, -0.1], [-0.1, 0.24]])
SPRING = 20.0 * np.pi * np.diag([0.16, 0.24])


def section(speed: float, mass: np.ndarray = MASS) -> tuple[Structure, StripAir, Strips]:
    """A section on springs, half a chord of one, its axis a fifth of that ahead of the middle."""
    strips = Strips(0.5 * ONE, ONE, np.array([[1.0], [0.0]]), NONE, NONE, np.array([[0.0], [1.0]]), speed * ONE, 0.0)
    return Structure(mass, 0.0 * mass, SPRING), replace(PLATE, effects=Effects(wake="shed")), strips


@pytest.mark.parametrize("speed", [0.3, 1.0, 2.0, 2.4])
def test_each_root_makes_the_flutter_determinant_nothing(speed: float) -> None:
    # Theodorsen's force and moment written out, heave down, the wake that of steady swinging at the root's frequency
    roots = roots_in_air(*section(speed))
    for root, settled in zip(roots.values, roots.settled, strict=True):
        assert settled
        c, axis = shed_wake(np.array([root.imag / speed]))[0], -0.2
        swept = np.array([root, speed + (0.5 - axis) * root])  # of heave down, of pitch
        lift = np.pi * np.array([root**2, speed * root - axis * root**2]) + 2.0 * np.pi * speed * c * swept
        moment = np.pi * np.array([axis * root**2, -speed * (0.5 - axis) * root - (0.125 + axis**2) * root**2])
        moment += 2.0 * np.pi * speed * (axis + 0.5) * c * swept
        whole = MASS * np.array([[1.0, -1.0], [-1.0, 1.0]]) * root**2 + SPRING  # heave turned down
        whole = whole + np.stack([lift, -moment])
        assert abs(np.linalg.det(whole)) < 1e-4 * np.abs(whole).max() ** 2


def test_without_air_speed_to_speak_of_it_swings_as_its_springs_say() -> None:
    roots = roots_in_air(*section(1e-6))
    half = np.pi * np.array([[1.0, 0.2], [0.2, 0.125 + 0.04]])
    carried = half * np.array([[1.0, -1.0], [-1.0, 1.0]])
    expected = np.sqrt(np.sort(np.linalg.eigvals(np.linalg.solve(MASS + carried, SPRING)).real))
    assert roots.frequency == pytest.approx(expected, rel=1e-5)
    assert roots.damping == pytest.approx(0.0, abs=1e-5)


def test_a_motion_that_moves_no_mass_is_refused() -> None:
    structure, air, strips = section(1.0, np.array([[1.0, 1.0], [1.0, 1.0]]))
    bare = replace(air, effects=Effects(wake="none", apparent_mass=False))
    with pytest.raises(OutsideValidity) as refused:
        roots_in_air(structure, bare, strips)
    assert refused.value.field == "mass"
