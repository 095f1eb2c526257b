"""Areas outlined on a photograph of a torn face, in pixels, with what placing the corners by hand leaves open."""

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from bladewright.engine.arrays import Floats, require_finite
from bladewright.errors import BadInput

SAME_CORNER = 1e-6  # pixels: corners so near are one corner, placed once
FEWEST_CORNERS = 3


@dataclass(frozen=True, slots=True, eq=False)
class OutlinedFace:
    """What a face divides into. The areas and what nobody outlined add up to the face."""

    names: tuple[str, ...]  # in the order asked
    areas: Floats  # (k,) inside the face, each spot counted once [px^2]
    unoutlined: float  # of the face [px^2]
    covariance: Floats  # (k + 1, k + 1) of the areas and, last, of what is not outlined [px^4]
    face: float  # whole [px^2]
    overlap: float  # outlined as more than one thing, or twice [px^2]
    outside: float  # outlined beyond the face [px^2]


def outlined_face(
    face: Floats, patches: Sequence[tuple[str, Floats]], worst_first: Sequence[str], placing: float
) -> OutlinedFace:
    """Areas by name, a spot outlined as two things counted to the worse of both.

    Polygons by Green's theorem, cut with each other; ``C = u**2 J J^T`` with ``J`` the change of each area as each
    corner moves, corners that several outlines share moving together.

    Parameters
    ----------
    face : (n, 2) array
        Corners of the whole face in order, the first not repeated. [px]
    patches : sequence of (name, (m, 2) array)
        What was outlined, each in one piece. [px]
    worst_first : sequence of names
        Every name that may be used; where two overlap the earlier keeps the spot. [-]
    placing : float
        Standard deviation of one corner, each way, when it is placed again; above zero. [px]

    Returns
    -------
    OutlinedFace

    Raises
    ------
    BadInput
        If an outline has fewer than three corners, crosses itself or encloses nothing, a corner is not finite, a
        name is not among those allowed, or the placing is not above zero. ``row``: the patch, 0 the face.

    Notes
    -----
    To the first order in the placing. Straight between corners: a round edge needs corners as near as it bends. A whole
    edge seen too far to one side is not in the covariance; a second person's outline shows it.

    Source: Green's theorem; JCGM 100:2008, 5.2 (propagation with correlated inputs, from memory).
    """
    if not placing > 0.0:
        raise BadInput("is no scatter", field="placing", value=placing, allowed="above 0 pixels")
    rings = [face, *(ring for _, ring in patches)]
    for number, ring in enumerate(rings):
        _require_ring(ring, number)
    for number, (name, _) in enumerate(patches, start=1):
        if name not in worst_first:
            raise BadInput("is no failure mode", field="areas", row=number, value=name, allowed=", ".join(worst_first))
    corners, places = np.unique(np.round(np.concatenate(rings) / SAME_CORNER), axis=0, return_inverse=True)
    corners, places = corners * SAME_CORNER, places.ravel()
    ends = np.cumsum([len(ring) for ring in rings])[:-1]
    names = [name for name, _ in patches]
    order = sorted(range(len(names)), key=lambda patch: worst_first.index(names[patch]))

    def divided(at: Floats) -> Floats:
        return _divided(np.split(at[places], ends), names, order, worst_first)

    found = divided(corners)
    slopes = np.empty((len(found), corners.size))
    for number in range(corners.size):
        step = np.zeros(corners.size)
        step[number] = placing
        moved = step.reshape(corners.shape)
        slopes[:, number] = 0.5 * (divided(corners + moved) - divided(corners - moved))
    kinds = len(worst_first)
    part = slopes[: kinds + 1]
    return OutlinedFace(
        names=tuple(worst_first),
        areas=found[:kinds],
        unoutlined=float(found[kinds]),
        covariance=part @ part.T,
        face=float(found[kinds + 1]),
        overlap=float(found[kinds + 2]),
        outside=float(found[kinds + 3]),
    )


