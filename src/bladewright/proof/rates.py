"""How fast the mould heats and cools, over a window long enough that one noisy sample is not a ramp.

For each sample the latest earlier one at least a window before is taken. The fastest pair is found without working
out every pair of every sensor: no sensor can have risen more than the hottest now less the coldest then.
"""

from dataclasses import dataclass

import numpy as np

from bladewright.evidence.records import Floats
from bladewright.proof.mould import Mould, Rows

Picked = Rows | slice

#: a step that is a window long but for rounding is a window long
_ROUNDING = 1e-9
_PARTS = 1024  # places a search for the fastest begins at


@dataclass(frozen=True, slots=True)
class Rate:
    """One sensor's change between two samples."""

    per_second: float  # [K/s] rise positive
    column: int
    earlier: int
    later: int


def pairs(seconds: Floats, window: float) -> tuple[Picked, Picked]:
    """Each sample that has one at least a window [s] before it, and the latest such: (earlier, later)."""
    least = window * (1.0 - _ROUNDING)
    step = int(np.searchsorted(seconds, seconds[0] + least))
    if 0 < step < len(seconds) and _even(seconds, step, least):
        return slice(0, len(seconds) - step), slice(step, len(seconds))
    before = np.searchsorted(seconds, seconds - least, side="right") - 1
    later = np.flatnonzero(before >= 0)
    return before[later], later


def _even(seconds: Floats, step: int, least: float) -> bool:
    """Whether the sample so many steps back is the right one everywhere, as it is in an even log."""
    long_enough = bool((seconds[step:] - seconds[:-step] >= least).all())
    return long_enough and (step == 1 or bool((seconds[step - 1 :] - seconds[: 1 - step] < least).all()))


def fastest(mould: Mould, window: float, *, falling: bool = False) -> Rate | None:
    """The fastest rise, or fall, of any mould sensor over a window [s]; None if the log is shorter than one."""
    seconds = mould.log.seconds
    earlier, later = pairs(seconds, window)
    before, after = (mould.hottest, mould.coldest) if falling else (mould.coldest, mould.hottest)
    span = seconds[later] - seconds[earlier]
    if not len(span):
        return None
    sign = -1.0 if falling else 1.0
    bound = (after[later] - before[earlier]) / span
    bound *= sign
    if np.isnan(bound).any():
        bound[np.isnan(bound)] = -np.inf
    numbers = np.arange(len(seconds))
    firsts, lasts = numbers[earlier], numbers[later]
    some = _highest_here_and_there(bound)
    best = _fastest_of(mould, firsts[some], lasts[some], sign)
    rows = np.flatnonzero(bound > -np.inf if best is None else bound >= best.per_second * sign)
    return _fastest_of(mould, firsts[rows], lasts[rows], sign) or best


def _highest_here_and_there(bound: Floats) -> Rows:
    """Where each part of an array is highest: a good place to begin a search for the fastest."""
    size = -(-len(bound) // _PARTS)
    whole = len(bound) // size
    places = bound[: whole * size].reshape(whole, size).argmax(axis=1) + np.arange(whole) * size
    return np.append(places, int(np.argmax(bound)))


def _fastest_of(mould: Mould, earlier: Rows, later: Rows, sign: float) -> Rate | None:
    """The fastest of some pairs of samples, every sensor looked at."""
    if not len(earlier):
        return None
    seconds = mould.log.seconds
    rates = (mould.believed(later) - mould.believed(earlier)) / (seconds[later] - seconds[earlier])[:, None]
    known = np.where(np.isnan(rates), -np.inf, rates * sign)
    at, place = np.unravel_index(int(np.argmax(known)), known.shape)
    if known[at, place] == -np.inf:
        return None
    return Rate(float(rates[at, place]), mould.columns[int(place)], int(earlier[at]), int(later[at]))


def slowest_rise(mould: Mould, window: float, low: float, high: float) -> Rate | None:
    """The slowest rise of any mould sensor on its way from one temperature up to another [K], over a window [s].

    A way shorter than the window counts whole. None if no sensor was seen on that way.
    """
    seconds = mould.log.seconds
    up = np.flatnonzero(mould.coldest >= high)
    rows = slice(0, int(up[0]) + 1 if len(up) else len(seconds))
    readings = mould.believed(rows)
    found: list[Rate] = []
    for place, column in enumerate(mould.columns):
        way = _way_up(readings[:, place], low, high)
        if way is None:
            continue
        at = np.arange(way[0], way[1] + 1)
        earlier, later = pairs(seconds[at], min(window, float(seconds[at[-1]] - seconds[at[0]])))
        first, last = at[earlier], at[later]
        rates = (readings[last, place] - readings[first, place]) / (seconds[last] - seconds[first])
        if np.isnan(rates).all():
            continue
        slow = int(np.nanargmin(rates))
        found.append(Rate(float(rates[slow]), column, int(first[slow]), int(last[slow])))
    return min(found, key=lambda rate: rate.per_second, default=None)


def _way_up(readings: Floats, low: float, high: float) -> tuple[int, int] | None:
    """From the last sample below ``low`` to the first at ``high`` after it, or as far as either was seen."""
    arrived = np.flatnonzero(readings >= high)
    end = int(arrived[0]) if len(arrived) else len(readings) - 1
    below = np.flatnonzero(readings[: end + 1] < low)
    start = int(below[-1]) + 1 if len(below) else 0
    return (start, end) if end > start else None
