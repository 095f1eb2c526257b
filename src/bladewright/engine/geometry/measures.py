"""Area, centroid, area moments and lengths of polygons, by Green's theorem; exact for the polygon."""

from dataclasses import dataclass

import numpy as np

from bladewright.engine.arrays import Floats, require_finite
from bladewright.errors import BadInput


@dataclass(frozen=True, slots=True)
class AreaProperties:
    """What a closed outline encloses. Moments are about axes through its centroid, along x and z."""

    area: float  # [m^2]
    centroid_x: float  # [m]
    centroid_z: float  # [m]
    moment_x: float  # integral of z**2 about the centroid [m^4]
    moment_z: float  # integral of x**2 about the centroid [m^4]
    product: float  # integral of x z about the centroid [m^4]
    largest_moment: float  # principal [m^4]
    smallest_moment: float  # principal [m^4]
    weak_axis: float  # from +x toward +z to the axis of the smallest moment [rad]
    perimeter: float  # [m]


def area_properties(ring: Floats) -> AreaProperties:
    """Area, centroid, moments and perimeter of a polygon, whichever way round it is given.

    Sums over the sides of the cross product ``d = x1 z2 - x2 z1`` times the polynomials of Green's theorem.

    Parameters
    ----------
    ring : (n, 2) array
        Corners in order, the first not repeated. [m]

    Returns
    -------
    AreaProperties

    Raises
    ------
    BadInput
        If there are fewer than three corners, one is not finite, or they enclose nothing.

    Notes
    -----
    Exact for the polygon. For a smooth outline the error falls with the square of the side length.

    Source: Green's theorem; any text on mechanics.
    """
    if ring.ndim != 2 or ring.shape[1] != 2 or len(ring) < 3:
        raise BadInput("a polygon needs three corners", field="ring", value=len(ring), allowed="3 or more points")
    require_finite(ring, "ring")
    middle = ring.mean(axis=0)  # working about a near point keeps small sections at large radii exact
    x, z = (ring - middle).T
    x2, z2 = np.roll(x, -1), np.roll(z, -1)
    cross = x * z2 - x2 * z
    signed = 0.5 * float(cross.sum())
    extent = float(np.ptp(x) + np.ptp(z))
    if abs(signed) <= 1e-14 * extent**2:
        raise BadInput("the polygon encloses nothing", field="ring", value=signed, allowed="an area")
    cx = float(((x + x2) * cross).sum()) / (6.0 * signed)
    cz = float(((z + z2) * cross).sum()) / (6.0 * signed)
    turn = np.sign(signed)
    area = abs(signed)
    about_x = turn * float(((z * z + z * z2 + z2 * z2) * cross).sum()) / 12.0 - area * cz**2
    about_z = turn * float(((x * x + x * x2 + x2 * x2) * cross).sum()) / 12.0 - area * cx**2
    both = (x * z2 + 2.0 * x * z + 2.0 * x2 * z2 + x2 * z) * cross
    product = turn * float(both.sum()) / 24.0 - area * cx * cz
    half = 0.5 * (about_x - about_z)
    radius = float(np.hypot(half, product))
    return AreaProperties(
        area=area,
        centroid_x=cx + float(middle[0]),
        centroid_z=cz + float(middle[1]),
        moment_x=about_x,
        moment_z=about_z,
        product=product,
        largest_moment=0.5 * (about_x + about_z) + radius,
        smallest_moment=0.5 * (about_x + about_z) - radius,
        weak_axis=0.5 * float(np.arctan2(2.0 * product, -2.0 * half)),
        perimeter=float(np.hypot(x2 - x, z2 - z).sum()),
    )


def arc_length(surface: Floats) -> Floats:
    """Distance along a line of points from its first point.

    Parameters
    ----------
    surface : (n, 2) array
        Points in order. [m]

    Returns
    -------
    (n,) array
        First 0.0. [m]

    Notes
    -----
    Chords between points: an arc is under-measured by the square of the spacing.

    Source: definition; no source needed.
    """
    steps = np.hypot(*np.diff(surface, axis=0).T)
    return np.concatenate(([0.0], np.cumsum(steps)))
