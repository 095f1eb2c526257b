"""Where the nodes go when a layer is to be marched along them: dense at the nose, not too dense at the tail.

A layer at the trailing edge is some per cent of the chord thick; panels much shorter than that add nothing, and make
layer and outer flow agree slowly.
"""

import numpy as np

from bladewright.engine.arrays import Floats
from bladewright.engine.flow.panelling import each_once, read_along, spaced
from bladewright.engine.geometry.outline import Outline
from bladewright.errors import BadInput

NOSE, TAIL = 0.0035, 0.012  # [chord] length of a panel there, before all are scaled to the number wanted
NOSE_GROWTH, TAIL_GROWTH = 0.14, 0.12  # how much longer panels are per length from there; all four found by trial
FINE = 2000
LEAST_BASE = 2e-4  # [chord] a trailing edge thinner than this is opened to it


def layer_nodes(outline: Outline, count: int) -> Floats:
    """A ring of nodes on an outline, for ``wake.outer_flow``.

    Panel length ``min(0.0035 + 0.14 d, 0.012 + 0.12 e)``, d and e the way to nose and tail, all scaled to the number.

    Parameters
    ----------
    outline : Outline
        In chord fractions; breaks become nodes. [-]
    count : int
        Panels in all; even. [-]

    Returns
    -------
    (count + 1, 2) array
        Anticlockwise from the trailing edge on top. A closed trailing edge is opened to 0.02 % of the chord by
        parting the surfaces in proportion to x. [chord fraction]

    Raises
    ------
    BadInput
        If the number of panels is odd or too small.

    Notes
    -----
    Source: our own choice; no source needed.
    """
    half = count // 2
    if count % 2 or half < 20:
        raise BadInput("an even number of panels is needed", field="panels", value=count, allowed="even, at least 40")
    base = float(np.hypot(*(outline.top[-1] - outline.bottom[-1])))
    part = 0.5 * max(LEAST_BASE - base, 0.0)
    top, top_breaks = each_once(outline.top + _parted(outline.top, part), outline.breaks)
    bottom, bottom_breaks = each_once(outline.bottom - _parted(outline.bottom, part), outline.breaks)
    ring = np.concatenate((top[::-1], bottom[1:]))
    nose = len(top) - 1
    arc = np.concatenate(([0.0], np.cumsum(np.hypot(*np.diff(ring, axis=0).T))))
    on_top, on_bottom = [nose - at for at in top_breaks][::-1], [nose + at for at in bottom_breaks]
    places = np.concatenate(
        (
            arc[nose] - _spread(arc[nose] - arc[[0, *on_top, nose]][::-1], half)[::-1],
            arc[nose] + _spread(arc[[nose, *on_bottom, -1]] - arc[nose], half)[1:],
        )
    )
    joints = [0, *on_top, *([nose] if 0 in outline.breaks else []), *on_bottom, len(arc) - 1]
    return read_along(ring, arc, sorted(set(joints)), places)


def _parted(surface: Floats, by: float) -> Floats:
    shift = np.zeros_like(surface)
    shift[:, 1] = by * surface[:, 0] / surface[-1, 0]
    return shift


def _spread(ends: Floats, count: int) -> Floats:
    """Places from 0, the nose, to the tail, the given ends of parts among them."""
    fine = np.unique(np.concatenate((np.linspace(0.0, ends[-1], FINE), ends)))
    length = np.minimum(NOSE + NOSE_GROWTH * fine, TAIL + TAIL_GROWTH * (ends[-1] - fine))
    places, at = spaced(fine, 1.0 / length, ends, count)
    places[at] = ends
    return places
