"""The quadratic energy of the turning, against the energy of finitely turned sections put where they really stand.

Nothing is expanded on this side: sections turn by rotation matrices, the line of elastic centres keeps its length, the
shear centre moves along its section's own normal. What would bend the straight blade its stiffness bears, in the
section's own axes. The second difference of that energy is the quadratic one, twice.
"""

from collections.abc import Callable

import numpy as np
import pytest
from scipy.integrate import cumulative_simpson, simpson
from scipy.spatial.transform import Rotation

from bladewright.engine.arrays import Floats
from bladewright.engine.dynamics.blade_beam import Root
from bladewright.engine.dynamics.blade_matrices import BladeMatrices, blade_matrices
from tests.engine_dynamics.plain_beam import plain_beam

INNER, LENGTH, MASS = 0.3, 2.7, 1.3
Y = np.linspace(INNER, INNER + LENGTH, 2001)
SMALL = 2e-3

Shape = Callable[[Floats], Floats]


NONE = 0.0 * Y


def stretched_energy(
    tilt: tuple[Floats, Floats],
    twist: Floats,
    centre: Floats,
    shear: Floats,
    mass: Floats,
    spread: tuple[float, float],
    pitch: float,
) -> float:
    """``-1/2 integral of (P_x**2 + P_y**2) dm`` for a rotor speed of one; two pairs of points make the inertia."""
    up, aft = tilt
    bending = Rotation.from_rotvec(np.stack((up, 0.0 * up, -aft), axis=-1))
    turned = bending * Rotation.from_rotvec(np.stack((0.0 * twist, twist, 0.0 * twist), axis=-1))
    along = np.gradient(turned.as_matrix(), Y, axis=0, edge_order=2)
    normal = turned.apply([0.0, 1.0, 0.0])
    wound = along @ (centre - shear)  # the line of elastic centres winds about that of shear centres
    outward = np.einsum("yi,yi->y", wound, normal)
    length = np.sqrt(1.0 - (wound**2).sum(axis=-1) + outward**2) - outward
    line = np.array([0.0, INNER, 0.0]) + cumulative_simpson(
        length[:, None] * normal - along @ shear, x=Y, axis=0, initial=0.0
    )
    wide, thick = spread
    total = 0.0
    for beside in ([wide, 0.0, 0.0], [-wide, 0.0, 0.0], [0.0, 0.0, thick], [0.0, 0.0, -thick]):
        place = line + turned.apply(mass + np.array(beside))
        total -= 0.5 * simpson(0.25 * MASS * (place[:, 0] ** 2 + place[:, 1] ** 2), x=Y)
    chordwise = -np.einsum("yij,yik->yjk", turned.as_matrix(), along)[:, 1, 0]  # curvature in the section's own axes
    flapwise = np.einsum("yij,yik->yjk", turned.as_matrix(), along)[:, 2, 1]
    pull = 0.5 * MASS * (Y[-1] ** 2 - Y**2)
    # bending of the straight blade, borne by its stiffness in the section's own axes: the elastic energy's first order
    in_disc = Rotation.from_rotvec([0.0, pitch, 0.0])
    (aft, _, above), (mass_aft, _, mass_up) = in_disc.apply(centre), in_disc.apply(mass)
    steady = np.stack((pull * aft - MASS * mass_aft * Y * (Y[-1] - Y), NONE, pull * (above - mass_up)), axis=-1)
    steady = in_disc.inv().apply(steady)
    total += simpson(steady[:, 0] * chordwise + steady[:, 2] * flapwise, x=Y)
    return float(total)


def quadratic(matrices: BladeMatrices, up: Floats, aft: Floats, twist: Floats) -> float:
    """Of the engine, for the same three functions."""
    f = matrices.fields
    rows = np.hstack((f.flap_slope, f.chordwise_slope, f.torsion)).T
    wanted = np.concatenate([np.interp(f.y, Y, one) for one in (up, aft, twist)])
    unknowns = np.linalg.lstsq(rows, wanted, rcond=None)[0]
    assert rows @ unknowns == pytest.approx(wanted, abs=1e-6)
    return float(unknowns @ matrices.turning @ unknowns)


OUT = (Y - INNER) / LENGTH
BENT_UP, BENT_AFT, TWISTED = OUT * (1.0 - 0.4 * OUT), 0.7 * OUT**2, OUT * (1.2 - 0.5 * OUT)


@pytest.mark.parametrize("shear", [0.0, -0.03, 0.02])
@pytest.mark.parametrize(
    ("up", "aft", "twist"),
    [(BENT_UP, NONE, NONE), (NONE, BENT_AFT, NONE), (NONE, NONE, TWISTED), (BENT_UP, NONE, TWISTED),
     (BENT_UP, NONE, -TWISTED), (BENT_UP, BENT_AFT, NONE), (NONE, BENT_AFT, TWISTED)],
)  # fmt: skip
@pytest.mark.parametrize(("place", "elastic"), [(0.0, 0.0), (0.015, 0.015), (0.01, -0.012)])
@pytest.mark.parametrize("pitch", [0.0, 0.2])
def test_the_energy_of_turning_is_that_of_sections_where_they_stand(
    shear: float, up: Floats, aft: Floats, twist: Floats, place: float, elastic: float, pitch: float
) -> None:
    wide, thick = 0.06, 0.01
    matrices = blade_matrices(
        plain_beam(
            inner=INNER, length=LENGTH, mass_per_length=MASS, mass_x=place, elastic_x=elastic, shear_x=shear,
            chordwise_inertia=MASS * (0.5 * wide**2 + place**2), normal_inertia=MASS * 0.5 * thick**2,
        ),
        Root("clamped", np.inf), "collective", pitch,
    )  # fmt: skip
    at_mass, centre, at_shear = (np.array([x, 0.0, 0.0]) for x in (place, elastic, shear))

    def energy(scale: float) -> float:
        return stretched_energy(
            (scale * up, scale * aft), pitch + scale * twist, centre, at_shear, at_mass, (wide, thick), pitch
        )

    if not twist.any():  # the straight blade is in balance; its twist is left to its propeller moment
        assert energy(SMALL) - energy(-SMALL) == pytest.approx(0.0, abs=1e-7)
    second = (energy(SMALL) - 2.0 * energy(0.0) + energy(-SMALL)) / SMALL**2
    assert second == pytest.approx(quadratic(matrices, up, aft, twist), rel=2e-4, abs=2e-6)
