"""Lines laid inside or outside a section's outline, and what lies between them; many stations at once.

A path runs from the trailing edge forward along the top, round the leading edge and aft along the bottom.
"""

from typing import Literal

import numpy as np

from bladewright.engine.arrays import Floats

Side = Literal["top", "bottom"]


def inward_of(path: Floats) -> Floats:
    """How each point of a path moves when every side moves inward by one unit of length; the corners are mitred.

    Parameters
    ----------
    path : (..., n, 2) array
        From the trailing edge over the top to the trailing edge, no point repeated. [any]

    Returns
    -------
    (..., n, 2) array
        The same for a path scaled up or down. [-]

    Notes
    -----
    ``path + inward * t`` lays a layer of thickness t square to every side. Holds while t is less than the nose radius.

    Source: geometry; no source needed.
    """
    side = np.diff(path, axis=-2)
    side = side / np.hypot(side[..., 0], side[..., 1])[..., None]
    before = np.concatenate((side[..., :1, :], side), axis=-2)
    after = np.concatenate((side, side[..., -1:, :]), axis=-2)
    both = before + after
    both = both / (both * before).sum(-1, keepdims=True)
    return np.stack((-both[..., 1], both[..., 0]), axis=-1)  # to the left of a path that runs over the top first


def lengths(steps: Floats) -> Floats:
    """How long steps in the plane are.

    Parameters
    ----------
    steps : (..., 2) array
        [m]

    Returns
    -------
    (...) array
        [m]

    Notes
    -----
    Source: definition; no source needed.
    """
    return np.hypot(steps[..., 0], steps[..., 1])


def heights(path: Floats, x: Floats) -> tuple[Floats, Floats]:
    """Where the top and the bottom of a path are at given places along the chord.

    Parameters
    ----------
    path : (s, n, 2) array
        Its first half, to its foremost point, is the top. [m]
    x : (s, m) array
        Within the path. [m]

    Returns
    -------
    (s, m) arrays
        z of the top and of the bottom. [m]

    Notes
    -----
    Straight between points.

    Source: definition; no source needed.
    """
    top, bottom = np.empty_like(x), np.empty_like(x)
    for at, (line, places) in enumerate(zip(path, x, strict=True)):
        nose = int(line[:, 0].argmin())
        top[at] = np.interp(places, line[nose::-1, 0], line[nose::-1, 1])
        bottom[at] = np.interp(places, line[nose:, 0], line[nose:, 1])
    return top, bottom


def ahead_of(path: Floats, x: Floats) -> Floats:
    """The closed region inside a path and ahead of a cut square to the chord.

    Parameters
    ----------
    path : (s, n, 2) array
        [m]
    x : (s,) array
        Place of the cut. [m]

    Returns
    -------
    (s, n, 2) array
        A ring; points behind the cut are gathered at its ends. [m]

    Notes
    -----
    Source: geometry; no source needed.
    """
    top, bottom = heights(path, x[:, None])
    number = np.arange(path.shape[-2])
    upper = number <= np.argmin(path[..., 0], axis=-1)[:, None]
    ends = np.where(upper, top, bottom)
    behind = path[..., 0] > x[:, None]
    return np.stack(
        (np.where(behind, x[:, None], path[..., 0]), np.where(behind, ends, path[..., 1])),
        axis=-1,
    )


def between(x: Floats, lower: Floats, upper: Floats) -> Floats:
    """The ring round what lies between two lines over the same places.

    Parameters
    ----------
    x : (..., m) array
        Increasing. [m]
    lower, upper : (..., m) arrays
        z of the two lines. [m]

    Returns
    -------
    (..., 2 m, 2) array
        [m]

    Notes
    -----
    Source: geometry; no source needed.
    """
    there = np.stack((x, lower), axis=-1)
    back = np.stack((x, upper), axis=-1)[..., ::-1, :]
    return np.concatenate((there, back), axis=-2)


def place_on(path: Floats, x: Floats, side: Side) -> Floats:
    """Point numbers, with fractions, where one side of a path passes places along the chord.

    Parameters
    ----------
    path : (s, n, 2) array
        [m]
    x : (s,) array
        Within the path. [m]
    side : {"top", "bottom"}
        Ahead of the foremost point, or behind it. [-]

    Returns
    -------
    (s,) array
        [-]

    Notes
    -----
    Source: definition; no source needed.
    """
    number = np.arange(path.shape[-2], dtype=np.float64)
    found = np.empty_like(x)
    for at, (line, place) in enumerate(zip(path[..., 0], x, strict=True)):
        nose = int(line.argmin())
        part = slice(nose, None, -1) if side == "top" else slice(nose, None)
        found[at] = np.interp(place, line[part], number[part])
    return found


def points_at(path: Floats, number: Floats) -> Floats:
    """Points of a path at point numbers with fractions.

    Parameters
    ----------
    path : (s, n, 2) array
        [m]
    number : (s, m) array
        From 0 to n - 1. [-]

    Returns
    -------
    (s, m, 2) array
        [m]

    Notes
    -----
    Straight between points.

    Source: definition; no source needed.
    """
    below = np.clip(number.astype(np.int_), 0, path.shape[-2] - 2)
    part = (number - below)[..., None]
    row = np.arange(len(path))[:, None]
    points: Floats = (1.0 - part) * path[row, below] + part * path[row, below + 1]
    return points
