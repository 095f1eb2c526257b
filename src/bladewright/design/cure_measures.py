"""What every limit of the cure is held against, over drawn runs: the worst each run came to, as the log would show it.

The same rules as those that judge a log, on runs of even steps: the tests hold the two together.
"""

from dataclasses import dataclass

import numpy as np

from bladewright.drawing.limits import CureLimits
from bladewright.engine.arrays import Bools, Floats


@dataclass(frozen=True, slots=True)
class Shown:
    """Drawn runs as sensors show them."""

    seconds: Floats  # (t,) even steps [s]
    mould: Floats  # (runs, 6, t) [K]
    heater: Floats  # (runs, 6, t) [K]

    @property
    def step(self) -> float:
        """Between two samples. [s]"""
        return float(self.seconds[1] - self.seconds[0])


def fastest_rise(shown: Shown, window: float) -> Floats:
    """Fastest rise of any mould sensor over a window [s], of each run. (runs,) [K/s]"""
    return np.asarray(_rates(shown, window).max(axis=(1, 2)))


def fastest_fall(shown: Shown, window: float) -> Floats:
    """Fastest fall, as a positive rate. (runs,) [K/s]"""
    return np.asarray((-_rates(shown, window)).max(axis=(1, 2)))


def slowest_rise(shown: Shown, window: float, low: float, high: float) -> Floats:
    """Slowest rise of any mould sensor on its way from one temperature [K] up to another. (runs,) [K/s]

    A window that begins below or ends above counts where it lies between, as a log's does.
    """
    count = _count(shown, window)
    arrived = _first(shown.mould >= high)
    begun = _last_before(shown.mould < low, arrived) + 1
    rates = _rates(shown, window)
    places = np.arange(rates.shape[-1])
    within = (places >= begun[..., None]) & (places + count <= arrived[..., None])
    whole = np.maximum(arrived - begun, 1)
    along = np.take_along_axis(shown.mould, arrived[..., None], axis=-1) - np.take_along_axis(
        shown.mould, np.minimum(begun, arrived)[..., None], axis=-1
    )
    short = along[..., 0] / (whole * shown.step)  # a way shorter than the window counts whole
    slow = np.where(within.any(axis=-1), np.where(within, rates, np.inf).min(axis=-1), short)
    return np.asarray(slow.min(axis=1))


def hottest(shown: Shown) -> Floats:
    """Hottest reading of any mould sensor. (runs,) [K]"""
    return np.asarray(shown.mould.max(axis=(1, 2)))


def hottest_heater(shown: Shown) -> Floats:
    """Hottest heater. (runs,) [K]"""
    return np.asarray(shown.heater.max(axis=(1, 2)))


def furthest_ahead(shown: Shown) -> Floats:
    """How far a heater was ahead of its mould sensor. (runs,) [K]"""
    return np.asarray((shown.heater - shown.mould).max(axis=(1, 2)))


def proven_dwell(shown: Shown, limits: CureLimits, narrower: float) -> Floats:
    """Longest unbroken time with every mould sensor in the band drawn in by so much [K], of each run. (runs,) [s]"""
    first, last = _longest(_inside(shown, limits, narrower))
    return np.where(last >= first, (last - first) * shown.step, 0.0)


def whole_stay(shown: Shown, limits: CureLimits, wider: float) -> Floats:
    """From the first sample in the band widened by so much [K] to the last. (runs,) [s]"""
    held = _inside(shown, limits, -wider)
    there = held.any(axis=-1)
    last = held.shape[-1] - 1 - held[:, ::-1].argmax(axis=-1)
    return np.where(there, (last - held.argmax(axis=-1)) * shown.step, 0.0)


def widest_spread(shown: Shown, limits: CureLimits) -> Floats:
    """Hottest less coldest mould sensor within the dwell, of each run; infinite without a dwell. (runs,) [K]"""
    first, last = _longest(_inside(shown, limits, 0.0))
    places = np.arange(shown.mould.shape[-1])
    within = (places >= first[:, None]) & (places <= last[:, None])
    spread = shown.mould.max(axis=1) - shown.mould.min(axis=1)
    widest = np.where(within, spread, -np.inf).max(axis=-1)
    return np.where(within.any(axis=-1), widest, np.inf)


def dwell_begins(shown: Shown, limits: CureLimits) -> Floats:
    """When the slowest mould sensor enters the band for its longest stay; not a number without one. (runs,) [s]"""
    first, last = _longest(_inside(shown, limits, 0.0))
    return np.where(last >= first, shown.seconds[np.maximum(first, 0)], np.nan)


def released(shown: Shown, release: float) -> Floats:
    """When the last mould sensor falls below the release temperature [K]; not a number where none does. (runs,) [s]"""
    hot: Bools = np.asarray((shown.mould >= release).any(axis=1))
    after = hot.shape[-1] - hot[:, ::-1].argmax(axis=-1)
    cold = hot.any(axis=-1) & (after < hot.shape[-1])
    return np.where(cold, shown.seconds[np.minimum(after, hot.shape[-1] - 1)], np.nan)


def _inside(shown: Shown, limits: CureLimits, narrower: float) -> Bools:
    low, high = limits.target - limits.below + narrower, limits.target + limits.above - narrower
    return np.asarray(((shown.mould >= low) & (shown.mould <= high)).all(axis=1))


def _longest(held: Bools) -> tuple[np.ndarray, np.ndarray]:
    """First and last sample of the longest run of True in each row; last before first where there is none."""
    count = np.zeros(held.shape[0], dtype=np.int64)
    best, at = count.copy(), count.copy()
    for place in range(held.shape[-1]):
        count = np.where(held[:, place], count + 1, 0)
        longer = count > best
        best, at = np.where(longer, count, best), np.where(longer, place, at)
    return np.asarray(at - best + 1), np.asarray(np.where(best > 0, at, -1))


def _count(shown: Shown, window: float) -> int:
    return max(1, int(np.ceil(window / shown.step - 1e-9)))


def _rates(shown: Shown, window: float) -> Floats:
    count = _count(shown, window)
    rates: Floats = (shown.mould[..., count:] - shown.mould[..., :-count]) / (count * shown.step)
    return rates


def _first(true: Bools) -> np.ndarray:
    """First True along the last axis, the last place where there is none."""
    return np.asarray(np.where(true.any(axis=-1), true.argmax(axis=-1), true.shape[-1] - 1))


def _last_before(true: Bools, place: np.ndarray) -> np.ndarray:
    """Last True before a place, -1 where there is none."""
    seen = true & (np.arange(true.shape[-1]) < place[..., None])
    return np.asarray(np.where(seen.any(axis=-1), true.shape[-1] - 1 - seen[..., ::-1].argmax(axis=-1), -1))
