"""A plan laid beside the log of a run: its curves moved to where the run's heat began, and what came sooner or later.

The plan is what drawn runs of the oven's model span; the log shows the tool, not the bondline. Neither judges a cure.
"""

from dataclasses import dataclass
from typing import Final

import numpy as np

from bladewright import units
from bladewright.design.cure_measures import dwell_begins, released
from bladewright.design.cure_model import schedule_of
from bladewright.drawing.limits import CureLimits
from bladewright.engine.arrays import Bools, Floats
from bladewright.engine.statistics.order import lower_by_order
from bladewright.evidence.records import CureLog
from bladewright.figures import Curve, Figure
from bladewright.making.cure_plan import CurePlan

POINTS: Final = 200  # of a curve; more would not be seen
#: of the way from room to band, where heat is taken to have begun if the drawing does not say; our own choice
BEGUN: Final = 0.2


@dataclass(frozen=True, slots=True)
class Beside:
    """One moment of a run: when it was planned and when it came, from the beginning of heat."""

    what: str
    planned: Figure
    came: Figure | None  # None: it has not come, or the log does not show it
    told: str


@dataclass(frozen=True, slots=True)
class PlanBeside:
    """The plan over the log's own time."""

    told: str
    curves: tuple[Curve, ...]  # [K] over seconds of the log
    moments: tuple[Beside, ...]


def plan_beside(plan: CurePlan, log: CureLog) -> PlanBeside:
    """Where the run's heat began, the plan begins; nothing is laid beside a log whose heat is not on."""
    readings = log.values[:, log.with_role("mould")]
    reference = _reference(plan)
    begun = _first(np.nan_to_num(readings, nan=-np.inf).max(axis=1, initial=-np.inf) > reference)
    if begun is None:
        return PlanBeside("Heat is not on yet, so the plan has no place beside the log.", (), ())
    planned_at = float(plan.run.seconds[int(np.argmax(np.median(plan.shown.mould.max(axis=1), axis=0) > reference))])
    offset = float(log.seconds[begun]) - planned_at
    moments = _moments(plan, log, readings, offset)
    late = [one.told for one in moments if one.came is not None and one.told != _AS_PLANNED]
    told = " ".join(late) or "So far everything came when it was planned, within what drawn runs span."
    return PlanBeside(told, _curves(plan, offset), moments)


_AS_PLANNED: Final = "as planned"


def _reference(plan: CurePlan) -> float:
    """The mould temperature [K] by which plan and run are laid one on the other."""
    limits = plan.limits
    if limits.heat_begins is not None and limits.heat_begins > plan.room:
        return limits.heat_begins
    return plan.room + BEGUN * (limits.target - limits.below - plan.room)


def _first(true: Bools) -> int | None:
    return int(np.argmax(true)) if true.any() else None


def _all(true: Bools) -> Bools:
    """Where every sensor is so. (n,)"""
    return np.asarray(true.all(axis=1))


def _curves(plan: CurePlan, offset: float) -> tuple[Curve, ...]:
    every = max(1, len(plan.run.seconds) // POINTS)
    seconds = plan.run.seconds[: _over(plan) : every]
    set_points = schedule_of(plan.schedule, plan.room)

    def curve(name: str, kelvin: Floats) -> Curve:
        return Curve(name, tuple((seconds + offset).tolist()), tuple(kelvin.tolist()))

    return (
        curve("planned set point", set_points.at(seconds)),
        curve("planned, coldest mould sensor", plan.shown.mould.min(axis=(0, 1))[: _over(plan) : every]),
        curve("planned, hottest mould sensor", plan.shown.mould.max(axis=(0, 1))[: _over(plan) : every]),
    )


def _over(plan: CurePlan) -> int:
    """Steps until every drawn run is cold enough to release; all of them where no such temperature is entered."""
    if plan.limits.release is None:
        return len(plan.run.seconds)
    times = released(plan.shown, plan.limits.release)
    if np.isnan(times).any():
        return len(plan.run.seconds)
    return int(np.searchsorted(plan.run.seconds, times.max())) + 1


def _moments(plan: CurePlan, log: CureLog, readings: Floats, offset: float) -> tuple[Beside, ...]:
    limits = plan.limits
    inside = _all(readings >= limits.target - limits.below)  # a sensor that is not read is not in
    came_in = _first(inside)
    planned = [
        ("slowest mould sensor in the band", dwell_begins(plan.shown, limits), came_in),
        ("first mould sensor out of the band again", _left(plan, limits), _left_again(readings, limits, came_in)),
    ]
    if limits.release is not None:
        planned.append(
            (
                "every mould sensor below release",
                released(plan.shown, limits.release),
                _released(readings, limits.release, came_in),
            )
        )
    return tuple(
        _beside(what, seconds, row, plan, log, offset) for what, seconds, row in planned if not np.isnan(seconds).any()
    )


def _left(plan: CurePlan, limits: CureLimits) -> Floats:
    """When the first mould sensor falls out of the band for good, of each drawn run. (runs,) [s]"""
    inside = np.asarray((plan.shown.mould >= limits.target - limits.below).all(axis=1))
    last = inside.shape[-1] - 1 - inside[:, ::-1].argmax(axis=-1)
    return np.where(inside.any(axis=-1), plan.shown.seconds[last], np.nan)


def _left_again(readings: Floats, limits: CureLimits, came_in: int | None) -> int | None:
    """The first row after all were in that some sensor is below the band, or is not read."""
    if came_in is None:
        return None
    out = _first(~_all(readings[came_in:] >= limits.target - limits.below))
    return None if out is None else came_in + out


def _released(readings: Floats, release: float, came_in: int | None) -> int | None:
    if came_in is None:
        return None
    cold = _first(_all(readings[came_in:] < release))
    return None if cold is None else came_in + cold


def _beside(what: str, planned: Floats, row: int | None, plan: CurePlan, log: CureLog, offset: float) -> Beside:
    early, late = float(lower_by_order(planned)), float(-lower_by_order(-planned))
    reach = 0.5 * (late - early) + plan.shown.step
    middle = 0.5 * (early + late)
    rests = [rest for rest in plan.rests if rest.on == "oven"]
    expected = Figure(
        f"{what}, planned", _minutes(middle), "min", _minutes(reach),
        method="middle and half width of what drawn runs span, from the beginning of heat",
        source="; ".join(str(rest) for rest in rests), validated=all(rest.source for rest in rests),
    )  # fmt: skip
    if row is None:
        return Beside(what, expected, None, "not yet, or not in the log")
    seconds = float(log.seconds[row]) - offset
    came = Figure(
        f"{what}, in the log", _minutes(seconds), "min", None,
        method="first row that shows it, from the beginning of heat", source=log.source.file,
    )  # fmt: skip
    return Beside(what, expected, came, _compared(what, seconds - middle, reach))


def _compared(what: str, later: float, reach: float) -> str:
    """Sooner or later than any drawn run, in words."""
    if abs(later) <= reach:
        return _AS_PLANNED
    way = "later" if later > 0.0 else "sooner"
    return f"{what[0].upper()}{what[1:]} {_minutes(abs(later)):.0f} min {way} than planned."


def _minutes(seconds: float) -> float:
    return units.from_si(seconds, "min", "time")
