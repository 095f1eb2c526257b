"""Mould sensors side by side, few enough samples to weigh explanations by, what is plainly no reading left out."""

from dataclasses import dataclass, replace

import numpy as np
from numpy.typing import NDArray

from bladewright.evidence.records import CureLog, Floats
from bladewright.proof.mould import Mould

#: samples an explanation is weighed by: enough to tell shapes apart, few enough to be independent (our own choice)
SAMPLES = 80
#: further from all others than this, a thermocouple is open and its logger at the end of its range (our own choice) [K]
OPEN_APART = 150.0
HOT = 5.0  # [K] below the highest the middle of the sensors ever was, the mould counts as still heated (our own choice)


@dataclass(frozen=True, slots=True, eq=False)
class Readings:
    """Mould sensors at evenly spread samples; NaN where there is none, frozen, or far from all others."""

    log: CureLog
    columns: tuple[int, ...]
    samples: NDArray[np.int64]  # numbers of the samples in the log
    seconds: Floats  # (n,) [s]
    values: Floats  # (n, sensors) [K]

    def heated(self) -> "Readings":
        """Without the cooling at the end: nobody drives the zones there, and they part by what each is made of."""
        middle = middle_of(self.values)
        if np.isnan(middle).all():
            return self
        hot = np.flatnonzero(middle >= np.nanmax(middle) - HOT)
        last = int(hot[-1]) + 1
        return replace(self, samples=self.samples[:last], seconds=self.seconds[:last], values=self.values[:last])

    def name(self, place: int) -> str:
        """Name of a sensor by its place among the columns."""
        return self.log.channels[self.columns[place]].name


def spread_out(mould: Mould, most: int = SAMPLES) -> Readings:
    """At most so many samples of the mould sensors, evenly spread, first and last among them."""
    count = len(mould.log.seconds)
    samples = np.unique(np.linspace(0, count - 1, min(count, most)).round().astype(np.int64))
    values = mould.believed(samples).copy()
    if values.shape[1] > 1:
        values[apart(values)] = np.nan
    return Readings(mould.log, mould.columns, samples, mould.log.seconds[samples], values)


def apart(values: Floats) -> NDArray[np.bool_]:
    """Readings further from the middle of the others at that sample than any mould can be. (n, sensors)"""
    found = np.zeros(values.shape, dtype=bool)
    for place in range(values.shape[1]):
        middle = middle_of(np.delete(values, place, axis=1))
        found[:, place] = np.abs(values[:, place] - middle) > OPEN_APART
    return found


def middle_of(values: Floats) -> Floats:
    """Median of each row's readings that are there, NaN where none is. [K]"""
    ordered = np.sort(values, axis=1)  # NaN goes last
    there = np.count_nonzero(~np.isnan(values), axis=1)
    rows = np.arange(len(values))
    low, high = np.maximum(there - 1, 0) // 2, there // 2
    middle: Floats = 0.5 * (ordered[rows, low] + ordered[rows, np.minimum(high, values.shape[1] - 1)])
    return np.where(there > 0, middle, np.nan)
