"""A plan laid beside a log: a run that does just as planned, one held up, one not begun. Closed forms; no source."""

import dataclasses
import datetime

import numpy as np
import pytest

from bladewright.evidence.records import Channel, CureLog, Source
from bladewright.making.cure_plan import CurePlan
from bladewright.making.plan_beside import plan_beside


def log_of(plan: CurePlan, waited: float, held_up: float = 0.0) -> CureLog:
    """A log of one drawn run, begun so long after the logger [s] and held up so long on the way into the band [s]."""
    minutes = np.arange(0.0, plan.run.seconds[-1] / 60.0 + 60.0)
    floor = plan.limits.target - plan.limits.below
    course = np.median(plan.shown.mould, axis=0)
    arrives = plan.run.seconds[int(np.argmax(course.min(axis=0) >= floor - 5.0))]
    since = minutes * 60.0 - waited
    there = np.where(since > arrives, np.maximum(since - held_up, arrives), since)
    values = np.column_stack([np.interp(there, plan.run.seconds, zone) for zone in course])
    return CureLog(
        source=Source("run.csv", "0" * 64),
        description="by hand",
        start=datetime.datetime(2026, 3, 2, 8, 0, tzinfo=datetime.UTC),
        seconds=minutes * 60.0,
        channels=tuple(Channel(f"M{zone}", "mould", str(zone)) for zone in range(1, 7)),
        values=values,
        rows=np.arange(2, len(minutes) + 2),
    )


def test_a_run_that_does_as_planned_lies_on_the_plan(plan: CurePlan) -> None:
    log = log_of(plan, waited=13.0 * 60.0)
    beside = plan_beside(plan, log)
    assert [one.told for one in beside.moments] == ["as planned"] * 3
    low, high = (np.array(curve.y, dtype=float) for curve in beside.curves[1:])
    x = np.array(beside.curves[1].x)
    inside = (x > log.seconds[0]) & (x < log.seconds[-1])
    hottest = np.interp(x, log.seconds, log.values.max(axis=1))
    coldest = np.interp(x, log.seconds, log.values.min(axis=1))
    assert (hottest[inside] <= high[inside] + 3.0).all()
    assert (coldest[inside] >= low[inside] - 3.0).all()


def test_a_run_that_was_held_up_says_by_how_much(plan: CurePlan) -> None:
    beside = plan_beside(plan, log_of(plan, waited=0.0, held_up=30.0 * 60.0))
    slow = beside.moments[0]
    assert slow.came is not None
    assert slow.came.value - slow.planned.value == pytest.approx(30.0, abs=2.0)
    assert "later than planned" in beside.told


def test_a_run_under_way_has_what_came_and_what_did_not(plan: CurePlan) -> None:
    log = log_of(plan, waited=0.0)
    half = len(log.seconds) // 3
    log = dataclasses.replace(log, seconds=log.seconds[:half], values=log.values[:half], rows=log.rows[:half])
    first, _, last = plan_beside(plan, log).moments
    assert first.came is not None
    assert last.came is None


def test_before_heat_there_is_nothing_to_lay_beside(plan: CurePlan) -> None:
    log = log_of(plan, waited=0.0)
    cold = dataclasses.replace(log, values=np.full_like(log.values, plan.room))
    assert plan_beside(plan, cold).curves == ()
    assert "not on yet" in plan_beside(plan, cold).told


def test_a_lost_sensor_is_not_in_the_band(plan: CurePlan) -> None:
    log = log_of(plan, waited=0.0)
    values = log.values.copy()
    values[30:, 3] = np.nan
    beside = plan_beside(plan, dataclasses.replace(log, values=values))
    assert beside.moments[0].came is None
