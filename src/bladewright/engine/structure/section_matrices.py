"""The section as a matrix: six strains to six forces, six velocities to six momenta, about any axis and any direction.

In order: pull, force aft, force up; the moments that stretch the aft side and the top; the torque that turns the nose
up. Strains go the same way: stretch, shear aft, shear up, the two bends (growth of stretch per metre aft and per metre
up), twist per length.
"""

from dataclasses import dataclass

import numpy as np

from bladewright.engine.arrays import Floats
from bladewright.errors import BadInput

PULL, AFT, UP, BEND_AFT, BEND_UP, TWIST = range(6)


@dataclass(frozen=True, slots=True)
class SectionMatrices:
    """Stiffness and mass of sections about one axis each."""

    stiffness: Floats  # (..., 6, 6) symmetric [N, N m, N m^2]
    mass: Floats  # (..., 6, 6) symmetric, velocities in the order of the strains [kg/m, kg, kg m]


def stiffness_matrix(stretching: Floats, shearing: Floats, torsion: Floats, shear_x: Floats, shear_z: Floats) -> Floats:
    """Stiffness of a section of isotropic parts about the origin of its moments.

    Stretch and bends: ``[[EA, ES_x, ES_z], [., EI_xx, EI_xz], [., ., EI_zz]]``. Shears and twist: at the shear centre
    ``diag(K, GJ)``, brought to the origin by ``g_x + t z_s``, ``g_z - t x_s``. The two do not mix.

    Parameters
    ----------
    stretching : (..., 6) array
        Modulus times the integrals of 1, x, z, x**2, z**2, x z. [N, N m, N m^2]
    shearing : (..., 2, 2) array
        Force aft and up for a shear aft and up, with no twist. [N]
    torsion : (...) array
        G J. [N m^2]
    shear_x, shear_z : (...) arrays
        Shear centre from the origin. [m]

    Returns
    -------
    (..., 6, 6) array
        [N, N m, N m^2]

    Raises
    ------
    BadInput
        If a stiffness is not positive, so that the section would give way by itself.

    Notes
    -----
    Straight, untwisted, isotropic parts; Poisson's ratio has no part in it.

    Source: as in D. H. Hodges, Nonlinear Composite Beam Theory, 2006 (from memory); re-derived in
    docs/theory/section-constants.
    """
    matrix = np.zeros((*np.shape(torsion), 6, 6))
    one, x, z, xx, zz, xz = np.moveaxis(stretching, -1, 0)
    bent = (PULL, BEND_AFT, BEND_UP)
    for row, values in zip(bent, ((one, x, z), (x, xx, xz), (z, xz, zz)), strict=True):
        for column, value in zip(bent, values, strict=True):
            matrix[..., row, column] = value
    local = np.zeros((*np.shape(torsion), 3, 3))
    local[..., :2, :2], local[..., 2, 2] = shearing, torsion
    carried = np.zeros_like(local)
    carried[..., range(3), range(3)] = 1.0
    carried[..., 0, 2], carried[..., 1, 2] = shear_z, -shear_x
    sheared = np.array((AFT, UP, TWIST))
    matrix[..., sheared[:, None], sheared] = np.swapaxes(carried, -1, -2) @ local @ carried
    if not np.all(np.linalg.eigvalsh(matrix) > 0.0):
        raise BadInput(
            "a section without stiffness in some direction",
            field="stiffness",
            value=float(np.linalg.eigvalsh(matrix).min()),
            allowed="positive stiffness in pull, bending, shear and torsion",
        )
    return matrix


def mass_matrix(moments: Floats) -> Floats:
    """Inertia of a slice about the origin of its moments: twice the kinetic energy is ``v . M v``.

    Parameters
    ----------
    moments : (..., 6) array
        Density times the integrals of 1, x, z, x**2, z**2, x z. [kg/m, kg, kg m]

    Returns
    -------
    (..., 6, 6) array
        [kg/m, kg, kg m]

    Notes
    -----
    A rigid slice: a point moves outward by ``v + x a + z b``, aft by ``v_x + z t``, up by ``v_z - x t``.

    Source: definition; no source needed.
    """
    one, x, z, xx, zz, xz = np.moveaxis(moments, -1, 0)
    matrix = np.zeros((*one.shape, 6, 6))
    entries = {
        (PULL, PULL): one, (AFT, AFT): one, (UP, UP): one,
        (PULL, BEND_AFT): x, (PULL, BEND_UP): z, (AFT, TWIST): z, (UP, TWIST): -x,
        (BEND_AFT, BEND_AFT): xx, (BEND_UP, BEND_UP): zz, (BEND_AFT, BEND_UP): xz, (TWIST, TWIST): xx + zz,
    }  # fmt: skip
    for (row, column), value in entries.items():
        matrix[..., row, column] = matrix[..., column, row] = value
    return matrix


def about(matrix: Floats, x: Floats | float, z: Floats | float) -> Floats:
    """The same section's matrix about another axis, parallel to the first.

    Parameters
    ----------
    matrix : (..., 6, 6) array
        Stiffness or mass about the old axis. [any]
    x, z : floats or (...) arrays
        The new axis from the old. [m]

    Returns
    -------
    (..., 6, 6) array
        About the new axis; energies are unchanged. [any]

    Notes
    -----
    Strains about the old axis from those about the new: ``e - x a - z b``, ``g_x - z t``, ``g_z + x t``.

    Source: rigid-body transformation; no source needed.
    """
    carried = np.zeros(np.broadcast_shapes(matrix.shape, (*np.shape(x), 6, 6)))
    carried[..., range(6), range(6)] = 1.0
    carried[..., PULL, BEND_AFT], carried[..., PULL, BEND_UP] = -np.asarray(x), -np.asarray(z)
    carried[..., AFT, TWIST], carried[..., UP, TWIST] = -np.asarray(z), x
    return _congruent(matrix, carried)


def turned(matrix: Floats, angle: Floats | float) -> Floats:
    """The same section's matrix in axes turned about the span.

    Parameters
    ----------
    matrix : (..., 6, 6) array
        Stiffness or mass. [any]
    angle : float or (...) array
        From the old x axis toward the old z axis. [rad]

    Returns
    -------
    (..., 6, 6) array
        In the new axes; energies are unchanged. [any]

    Notes
    -----
    Source: rotation of axes; no source needed.
    """
    carried = np.zeros(np.broadcast_shapes(matrix.shape, (*np.shape(angle), 6, 6)))
    carried[..., PULL, PULL] = carried[..., TWIST, TWIST] = 1.0
    for aft, up in ((AFT, UP), (BEND_AFT, BEND_UP)):
        carried[..., aft, aft] = carried[..., up, up] = np.cos(angle)
        carried[..., aft, up], carried[..., up, aft] = -np.sin(angle), np.sin(angle)
    return _congruent(matrix, carried)


def _congruent(matrix: Floats, carried: Floats) -> Floats:
    moved: Floats = np.swapaxes(carried, -1, -2) @ matrix @ carried
    return moved
