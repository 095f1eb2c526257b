"""Sensors that say nothing, and sensors that say the same thing too long while others move."""

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from bladewright.evidence.records import CureLog, Floats
from bladewright.figures import Where


@dataclass(frozen=True, slots=True)
class Stretch:
    """One sensor over a stretch of samples, both ends included."""

    column: int
    first: int
    last: int


def where(log: CureLog, stretch: Stretch) -> Where:
    """The stretch as a reader of the file finds it."""
    return Where(
        log.source.file,
        log.channels[stretch.column].name,
        int(log.rows[stretch.first]),
        log.time_of(stretch.first),
        log.time_of(stretch.last) if stretch.last > stretch.first else "",
    )


def stretches_of(mask: NDArray[np.bool_]) -> NDArray[np.int64]:
    """First and last sample of every run of True. (k, 2)"""
    padded = np.zeros(len(mask) + 2, dtype=np.int8)
    padded[1:-1] = mask
    edges = np.flatnonzero(padded[1:] != padded[:-1]).reshape(-1, 2)
    edges[:, 1] -= 1
    return edges


def silent_stretches(log: CureLog, columns: tuple[int, ...], rows: NDArray[np.int64]) -> tuple[Stretch, ...]:
    """Where sensors gave no reading, looked for in the rows that have such a gap."""
    found: list[Stretch] = []
    for column in columns:
        gone = rows[np.isnan(log.values[rows, column])]
        if len(gone):
            parts = np.flatnonzero(np.diff(gone) > 1)
            firsts, lasts = gone[np.concatenate(([0], parts + 1))], gone[np.concatenate((parts, [len(gone) - 1]))]
            found += [Stretch(column, int(a), int(b)) for a, b in zip(firsts, lasts, strict=True)]
    return tuple(found)


def frozen_stretches(log: CureLog, columns: tuple[int, ...], samples: int, movement: float) -> tuple[Stretch, ...]:
    """Where a sensor repeats one reading for so many samples while another temperature moves so far [K]."""
    heat = tuple(i for i, channel in enumerate(log.channels) if channel.role in ("mould", "heater"))
    found: list[Stretch] = []
    for column in columns:
        still = _still(log.values[:, column], samples)
        if not len(still):
            continue
        moved = _greatest_movement(log.values, [other for other in heat if other != column], still)
        found += [Stretch(column, int(a), int(b)) for a, b in still[moved >= movement * (1.0 - 1e-9)]]
    return tuple(found)


def _still(readings: Floats, samples: int) -> NDArray[np.int64]:
    """Stretches of so many identical readings or more. (k, 2)"""
    same = readings[1:] == readings[:-1]
    steps = samples - 1
    if len(same) < steps:
        return np.zeros((0, 2), dtype=np.int64)
    enough = same.copy()  # enough[i]: so many steps from i on are all the same
    reach = 1
    while reach < steps:
        more = min(reach, steps - reach)
        enough = enough[: len(enough) - more] & enough[more:]
        reach += more
    if not enough.any():
        return np.zeros((0, 2), dtype=np.int64)
    found = stretches_of(same)
    found = found[found[:, 1] - found[:, 0] + 1 >= steps]
    found[:, 1] += 1
    return found


def _greatest_movement(values: Floats, others: list[int], still: NDArray[np.int64]) -> Floats:
    """How far the liveliest other sensor moved over each stretch [K]."""
    moved = np.zeros(len(still))
    edges = np.column_stack((still[:, 0], still[:, 1] + 1)).ravel()
    edges = edges[edges < len(values)]  # a stretch to the end needs no end
    for other in others:
        readings = values[:, other]
        span = np.fmax.reduceat(readings, edges)[::2] - np.fmin.reduceat(readings, edges)[::2]
        np.fmax(moved, span, out=moved)
    return moved


def cells_of(stretches: tuple[Stretch, ...], columns: tuple[int, ...], count: int) -> NDArray[np.bool_]:
    """Which readings of some columns lie in a stretch. (count, number of columns)"""
    cells = np.zeros((count, len(columns)), dtype=bool, order="F")
    for place, column in enumerate(columns):
        mine = [(stretch.first, stretch.last + 1) for stretch in stretches if stretch.column == column]
        if mine:
            steps = np.zeros(count + 1, dtype=np.int64)
            for sign, at in zip((1, -1), zip(*mine, strict=True), strict=True):
                np.add.at(steps, list(at), sign)
            cells[:, place] = np.cumsum(steps[:-1]) > 0
    return cells
