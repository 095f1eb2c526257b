"""What may be put right in a measured outline without guessing, said each time; the rest is refused, with the place."""

from dataclasses import dataclass

import numpy as np

from bladewright.engine.arrays import Floats, require_finite
from bladewright.errors import BadInput

SAME_POINT = 1e-9  # of the outline's extent
FEWEST = 4
AFT = 0.9  # of the extent: an outline that begins ahead of this does not begin at its trailing edge


@dataclass(frozen=True, slots=True)
class MendedRing:
    """An outline anticlockwise from the trailing edge on top, and what was done to it, a sentence each."""

    points: Floats  # (n, 2) x and z; the first again at the end if the trailing edge is closed [as given]
    said: tuple[str, ...]


def mended_ring(points: Floats) -> MendedRing:
    """A measured outline without repeated points and the right way round.

    Parameters
    ----------
    points : (n, 2) array
        x aft and z up, once round from the trailing edge, either way. [m or chord fraction]

    Returns
    -------
    MendedRing

    Raises
    ------
    BadInput
        If a value is not finite, too few points are left, the outline does not begin at its trailing edge, or it
        crosses itself: then ``row`` is the first side that crosses and ``value`` the place.

    Notes
    -----
    A clockwise outline can only be the same one told backwards, so it is turned. Which of two crossing parts is wrong,
    nobody can tell from the points.

    Source: definition; no source needed.
    """
    if points.ndim != 2 or points.shape[-1] != 2:
        raise BadInput("an outline is a list of x and z", field="outline", allowed="(n, 2)")
    require_finite(points, "outline")
    said: list[str] = []
    extent = float(np.ptp(points, axis=0).max()) if len(points) else 0.0
    repeated = np.hypot(*np.diff(points, axis=0).T) <= SAME_POINT * extent
    if repeated.any():
        rows = ", ".join(str(at + 2) for at in np.flatnonzero(repeated)[:5])
        said.append(
            f"dropped {int(repeated.sum())} repeated points (row {rows}{', ...' if repeated.sum() > 5 else ''})"
        )
        points = points[np.concatenate(([True], ~repeated))]
    if len(points) < FEWEST:
        raise BadInput("too few points", field="outline", value=len(points), allowed=f"at least {FEWEST}, each its own")
    _require_uncrossed(points, SAME_POINT * extent)
    x, z = points.T
    if np.sum(x * np.roll(z, -1) - np.roll(x, -1) * z) < 0.0:
        said.append("turned round: it ran clockwise")
        points = points[::-1]
    if points[[0, -1], 0].min() < points[:, 0].min() + AFT * np.ptp(points[:, 0]):
        raise BadInput(
            "the outline does not begin and end at its trailing edge",
            field="outline",
            row=1,
            value=f"x = {points[0, 0]:.6g}",
            allowed=f"the last {1.0 - AFT:.0%} of the length",
            fix="begin at the trailing edge on top, go forward, and come back along the bottom",
        )
    return MendedRing(points=points.copy(), said=tuple(said))


def _require_uncrossed(points: Floats, near: float) -> None:
    """Refuse an outline two sides of which have a point in common that is not their corner."""
    from shapely import LinearRing

    closed = float(np.hypot(*(points[-1] - points[0]))) <= near
    corners = points[:-1] if closed else points
    if LinearRing(corners).is_simple:
        return
    first, other, place = _crossing(corners)
    raise BadInput(
        f"the outline crosses itself: sides {first + 1} and {other + 1} meet at x = {place[0]:.5g}, z = {place[1]:.5g}",
        field="outline",
        row=first + 1,
        value=(float(place[0]), float(place[1])),
        allowed="sides that meet only at their common corner",
        fix="measure or enter these points again",
    )


def _crossing(corners: Floats) -> tuple[int, int, Floats]:
    """The first two sides that meet elsewhere than at a common corner, and where."""
    from shapely import intersection, linestrings

    sides = linestrings(np.stack((corners, np.roll(corners, -1, axis=0)), axis=1))
    for first in range(len(sides) - 2):
        others = sides[first + 2 : len(sides) - (first == 0)]
        met = np.array([not shared.is_empty for shared in intersection(sides[first], others)])
        if met.any():
            other = first + 2 + int(np.argmax(met))
            shared = intersection(sides[first], sides[other])
            return first, other, np.array(shared.representative_point().coords[0])
    doubled = int(np.argmin(_straightness(corners)))
    return doubled - 1, doubled, corners[doubled]


def _straightness(corners: Floats) -> Floats:
    """Cosine of the bend at each corner: -1 where the outline goes back on itself."""
    before, after = corners - np.roll(corners, 1, axis=0), np.roll(corners, -1, axis=0) - corners
    cosine: Floats = np.sum(before * after, axis=1) / (np.hypot(*before.T) * np.hypot(*after.T))
    return cosine
