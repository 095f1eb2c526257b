"""Area, first and second moments of regions and lines, many stations at once; they add, subtract and scale.

A moments array ends in six numbers: the integrals of 1, x, z, x**2, z**2 and x z. Times a density they are mass,
times a modulus they are stiffness.
"""

import numpy as np

from bladewright.engine.arrays import Floats
from bladewright.errors import BadInput


def region_moments(ring: Floats) -> Floats:
    """Integrals of 1, x, z, x**2, z**2, x z over polygons, whichever way round they are given.

    Sums over the sides of the cross product ``d = x1 z2 - x2 z1`` times the polynomials of Green's theorem.

    Parameters
    ----------
    ring : (..., n, 2) array
        Corners in order, the first not repeated; repeated corners do no harm. [m]

    Returns
    -------
    (..., 6) array
        [m^2, m^3, m^3, m^4, m^4, m^4]

    Raises
    ------
    BadInput
        If a polygon has fewer than three corners.

    Notes
    -----
    Exact for the polygon.

    Source: Green's theorem; any text on mechanics.
    """
    if ring.shape[-2] < 3:
        raise BadInput("a polygon needs three corners", field="ring", value=ring.shape[-2], allowed="3 or more points")
    near = ring.mean(axis=-2, keepdims=True)  # about a near point, so that thin regions far out stay exact
    around = np.concatenate((ring, ring[..., :1, :]), axis=-2) - near
    x, z, x2, z2 = around[..., :-1, 0], around[..., :-1, 1], around[..., 1:, 0], around[..., 1:, 1]
    cross = x * z2 - x2 * z
    own = np.stack(
        (
            cross.sum(-1) / 2.0,
            ((x + x2) * cross).sum(-1) / 6.0,
            ((z + z2) * cross).sum(-1) / 6.0,
            ((x * x + x * x2 + x2 * x2) * cross).sum(-1) / 12.0,
            ((z * z + z * z2 + z2 * z2) * cross).sum(-1) / 12.0,
            ((x * (2.0 * z + z2) + x2 * (z + 2.0 * z2)) * cross).sum(-1) / 24.0,
        ),
        axis=-1,
    )
    turned: Floats = np.where(own[..., :1] < 0.0, -own, own)
    return moments_about(turned, -near[..., 0, 0], -near[..., 0, 1])


def region_area(ring: Floats) -> Floats:
    """Area of polygons, whichever way round they are given.

    Parameters
    ----------
    ring : (..., n, 2) array
        Corners in order, the first not repeated. [m]

    Returns
    -------
    (...) array
        [m^2]

    Notes
    -----
    Exact for the polygon.

    Source: Green's theorem; any text on mechanics.
    """
    x, z = ring[..., 0], ring[..., 1]
    inner = (x[..., :-1] * z[..., 1:] - x[..., 1:] * z[..., :-1]).sum(-1)
    twice: Floats = inner + x[..., -1] * z[..., 0] - x[..., 0] * z[..., -1]
    return 0.5 * np.abs(twice)


def line_moments(points: Floats) -> Floats:
    """Integrals of 1, x, z, x**2, z**2, x z along lines of points.

    Parameters
    ----------
    points : (..., n, 2) array
        In order along the line. [m]

    Returns
    -------
    (..., 6) array
        [m, m^2, m^2, m^3, m^3, m^3]

    Notes
    -----
    Exact for straight pieces.

    Source: elementary; no source needed.
    """
    a, b, c, d = points[..., :-1, 0], points[..., 1:, 0], points[..., :-1, 1], points[..., 1:, 1]
    length = np.hypot(b - a, d - c)
    kernels = (
        np.ones_like(length),
        (a + b) / 2.0,
        (c + d) / 2.0,
        (a * a + a * b + b * b) / 3.0,
        (c * c + c * d + d * d) / 3.0,
        (2.0 * a * c + a * d + b * c + 2.0 * b * d) / 6.0,
    )
    return np.stack([(kernel * length).sum(-1) for kernel in kernels], axis=-1)


def moments_about(moments: Floats, x: Floats, z: Floats) -> Floats:
    """The same moments with the origin moved to another point.

    Parameters
    ----------
    moments : (..., 6) array
        About the old origin. [any]
    x, z : (...) arrays
        The new origin. [m]

    Returns
    -------
    (..., 6) array
        About the new origin. [any]

    Notes
    -----
    Source: parallel-axis theorem; no source needed.
    """
    one, mx, mz, xx, zz, xz = (moments[..., at] for at in range(6))
    return np.stack(
        (
            one,
            mx - x * one,
            mz - z * one,
            xx - 2.0 * x * mx + x * x * one,
            zz - 2.0 * z * mz + z * z * one,
            xz - x * mz - z * mx + x * z * one,
        ),
        axis=-1,
    )


def centre(moments: Floats) -> tuple[Floats, Floats]:
    """Where the first moments vanish: centre of mass of mass moments, elastic centre of stiffness moments.

    Parameters
    ----------
    moments : (..., 6) array
        The first number not zero. [any]

    Returns
    -------
    (...) arrays
        x and z. [m]

    Notes
    -----
    Source: definition; no source needed.
    """
    return moments[..., 1] / moments[..., 0], moments[..., 2] / moments[..., 0]
