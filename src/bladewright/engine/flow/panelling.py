"""Where the nodes of the panels go on an outline: dense at both ends and at steps, with every break among them."""

import itertools

import numpy as np

from bladewright.engine.arrays import Floats, Integers
from bladewright.engine.geometry.outline import Outline
from bladewright.errors import BadInput

FEWEST_ON_A_SIDE = 10
GROWTH = 0.25  # how much a panel may be longer per length from a step; common practice, no source
FINE = 2000  # places at which the density of nodes is summed up
SAME_PLACE = 1e-12  # of the surface's length


def panel_nodes(outline: Outline, count: int) -> Floats:
    """A ring of nodes on an outline, for ``panel_flow``.

    On each surface the angle a of ``s = S (1 - cos a)/2`` is shared out evenly along its length, but no panel near a
    step is longer than the step and a quarter of the way to it. A cubic runs through the outline's points from break
    to break, round the nose too.

    Parameters
    ----------
    outline : Outline
        Drawn or measured; a step is two points at one place, both of them breaks. [-]
    count : int
        Panels in all, half of them on each surface; even. [-]

    Returns
    -------
    (count + 1, 2) array
        Anticlockwise from the trailing edge on top. [as the outline]

    Raises
    ------
    BadInput
        If the count is odd, or too small for the outline's breaks.

    Notes
    -----
    Every break is a node, so is the nose. Between breaks the error of shape is of fourth order in the outline's own
    spacing where it is smooth.

    Source: the substitution is Glauert's, Elements of Aerofoil and Airscrew Theory, 1926 (from memory).
    """
    top, top_breaks = each_once(outline.top, outline.breaks)
    bottom, bottom_breaks = each_once(outline.bottom, outline.breaks)
    nose = len(top) - 1
    breaks = {*(nose - at for at in top_breaks), *(nose + at for at in bottom_breaks)}
    if 0 in outline.breaks:
        breaks.add(nose)
    return _placed(np.concatenate((top[::-1], bottom[1:])), nose, sorted(breaks), count)


def ring_nodes(points: Floats, count: int, breaks: tuple[int, ...] = ()) -> Floats:
    """A ring of nodes on a measured outline whose points do not lie across from each other.

    As ``panel_nodes``; the nose is the point furthest from the trailing edge.

    Parameters
    ----------
    points : (n, 2) array
        Anticlockwise from the trailing edge on top, each place once, as ``mended_ring`` leaves it. [m]
    count : int
        Panels in all; even. [-]
    breaks : tuple of int
        Numbers of points where slope or curvature may jump. [-]

    Returns
    -------
    (count + 1, 2) array
        [m]

    Raises
    ------
    BadInput
        If the count is odd, or too small for the breaks.

    Notes
    -----
    The cubic goes through every point: what a gauge scatters, it follows.

    Source: as ``panel_nodes``.
    """
    reach = points - 0.5 * (points[0] + points[-1])
    return _placed(points, int(np.argmax(np.hypot(*reach.T))), sorted(set(breaks)), count)


def _placed(ring: Floats, nose: int, breaks: list[int], count: int) -> Floats:
    """Half the panels on each side of the nose, every break a node."""
    half = count // 2
    if count % 2 or half < FEWEST_ON_A_SIDE:
        raise BadInput(
            "an even number of panels is needed",
            field="panels",
            value=count,
            allowed=f"even, at least {2 * FEWEST_ON_A_SIDE}",
        )
    arc = np.concatenate(([0.0], np.cumsum(np.hypot(*np.diff(ring, axis=0).T))))
    last = len(ring) - 1
    on_top = [0, *(at for at in breaks if 0 < at < nose), nose]
    on_bottom = [nose, *(at for at in breaks if nose < at < last), last]
    places = np.concatenate(
        (
            arc[nose] - _spread((arc[nose] - arc[on_top])[::-1], half)[::-1],
            arc[nose] + _spread(arc[on_bottom] - arc[nose], half)[1:],
        )
    )
    return read_along(ring, arc, sorted({0, *breaks, last}), places)