def _divided(rings: list[Floats], names: list[str], order: list[int], worst_first: Sequence[str]) -> Floats:
    """Areas by name, then what is not outlined, the face, the overlap, and what lies outside."""
    from shapely import Polygon, make_valid, unary_union

    face, *patches = (make_valid(Polygon(ring)) for ring in rings)
    areas = dict.fromkeys(worst_first, 0.0)
    taken, overlap, outside = Polygon(), 0.0, 0.0
    for patch in order:
        inside = patches[patch].intersection(face)
        fresh = inside.difference(taken)
        areas[names[patch]] += fresh.area
        overlap += inside.area - fresh.area
        outside += patches[patch].area - inside.area
        taken = unary_union([taken, inside])
    left = face.difference(taken).area
    return np.array([*areas.values(), left, face.area, overlap, outside])


def _require_ring(ring: Floats, number: int) -> None:
    from shapely import Polygon

    place = {"field": "areas" if number else "outline", "row": number}
    if ring.ndim != 2 or ring.shape[-1] != 2 or len(ring) < FEWEST_CORNERS:
        raise BadInput("has too few corners", value=len(ring), allowed=f"{FEWEST_CORNERS} or more", **place)  # type: ignore[arg-type]
    require_finite(ring, "corners")
    shape = Polygon(ring)
    if not shape.is_valid or shape.area <= 0.0:
        raise BadInput(
            "crosses itself or encloses nothing", allowed="one piece, its corners in order round it",
            fix="place the corners again, one after the other round the edge", **place,  # type: ignore[arg-type]
        )  # fmt: skip


@dataclass(frozen=True, slots=True)
class PhotoScale:
    """How long a pixel of a photograph is on the face."""

    length: float  # of one pixel [m]
    deviation: float  # standard [m]
    uneven: float  # largest departure of one mark from the mean, as a share; 0 with one mark alone [1]


def photo_scale(pixels: Floats, lengths: Floats, placing: float) -> PhotoScale:
    """Length of a pixel from marked lengths that are known.

    ``s = sum(L d) / sum(d**2)``; ``u(s) = s sqrt(2) u / sqrt(sum(d**2))``, or the marks' own scatter if that is larger.

    Parameters
    ----------
    pixels : (n,) array
        Length of each mark on the photograph, at least one. [px]
    lengths : (n,) array
        The same on the face. [m]
    placing : float
        Standard deviation of one end of a mark. [px]

    Returns
    -------
    PhotoScale

    Raises
    ------
    BadInput
        If there is no mark, or one is no longer than its ends' placing.

    Notes
    -----
    A photograph taken askew has another scale at each end: two marks far apart show it, one cannot.

    Source: least squares through the origin; no source needed.
    """
    if len(pixels) == 0 or not np.all(pixels > 2.0 * placing):
        raise BadInput(
            "is no mark to take a scale from", field="marks", allowed="one or more, longer than twice the placing",
            fix="mark the coupon's width from edge to edge",
        )  # fmt: skip
    squares = float(pixels @ pixels)
    length = float(lengths @ pixels) / squares
    departures = lengths / pixels / length - 1.0
    by_placing = length * np.sqrt(2.0) * placing / np.sqrt(squares)
    by_scatter = length * float(np.std(departures, ddof=1)) / np.sqrt(len(pixels)) if len(pixels) > 1 else 0.0
    return PhotoScale(length, float(max(by_placing, by_scatter)), float(np.abs(departures).max()))


def crossing_patches(patches: Sequence[Floats], placing: float) -> tuple[tuple[int, int, float], ...]:
    """Pairs of outlines that cross by more than placing their corners explains, neither lying in the other.

    More than ``u (l_i + l_j) / 2`` of both in common, and more than that of each outside the other; ``l`` the girths.

    Parameters
    ----------
    patches : sequence of (m, 2) arrays
        Outlines that do not cross themselves. [px]
    placing : float
        Standard deviation of one corner. [px]

    Returns
    -------
    tuple
        Numbers of both from 0, and what they have in common. [px^2]

    Notes
    -----
    A strip of the placing's width along half of both girths: rough, and on the side of letting neighbours touch.

    Source: our own rule; no source.
    """
    from shapely import Polygon

    shapes = [Polygon(patch) for patch in patches]
    found = []
    for first, one in enumerate(shapes):
        for second in range(first + 1, len(shapes)):
            other = shapes[second]
            common = one.intersection(other).area
            strip = 0.5 * placing * (one.length + other.length)
            if common > strip and min(one.area, other.area) - common > strip:
                found.append((first, second, float(common)))
    return tuple(found)
