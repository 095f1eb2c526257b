"""A mould sensor that departs from the others: which of six explanations fits, two the process, four the sensor.

Each explanation is a curve or a sum of curves whose size is not known beforehand. Its share is the evidence for it
(`engine/statistics/explanations`) times the share it had before.
"""

from collections.abc import Iterator
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from bladewright.engine.metrology.thermocouple import TYPES
from bladewright.engine.metrology.thermocouple_circuit import shown_temperature
from bladewright.engine.statistics.explanations import likeliest_sizes, log_evidence, shares_of
from bladewright.errors import OutsideValidity
from bladewright.evidence.records import Floats
from bladewright.proof.sensor_readings import Readings, middle_of
from bladewright.proof.sensor_suspicion import Kind

Samples = NDArray[np.int64]

ZONE, CHANGED = "zone", "zone changed"  # the process
NONE = "none of these"
OFFSET: Kind = "constant offset"
DRIFT: Kind = "drift"
STEP: Kind = "cold-junction step"
WRONG_TYPE: Kind = "wrong thermocouple type"
FAULTS: dict[str, Kind] = {kind: kind for kind in (OFFSET, DRIFT, STEP, WRONG_TYPE)}
#: share of each before anything is read: a zone that lags or runs warmer is what departs most often (our own choice)
BEFORE = {ZONE: 0.50, CHANGED: 0.25, NONE: 0.05, OFFSET: 0.05, DRIFT: 0.05, STEP: 0.05, WRONG_TYPE: 0.05}
#: what a departure scatters by that none of the curves fits, each as likely (our own choice) [K]
SCATTERS = (2.0, 5.0, 10.0, 20.0, 50.0)
#: share kept back even so, because nothing read from a log alone is certain (our own choice)
UNSURE = 0.01
#: how large each may be expected (standard deviation, our own choice)
GAIN, LAG = 0.03, 120.0  # a zone's share of the rise above the room [1]; how far it lags [s]
CHANGE = 15.0  # a zone whose heater or contact was lost [K]
OFF = 3.0  # offset, drift by the end, step [K]
#: what none of the curves explains [K], our own choice
MISFIT = 1.0
#: how quickly a zone's mould can cool or warm, by its time constant [s] (common practice, no source)
CHANGES = (300.0, 900.0, 2700.0)
#: a step is there within one sample: this share of it at least (our own choice)
SHARP = 0.6
BESIDE = 25  # samples of the log on either side that a step is seen by, so that one noisy reading is none
FEWEST = 12  # samples to weigh explanations by
#: a log that begins warmer than this says nothing of the sensors at room temperature, which is then taken to be
#: the next; a wrong type shows by its rise, so less of one than the third tells nothing [K]; our own choice
COLD, ROOM, RISE = 313.15, 294.15, 40.0


@dataclass(frozen=True, slots=True)
class Explained:
    """One sensor against the middle of the others."""

    place: int  # among the mould sensors
    shares: dict[str, float]
    fault: Kind | None  # the likeliest fault; None where all of them together are less likely than the rest
    size: float  # of the likeliest one's own curve, a zone's lag and warmth left out [K]
    sample: int | None  # where it begins, by number of the sample in the log; None: throughout
    greatest: float  # furthest it departs [K]
    words: str  # what the size means

    @property
    def no_fault(self) -> float:
        """Share of the explanations that are no sensor's fault."""
        return self.shares[ZONE] + self.shares[CHANGED] + self.shares[NONE]


@dataclass(frozen=True, slots=True, eq=False)
class _Curves:
    """The alternatives of one explanation: (g, n, p) curves and what each begins with."""

    kind: str
    shapes: Floats
    widths: Floats
    fixed: Floats  # (g, n) what is there whatever the sizes [K]
    begins: tuple[int, ...]  # number among the spread-out samples, -1: throughout
    said: tuple[str, ...]
    of_all: int  # alternatives there could have been, those that were ruled out at sight included


def explained(readings: Readings, place: int, others: list[int]) -> Explained | None:
    """The likeliest explanation of a sensor's departure from the middle of some others; None if too little is there."""
    middle = middle_of(readings.values[:, others])
    both = ~np.isnan(middle) & ~np.isnan(readings.values[:, place])
    if np.count_nonzero(both) < FEWEST:
        return None
    middle, seconds = middle[both], readings.seconds[both]
    departs = readings.values[both, place] - middle
    samples = readings.samples[both]
    found = list(_explanations(readings, place, middle, departs, seconds, samples))
    evidence = [_evidence(departs, one) for one in found]
    whole = [float(np.logaddexp.reduce(each) - np.log(one.of_all)) for one, each in zip(found, evidence, strict=True)]
    kinds = [*(one.kind for one in found), NONE]
    weighed = shares_of(np.array([*whole, _scattered(departs)]), np.array([BEFORE[kind] for kind in kinds]))
    shares = {kind: (1.0 - UNSURE) * float(share) for kind, share in zip(kinds, weighed, strict=True)}
    faults = sum(shares[kind] for kind in FAULTS)
    asked = [one.kind in FAULTS for one in found] if faults > 0.5 * (1.0 - UNSURE) else [True] * len(found)
    at = max((at for at, it_is in enumerate(asked) if it_is), key=lambda at: shares[found[at].kind])
    best, which = found[at], int(np.argmax(evidence[at]))
    sizes = likeliest_sizes(departs - best.fixed[which], best.shapes[which], best.widths, MISFIT)
    own = best.fixed[which] + best.shapes[which][:, 2:] @ sizes[2:]
    far = int(np.argmax(np.abs(own)))
    begins = best.begins[which]
    return Explained(
        place,
        shares,
        FAULTS.get(best.kind) if faults > 0.5 * (1.0 - UNSURE) else None,
        float(own[far]),
        None if begins < 0 else int(samples[begins]),
        float(departs[int(np.argmax(np.abs(departs)))]),
        best.said[which],
    )


