"""How a section gives way along its span when twisted or sheared, by finite elements; many sections at once.

Every part is solid: nothing is taken for a thin wall. Poisson's ratio has no part in it.
"""

from dataclasses import dataclass

import numpy as np

from bladewright.engine.arrays import Floats, Integers
from bladewright.engine.structure.section_mesh import SectionMesh
from bladewright.errors import BadInput

TWIST, AFT, UP = range(3)
LOOSE = 1e-6  # of the stiffest node: what gives way this much hangs on nothing; rounding leaves 1e-8
_GAUSS = np.array([-np.sqrt(0.6), 0.0, np.sqrt(0.6)])
_WEIGHT = np.array([5.0, 8.0, 5.0]) / 9.0


def _quadratics(at: Floats) -> tuple[Floats, Floats]:
    """The three quadratics on (-1, 0, 1) and their slopes. (..., 3) each."""
    value = np.stack((0.5 * at * (at - 1.0), 1.0 - at * at, 0.5 * at * (at + 1.0)), axis=-1)
    slope = np.stack((at - 0.5, -2.0 * at, at + 0.5), axis=-1)
    return value, slope


def shape_slopes(along: Floats, across: Floats) -> tuple[Floats, Floats]:
    """Shape functions of the nine-node element and how they grow along and across it.

    Parameters
    ----------
    along, across : (...) arrays
        Place within the element, from -1 to 1. [-]

    Returns
    -------
    (..., 9) and (..., 2, 9) arrays
        [-]

    Notes
    -----
    Products of quadratics.

    Source: J. L. Lagrange's interpolation; definition.
    """
    (a, da), (b, db) = _quadratics(along), _quadratics(across)
    nine = (*np.shape(along), 9)
    value = (a[..., :, None] * b[..., None, :]).reshape(nine)
    slopes = ((da[..., :, None] * b[..., None, :]).reshape(nine), (a[..., :, None] * db[..., None, :]).reshape(nine))
    return value, np.stack(slopes, axis=-2)


_ALONG, _ACROSS = (grid.ravel() for grid in np.meshgrid(_GAUSS, _GAUSS, indexing="ij"))
_SHAPE, _SLOPE = shape_slopes(_ALONG, _ACROSS)  # (9 points, 9), (9 points, 2, 9)
_AREA = np.outer(_WEIGHT, _WEIGHT).ravel()


@dataclass(frozen=True, slots=True)
class SectionWarping:
    """Three fields on a mesh, and what they come to."""

    mesh: SectionMesh
    field: Floats  # (s, n, 3) along the span: per twist, per force aft, per force up [m^2, m/N, m/N]
    stretching: Floats  # (s, 6) E times the integrals of 1, x, z, x^2, z^2, x z [N, N m, N m^2]
    growth: Floats  # (s, 2, 2) bend grown per length for a force aft, up: rows per x, per z [1/(N m^2)]
    torsion: Floats  # (s,) G J [N m^2]
    shear_x: Floats  # (s,) shear centre [m]
    shear_z: Floats  # (s,) [m]
    giving: Floats  # (s, 2, 2) shear aft and up for a force aft and up through the shear centre [1/N]


