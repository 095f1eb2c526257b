"""What the mould sensors say together: coldest and hottest at each sample, and when each could not be believed.

The log shows the tool, not the bondline.
"""

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from bladewright.drawing.limits import CureLimits
from bladewright.evidence.records import CureLog, Floats
from bladewright.proof.sensors import Stretch, cells_of, frozen_stretches, silent_stretches

Bools = NDArray[np.bool_]
Rows = NDArray[np.int64]

#: a step between samples of more than this many nominal intervals is a hole in the log (common practice, no source)
HOLE = 2.0
_TOGETHER = 16384  # rows looked at in one go, so that what is read stays near the processor


@dataclass(frozen=True, slots=True, eq=False)
class Mould:
    """The mould sensors' history. A frozen reading counts as no reading."""

    log: CureLog
    columns: tuple[int, ...]
    coldest: Floats  # (n,) of the sensors that can be believed; NaN where there is none [K]
    hottest: Floats  # (n,) [K]
    doubted: Bools  # (n,) some mould sensor has no reading to believe
    silent: tuple[Stretch, ...]
    frozen: tuple[Stretch, ...]
    frozen_cells: Bools | None  # (n, sensors) where a reading repeats while others move; None where none does
    holes: Rows  # samples after which the log has a hole

    def believed(self, rows: Rows | slice) -> Floats:
        """Readings of the mould sensors in some rows, NaN where they cannot be believed. [K]"""
        values: Floats = self.log.values[rows][:, self.columns]
        return values if self.frozen_cells is None else np.where(self.frozen_cells[rows], np.nan, values)


def read_mould(log: CureLog, limits: CureLimits) -> Mould:
    """The mould sensors of a log, judged for silence and freezing."""
    columns = log.with_role("mould")
    coldest, hottest = _envelope(log.values, columns)
    silent = silent_stretches(log, columns, np.flatnonzero(np.isnan(coldest)))
    frozen = frozen_stretches(log, columns, limits.frozen_samples, limits.frozen_movement)
    cells = cells_of(frozen, columns, len(log.seconds)) if frozen else None
    doubted = np.isnan(coldest) if cells is None else np.isnan(coldest) | cells.any(axis=1)
    steps = np.diff(log.seconds)
    holes = np.flatnonzero(steps > HOLE * limits.sample_interval * (1.0 + 1e-9))
    mould = Mould(log, columns, coldest, hottest, doubted, silent, frozen, cells, holes)
    rows = np.flatnonzero(doubted)
    if len(rows):
        believed = mould.believed(rows)
        coldest[rows] = np.fmin.reduce(believed, axis=1)
        hottest[rows] = np.fmax.reduce(believed, axis=1)
    return mould


def _envelope(values: Floats, columns: tuple[int, ...]) -> tuple[Floats, Floats]:
    """Least and greatest of some columns, NaN as soon as one is."""
    coldest = values[:, columns[0]].copy()
    hottest = coldest.copy()
    for start in range(0, len(values), _TOGETHER):
        part = slice(start, start + _TOGETHER)
        low, high = coldest[part], hottest[part]
        for column in columns[1:]:
            readings = values[part, column]
            np.minimum(low, readings, out=low)
            np.maximum(high, readings, out=high)
    return coldest, hottest


def heaters_of(mould: Mould, sensor: int) -> tuple[int, ...]:
    """Heaters of a mould sensor's zone, and of its half of the mould where both name one."""
    mine = mould.log.channels[sensor]
    return tuple(
        heater
        for heater in mould.log.with_role("heater")
        for other in (mould.log.channels[heater],)
        if mine.zone and other.zone == mine.zone and (not mine.side or not other.side or mine.side == other.side)
    )
