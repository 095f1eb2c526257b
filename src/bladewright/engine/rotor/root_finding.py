"""Roots of many functions of one unknown at once, each kept between two bounds."""

from collections.abc import Callable

import numpy as np

from bladewright.engine.arrays import Floats
from bladewright.errors import NotConverged

STEPS = 100


def first_bracket(function: Callable[[Floats], Floats], low: Floats, high: Floats, parts: int) -> tuple[Floats, Floats]:
    """The first of equal parts, counted from the low bound, across which a function falls from positive to not.

    Parameters
    ----------
    function : callable
        From an array of the bounds' shape to another, each place by itself. [any]
    low, high : arrays
        Bounds; the function is positive at the low one. [any]
    parts : int
        How many to look through. [-]

    Returns
    -------
    tuple of arrays
        Lower and upper bound of that part; the last one where the function stays positive.

    Notes
    -----
    Source: own method.
    """
    share = np.linspace(0.0, 1.0, parts + 1)
    at = low + (high - low) * share.reshape(-1, *([1] * low.ndim))
    fallen = function(at[1:]) <= 0.0
    part = np.where(fallen.any(axis=0), fallen.argmax(axis=0), parts - 1)
    bounds = [np.take_along_axis(at, (part + step)[None], axis=0)[0] for step in (0, 1)]
    return bounds[0], bounds[1]


def root_between(
    function: Callable[[Floats], Floats], low: Floats, high: Floats, tolerance: float, field: str
) -> Floats:
    """A root of each function between its bounds, by false position with Anderson and Bjoerck's step.

    Parameters
    ----------
    function : callable
        From an array of the bounds' shape to another, each place by itself. [any]
    low, high : arrays
        Bounds with opposite signs of the function; where the signs are alike the better bound is returned. [any]
    tolerance : float
        Half the greatest width of the bounds at the end. [any]
    field : str
        What the unknown is called. [-]

    Returns
    -------
    array
        [any]

    Raises
    ------
    NotConverged
        If the steps do not end.

    Notes
    -----
    Source: N. Anderson, A. Bjoerck, A new high order method of regula falsi type, BIT 13, 1973 (from memory).
    """
    left, right = np.array(low, dtype=float), np.array(high, dtype=float)
    at_left, at_right = function(left), function(right)
    alike = at_left * at_right > 0.0
    right, at_right = np.where(alike & (np.abs(at_left) < np.abs(at_right)), (left, at_left), (right, at_right))
    done = alike | (at_right == 0.0)
    for count in range(STEPS):
        with np.errstate(invalid="ignore", divide="ignore"):
            middle = right - at_right * (right - left) / (at_right - at_left)
        halved = ~np.isfinite(middle) | (count % 4 == 3)  # a bisection now and then bounds the number of steps
        middle = np.where(halved, 0.5 * (left + right), middle)
        least = right + np.copysign(tolerance, left - right)  # so that the root is soon between two near bounds
        middle = np.where(done, right, np.where(np.abs(middle - right) < tolerance, least, middle))
        here = function(middle)
        crossed = here * at_right < 0.0
        with np.errstate(invalid="ignore", divide="ignore"):
            kept = 1.0 - here / at_right
        kept = np.where(kept > 0.0, kept, 0.5)
        left, at_left = np.where(crossed, right, left), np.where(crossed, at_right, at_left * kept)
        right, at_right = middle, here
        done |= np.isfinite(here) & ((np.abs(right - left) <= 2.0 * tolerance) | (here == 0.0))
        if done.all():
            found: Floats = right
            return found
    raise NotConverged("no root found", field=field, value=float(right.flat[np.argmin(done)]))