def section_warping(mesh: SectionMesh, young: Floats, shear: Floats) -> SectionWarping:
    """Twisting by de Saint-Venant and shear by a uniform force, of a section of several isotropic parts.

    Twist: ``integral of G grad w . grad v = - integral of G (z v_x - x v_z)``. A force, growing bends a and b along
    the span: ``integral of G grad p . grad v = integral of E (a x_c + b z_c) v``. The torque of the second field is
    the force times the shear centre's arm; its energy is half the square of the force times ``giving``.

    Parameters
    ----------
    mesh : SectionMesh
        One connected section. [-]
    young, shear : (m,) arrays
        Moduli of the materials the mesh's layers number. [Pa]

    Returns
    -------
    SectionWarping

    Raises
    ------
    BadInput
        If an element is turned inside out, or parts are not connected.

    Notes
    -----
    Free to warp, perfect bonds. Stiffness in torsion is found too high by an error that falls with the fourth power of
    the element, or its 4/3 power at an inward corner.

    Source: B. de Saint-Venant, 1855 and 1856, in S. P. Timoshenko, J. N. Goodier, Theory of Elasticity (from memory).
    """
    e_of, g_of = young[mesh.layers], shear[mesh.layers]
    corner = mesh.nodes[:, mesh.elements]  # (s, e, 9, 2)
    jacobian = np.matmul(_SLOPE.reshape(18, 9), corner).reshape(*corner.shape[:2], 9, 2, 2)  # [slope direction, x or z]
    turn = jacobian[..., 0, 0] * jacobian[..., 1, 1] - jacobian[..., 0, 1] * jacobian[..., 1, 0]
    area = _AREA * turn * np.sign(turn.sum(-1))[..., None]
    if np.any(area <= 0.0):
        section, element, _ = np.argwhere(area <= 0.0)[0]
        raise BadInput(
            "parts of the section overlap or fold over",
            field="mesh",
            row=int(element) + 1,
            value=float(corner[section, element, 4, 0]),
            allowed="layers that lie beside each other",
        )
    inverse = np.stack((jacobian[..., 1, 1], -jacobian[..., 0, 1], -jacobian[..., 1, 0], jacobian[..., 0, 0]), axis=-1)
    slope = (inverse / turn[..., None]).reshape(jacobian.shape) @ _SLOPE  # (s, e, g, 2, 9): by x and by z
    place = np.matmul(_SHAPE, corner)  # (s, e, g, 2)

    weight = area * e_of[:, None]
    stretching = _integrals(weight, place)
    centre = stretching[:, 1:3] / stretching[:, :1]
    away = place - centre[:, None, None]
    x_c, z_c = away[..., 0], away[..., 1]
    inertia = _integrals(weight, away)[:, [3, 5, 5, 4]].reshape(-1, 2, 2)
    growth: Floats = np.asarray(np.linalg.inv(inertia), dtype=np.float64)

    stiff_weight = area * g_of[:, None]
    flat = slope.reshape(*slope.shape[:2], 18, 9)
    weighted = (slope * stiff_weight[..., None, None]).reshape(*slope.shape[:2], 18, 9)
    stiff = np.swapaxes(weighted, -1, -2) @ flat  # (s, e, 9, 9)
    arm = np.stack((z_c, -x_c), axis=-1).reshape(*slope.shape[:2], 1, 18)
    twisted = -(arm @ weighted)[..., 0, :]  # (s, e, 9)
    load = (away * weight[..., None]).swapaxes(-1, -2) @ _SHAPE  # (s, e, 2, 9)
    pushed = np.einsum("sij,seik->sejk", growth, load)
    push = np.concatenate((twisted[..., None, :], pushed), axis=-2)  # (s, e, 3, 9)
    right, field = _solved(mesh.elements, mesh.nodes.shape[1], stiff, push)

    polar = np.einsum("seg,segd,segd->s", stiff_weight, away, away)
    energy = np.swapaxes(field, -1, -2) @ right  # (s, 3, 3)
    torsion = polar - energy[:, TWIST, TWIST]
    # the torque of a force's own field about the elastic centre is minus what the twist's push does on it
    return SectionWarping(
        mesh=mesh,
        field=field,
        stretching=stretching,
        growth=growth,
        torsion=torsion,
        shear_x=centre[:, 0] + energy[:, TWIST, UP],
        shear_z=centre[:, 1] - energy[:, TWIST, AFT],
        giving=energy[:, AFT:, AFT:],
    )


def _integrals(weight: Floats, place: Floats) -> Floats:
    """Sums of 1, x, z, x**2, z**2, x z over the points of all elements. (s, 6)"""
    x, z = place[..., 0], place[..., 1]
    kinds = np.stack((np.ones_like(x), x, z, x * x, z * z, x * z), axis=-1).reshape(len(x), -1, 6)
    found: Floats = (weight.reshape(len(x), 1, -1) @ kinds)[:, 0]
    return found


def _solved(elements: Integers, count: int, stiff: Floats, push: Floats) -> tuple[Floats, Floats]:
    """The assembled pushes and the fields they make, (s, n, 3) each; the first node stays where it is."""
    from scipy.linalg.lapack import dpbsv

    band = int((elements.max(-1) - elements.min(-1)).max())
    rows, columns = elements[:, :, None], elements[:, None, :]
    lower = (rows >= columns).ravel()
    where = ((columns * (band + 1)) + rows - columns).ravel()[lower]
    right = np.empty((len(stiff), count, 3))
    field = np.empty_like(right)
    for at in range(len(stiff)):
        banded = np.bincount(where, stiff[at].ravel()[lower], count * (band + 1)).reshape(count, band + 1)
        for kind in range(3):
            right[at, :, kind] = np.bincount(elements.ravel(), push[at, :, kind].ravel(), count)
        banded[0, 0] *= 2.0  # pushes add up to nothing: holding one node changes nothing else
        factor, found, failed = dpbsv(banded.T, right[at], lower=1)
        if failed or factor[0].min() < LOOSE * factor[0].max():
            raise BadInput("parts of the section are not joined", field="mesh", allowed="one connected section")
        field[at] = found
    return right, field
