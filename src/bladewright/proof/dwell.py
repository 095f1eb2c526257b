"""The dwell: from the sample where the slowest mould sensor is in the band to the last before the first leaves it."""

from dataclasses import dataclass

import numpy as np

from bladewright.drawing.limits import CureLimits
from bladewright.evidence.records import CureLog
from bladewright.proof.mould import Bools, Mould, read_mould

#: a reading on the band's edge is in; this is what unit conversion can add [K]
EDGE = 1e-6


@dataclass(frozen=True, slots=True)
class Dwell:
    """The longest unbroken run of samples in which every mould sensor is in the band. Runs are never added."""

    first: int  # sample
    last: int
    start: float  # [s] from the log's first row
    end: float  # [s]
    crossed: float  # [s] extended to where straight lines between samples cross the band's edge

    @property
    def seconds(self) -> float:
        """How long, by samples alone."""
        return self.end - self.start


def dwell_of(log: CureLog, limits: CureLimits) -> Dwell | None:
    """The dwell a log proves, or None; what a chart marks."""
    if not log.with_role("mould"):
        return None
    return proven_dwell(read_mould(log, limits), limits)


def proven_dwell(mould: Mould, limits: CureLimits, narrower: float = 0.0) -> Dwell | None:
    """The longest run with every sensor read and in the band, its edges drawn in by ``narrower`` [K]."""
    low, high = band(limits, narrower)
    return _longest(mould, inside(mould, low, high) & ~mould.doubted, low, high)


def possible_dwell(mould: Mould, limits: CureLimits) -> Dwell | None:
    """The longest run if every sensor that could not be believed had been in the band: the best it can have been."""
    low, high = band(limits, 0.0)
    return _longest(mould, inside(mould, low, high), low, high)


def whole_stay(mould: Mould, limits: CureLimits, wider: float = 0.0) -> float:
    """From the first sample in the band to the last, breaks and holes included: the longest it can have been. [s]"""
    low, high = band(limits, -wider)
    rows = np.flatnonzero(inside(mould, low, high))
    return float(mould.log.seconds[rows[-1]] - mould.log.seconds[rows[0]]) if len(rows) else 0.0


def band(limits: CureLimits, narrower: float) -> tuple[float, float]:
    """Lowest and highest temperature that is in, limits included. [K]"""
    return limits.target - limits.below + narrower - EDGE, limits.target + limits.above - narrower + EDGE


def inside(mould: Mould, low: float, high: float) -> Bools:
    """Whether every sensor that can be believed is between two temperatures [K]."""
    held: Bools = (mould.coldest >= low) & (mould.hottest <= high)
    return held


def _longest(mould: Mould, held: Bools, low: float, high: float) -> Dwell | None:
    """The longest run of True that no hole in the log breaks."""
    firsts, lasts = _runs(mould, held)
    if not len(firsts):
        return None
    seconds = mould.log.seconds
    at = int(np.argmax(seconds[lasts] - seconds[firsts]))
    first, last = int(firsts[at]), int(lasts[at])
    start, end = float(seconds[first]), float(seconds[last])
    crossed = _crossing(mould, first, -1, low, high) + end - start + _crossing(mould, last, 1, low, high)
    return Dwell(first, last, start, end, crossed)


def _runs(mould: Mould, held: Bools) -> tuple[np.ndarray, np.ndarray]:
    """First and last sample of every run, a hole in the log ending one and beginning the next."""
    padded = np.zeros(len(held) + 2, dtype=np.int8)
    padded[1:-1] = held
    edges = np.flatnonzero(padded[1:] != padded[:-1])
    firsts, lasts = edges[0::2], edges[1::2] - 1
    broken = mould.holes[held[mould.holes] & held[mould.holes + 1]]
    return np.sort(np.concatenate((firsts, broken + 1))), np.sort(np.concatenate((lasts, broken)))


def _crossing(mould: Mould, edge: int, step: int, low: float, high: float) -> float:
    """Time beyond a run's edge until the first sensor is out, by straight lines; none across a hole or a doubt. [s]"""
    beyond = edge + step
    if not 0 <= beyond < len(mould.log.seconds) or mould.doubted[beyond] or min(edge, beyond) in mould.holes:
        return 0.0
    within, outside = mould.believed(np.array([edge, beyond]))
    out = (outside < low) | (outside > high)
    if not out.any():
        return 0.0
    limit = np.where(outside < low, low + EDGE, high - EDGE)[out]
    share = (limit - within[out]) / (outside[out] - within[out])
    return float(np.clip(share, 0.0, 1.0).min() * abs(mould.log.seconds[beyond] - mould.log.seconds[edge]))