def _scattered(departs: Floats) -> float:
    """Logarithm of the evidence that a departure follows no curve at all."""
    nothing = np.zeros((1, len(departs), 1))
    each = [float(log_evidence(departs, nothing, np.ones(1), scatter)[0]) for scatter in SCATTERS]
    return float(np.logaddexp.reduce(each) - np.log(len(each)))


def _evidence(departs: Floats, curves: _Curves) -> Floats:
    if not len(curves.shapes):
        return np.array([-np.inf])
    if not curves.fixed.any():
        return log_evidence(departs, curves.shapes, curves.widths, MISFIT)
    return np.array([
        float(log_evidence(departs - fixed, shapes[None], curves.widths, MISFIT)[0])
        for shapes, fixed in zip(curves.shapes, curves.fixed, strict=True)
    ])  # fmt: skip


def _explanations(
    readings: Readings, place: int, middle: Floats, departs: Floats, seconds: Floats, samples: Samples
) -> Iterator[_Curves]:
    """Every explanation; each may have a zone's lag and warmth beside it."""
    coldest = float(middle.min())
    room = coldest if coldest <= COLD else ROOM
    zone = np.column_stack((middle - room, -np.gradient(middle, seconds)))
    widths = np.array([GAIN, LAG])
    one, span = np.ones(len(middle)), seconds - seconds[0]
    nothing = np.zeros((1, len(middle)))

    def with_zone(curves: list[Floats]) -> Floats:
        return np.array([np.column_stack((zone, curve)) for curve in curves])

    yield _Curves(ZONE, zone[None], widths, nothing, (-1,), ("a zone that lags or runs warmer",), 1)
    wide = np.append(widths, OFF)
    yield _Curves(OFFSET, with_zone([one]), wide, nothing, (-1,), ("the same cold and hot",), 1)
    yield _Curves(DRIFT, with_zone([span / span[-1]]), wide, nothing, (-1,), ("growing with time, hot or cold",), 1)
    starts = range(1, len(middle) - 2)
    grid = [(at, wait) for at in starts for wait in CHANGES]
    later = [-np.expm1(-np.maximum(span - span[at], 0.0) / wait) for at, wait in grid]
    yield _Curves(
        CHANGED, with_zone(later), np.append(widths, CHANGE), np.zeros((len(grid), len(middle))),
        tuple(at for at, _ in grid), ("a zone whose heat or contact changed",) * len(grid), len(grid),
    )  # fmt: skip
    sharp = _sharp_places(readings, place, middle, departs, samples)
    steps = [np.where(np.arange(len(middle)) >= at, 1.0, 0.0) for at in sharp]
    yield _Curves(
        STEP, with_zone(steps) if steps else np.zeros((0, len(middle), 3)), wide, np.zeros((len(steps), len(middle))),
        sharp, ("from one sample to the next, and it stayed",) * len(steps), len(middle) - 1,
    )  # fmt: skip
    rises = coldest <= COLD and float(middle.max()) - coldest >= RISE
    wrong = list(_wrong_types(middle, room)) if rises else []
    yield _Curves(
        WRONG_TYPE, np.repeat(zone[None], len(wrong), axis=0), widths,
        np.array([departs for departs, _ in wrong]).reshape(len(wrong), len(middle)), (-1,) * len(wrong),
        tuple(said for _, said in wrong), max(1, len(wrong)),
    )  # fmt: skip


def _wrong_types(middle: Floats, room: float) -> Iterator[tuple[Floats, str]]:
    """What each type read as another would show beside the others, the terminals in a room as cold as the mould was."""
    for wire in TYPES:
        for selected in TYPES:
            if wire == selected:
                continue
            try:
                shown = shown_temperature(middle, room, wire, selected, room)
            except OutsideValidity:
                continue
            yield shown - middle, f"as type {wire} read as {selected}"


def _sharp_places(readings: Readings, place: int, middle: Floats, departs: Floats, samples: Samples) -> tuple[int, ...]:
    """Where a departure changed within one sample of the log, and stayed, as far as it did between two looked at."""
    found = []
    for at in np.flatnonzero(np.abs(np.diff(departs)) > 2.0 * MISFIT) + 1:
        first, last = int(samples[at - 1]), int(samples[at])
        others = np.linspace(middle[at - 1], middle[at], last - first + 1)
        between = readings.log.values[first : last + 1, readings.columns[place]] - others
        jump = departs[at] - departs[at - 1]
        moves = np.diff(between) * np.sign(jump)
        if np.isnan(moves).all():
            continue
        edge = int(np.nanargmax(moves)) + 1
        before, after = between[max(0, edge - BESIDE) : edge], between[edge : edge + BESIDE]
        if float(np.nanmedian(after) - np.nanmedian(before)) * np.sign(jump) >= SHARP * abs(jump):
            found.append(int(at))
    return tuple(found)
