"""Where along the chord the points of an outline go: dense at both ends, where outlines curve most."""

import itertools

import numpy as np

from bladewright.engine.arrays import Floats
from bladewright.errors import BadInput

FEWEST_POINTS = 3


def cosine_spacing(count: int, breaks: tuple[float, ...] = ()) -> Floats:
    """Points from 0 to 1, close together at both ends, with every break among them.

    ``x = (1 - cos(a)) / 2``. The angles between two breaks are equal, and the points are shared out among the parts
    in proportion to their angles; so the spacing stays smooth and halving it halves it everywhere.

    Parameters
    ----------
    count : int
        How many points, at least 3; a few more are added where breaks need it. [-]
    breaks : tuple of float
        Places strictly between 0 and 1 that must be points. [-]

    Returns
    -------
    (n,) array
        Increasing, first 0.0, last 1.0. [-]

    Raises
    ------
    BadInput
        If ``count`` is too small or a break is not inside.

    Notes
    -----
    Source: the substitution is Glauert's, Elements of Aerofoil and Airscrew Theory, 1926 (from memory).
    """
    if count < FEWEST_POINTS:
        raise BadInput("too few points", field="count", value=count, allowed=f"at least {FEWEST_POINTS}")
    for place in breaks:
        if not 0.0 < place < 1.0:
            raise BadInput("a break lies outside the chord", field="breaks", value=place, allowed="between 0 and 1")
    ends = np.concatenate(([0.0], np.arccos(1.0 - 2.0 * np.unique(breaks)), [np.pi]))
    parts = [
        np.linspace(a, b, max(2, round((count - 1) * (b - a) / np.pi)) + 1)[:-1] for a, b in itertools.pairwise(ends)
    ]
    places: Floats = 0.5 * (1.0 - np.cos(np.concatenate([*parts, [np.pi]])))
    for place in breaks:  # the cosine of an arc cosine is off by rounding; a break is where it was said to be
        places[np.argmin(np.abs(places - place))] = place
    return places