def each_once(surface: Floats, breaks: tuple[int, ...]) -> tuple[Floats, list[int]]:
    """A surface without repeated points, and its inner breaks by their new numbers.

    Parameters
    ----------
    surface : (n, 2) array
        From nose to tail. [chord fraction]
    breaks : tuple of int
        Numbers of points where slope or curvature jumps. [-]

    Returns
    -------
    (m, 2) array, list of int
        Without the points that stand on the one before; breaks but for the two ends. [chord fraction, -]

    Notes
    -----
    Source: definition; no source needed.
    """
    step = np.hypot(*np.diff(surface, axis=0).T)
    kept = np.concatenate(([True], step > SAME_PLACE * step.sum()))
    number = np.cumsum(kept) - 1
    last = int(number[-1])
    return surface[kept], sorted({int(number[at]) for at in breaks} - {0, last})


def _spread(ends: Floats, count: int) -> Floats:
    """Places from 0 to the end of a surface, the given ends of its parts among them."""
    whole = ends[-1]
    angle = np.arccos(1.0 - 2.0 * ends / whole)
    fine = np.unique(np.concatenate((np.linspace(0.0, np.pi, FINE), angle)))
    place = 0.5 * whole * (1.0 - np.cos(fine))
    usual = np.pi / count * np.sqrt(np.maximum(place * (whole - place), 0.0))
    parts = np.diff(ends)
    density = np.ones_like(fine)
    for at, shorter in zip(ends[1:-1], np.minimum(parts[:-1], parts[1:]), strict=True):
        density = np.maximum(density, usual / (shorter + GROWTH * np.abs(place - at)))
    turned, at = spaced(fine, density, angle, count)
    places: Floats = 0.5 * whole * (1.0 - np.cos(turned))
    places[at] = ends  # a break is where it is, not off by rounding
    return places


def spaced(fine: Floats, density: Floats, ends: Floats, count: int) -> tuple[Floats, Integers]:
    """Places with the same amount of a density between them, the ends of parts among them.

    Parameters
    ----------
    fine : (f,) array
        Where the density is known, increasing. [any]
    density : (f,) array
        More than zero. [-]
    ends : (p + 1,) array
        Of the parts; the first and the last are those of ``fine``. [as fine]
    count : int
        Of steps in all, shared among the parts by their amounts. [-]

    Returns
    -------
    (count + 1,) array, (p + 1,) array
        The places, and which of them are the ends of parts. [as fine, -]

    Raises
    ------
    BadInput
        If there are more parts than steps.

    Notes
    -----
    Source: definition; no source needed.
    """
    amount = np.concatenate(([0.0], np.cumsum(0.5 * (density[1:] + density[:-1]) * np.diff(fine))))
    marks = np.interp(ends, fine, amount)
    counts = _shared(np.diff(marks), count)
    wanted = [np.linspace(a, b, n + 1)[:-1] for (a, b), n in zip(itertools.pairwise(marks), counts, strict=True)]
    places: Floats = np.interp(np.concatenate([*wanted, marks[-1:]]), amount, fine)
    return places, np.concatenate(([0], np.cumsum(counts)))


def _shared(amounts: Floats, count: int) -> list[int]:
    """Whole shares in proportion, at least one each, by largest remainder."""
    if len(amounts) > count:
        raise BadInput("fewer panels than parts of the outline", field="panels", value=2 * count)
    exact = np.maximum(amounts / amounts.sum() * count, 1.0)
    shares = np.floor(exact).astype(int)
    while shares.sum() > count:
        shares[np.argmax(shares - exact + (shares > 1))] -= 1
    for at in np.argsort(shares - exact)[: count - shares.sum()]:
        shares[at] += 1
    return [int(share) for share in shares]


def read_along(ring: Floats, arc: Floats, joints: list[int], places: Floats) -> Floats:
    """The outline at places of its length, by a cubic through each part.

    Parameters
    ----------
    ring : (n, 2) array
        The outline's points. [chord fraction]
    arc : (n,) array
        How far along the outline they stand. [chord fraction]
    joints : list of int
        Where one part ends and the next begins: nothing is read across them. [-]
    places : (m,) array
        Along the outline. [chord fraction]

    Returns
    -------
    (m, 2) array
        [chord fraction]

    Notes
    -----
    Source: interpolation by splines of degree three, or fewer points' worth; no source needed.
    """
    from scipy.interpolate import make_interp_spline

    nodes = np.empty((len(places), 2))
    for low, high in itertools.pairwise(joints):
        here = slice(low, high + 1)
        inside = (places >= arc[low]) & (places <= arc[high])
        nodes[inside] = make_interp_spline(arc[here], ring[here], k=min(3, high - low))(places[inside])
    return nodes
