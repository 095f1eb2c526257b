"""The chart of a cure as plain data: findings at their own place, peaks kept, units of whoever looks. No source."""

import dataclasses

import numpy as np
import pytest

from bladewright.figures import Curve, Outcome
from bladewright.papers.screen_cure import screen_cure
from bladewright.proof.cure import judge_cure
from bladewright.proof.cure_drawn import AROUND, cure_drawn
from bladewright.proof.finding_places import Place, finding_places
from tests.proof.invented_blade import DRAWING, a_log, changed, good_cure, some_limits

LIMITS = DRAWING.limits.cure
assert LIMITS is not None


def lost_zone() -> tuple[object, tuple[Place, ...]]:
    log = changed(good_cure(), "M4", lambda minutes, values: np.where(minutes >= 98.0, np.nan, values))
    return log, finding_places(log, judge_cure(log, LIMITS))  # type: ignore[arg-type]


def test_a_finding_stands_at_its_time_its_channel_and_its_reading() -> None:
    # one reading of 262 degF at minute 100, where 260 is never to be passed
    log = changed(good_cure(), "M1", lambda minutes, values: np.where(minutes == 100.0, (262.0 + 459.67) / 1.8, values))
    findings = judge_cure(log, LIMITS)  # type: ignore[arg-type]
    number = 1 + next(at for at, one in enumerate(findings) if one.rule == "cure: overshoot")
    (place,) = [one for one in finding_places(log, findings) if one.number == number]
    assert (place.outcome, place.channel, place.start) == (Outcome.FAIL, "M1", 6000.0)
    assert place.began == "2026-03-02 14:40 UTC"
    for system, height in (("inch", 262.0), ("metric", 127.78)):
        drawn = cure_drawn(log, LIMITS, system, (place,))  # type: ignore[arg-type]
        assert drawn.marks[0].start == 100.0
        assert drawn.marks[0].height == pytest.approx(height, abs=0.01)


def test_a_gap_has_a_beginning_an_end_and_no_height() -> None:
    log, places = lost_zone()
    drawn = cure_drawn(log, LIMITS, "inch", places)  # type: ignore[arg-type]
    (lost,) = [mark for mark in drawn.marks if "mould sensors" in mark.words]
    assert (lost.start, lost.end, lost.height) == (98.0, 199.0, None)


def test_a_log_without_a_clock_has_places_too() -> None:
    log = dataclasses.replace(
        changed(good_cure(), "M1", lambda minutes, values: np.where(minutes == 100.0, values + 10.0, values)),
        start=None,
    )
    assert any(place.start == 6000.0 for place in finding_places(log, judge_cure(log, LIMITS)))  # type: ignore[arg-type]
    assert cure_drawn(log, LIMITS, "inch").ticks[1][1] == ""


def test_a_close_look_is_around_the_finding_and_not_beyond_the_log() -> None:
    log, places = lost_zone()
    number = next(one.number for one in places if one.rule == "cure: mould sensors")
    drawn = cure_drawn(log, LIMITS, "inch", places, look_at=number)  # type: ignore[arg-type]
    assert drawn.close == (98.0 - AROUND, 199.0 + AROUND)


def test_a_needle_in_a_long_log_is_drawn() -> None:
    readings = np.full(100_000, 120.0)
    readings[31_415] = 150.0
    log = a_log(np.arange(100_000.0) / 60.0, {"M1": readings})
    (curve,) = cure_drawn(log, some_limits(), "metric").temperature.curves
    assert len(curve.y) < 3_000
    assert curve.y[curve.x.index(round(31_415 / 60.0, 3))] == 150.0


def test_metric_and_inch_are_the_same_chart() -> None:
    inch, metric = (cure_drawn(good_cure(), LIMITS, system) for system in ("inch", "metric"))  # type: ignore[arg-type]
    assert (inch.temperature.y.unit, metric.temperature.y.unit) == ("degF", "degC")
    hot, warm = (max(value or 0.0 for value in one.temperature.curves[0].y) for one in (inch, metric))
    assert (hot - 32.0) / 1.8 == pytest.approx(warm, abs=0.02)
    assert metric.pressure is not None
    assert [level.words for level in metric.pressure.levels] == ["at least 241 kPa", "at most 345 kPa"]


def test_the_plan_stands_behind_in_the_same_units() -> None:
    plan = Curve("coldest mould sensor, planned", (0.0, 600.0), (300.0, None))
    (behind,) = cure_drawn(good_cure(), LIMITS, "metric", behind=(plan,)).behind
    assert (behind.x, behind.y) == ((0.0, 10.0), (26.9, None))


def test_the_screen_chart_numbers_the_findings_and_escapes_names() -> None:
    log, places = lost_zone()
    channels = [dataclasses.replace(one, name="<b>M1" if one.name == "M1" else one.name) for one in log.channels]  # type: ignore[attr-defined]
    log = dataclasses.replace(log, channels=tuple(channels))  # type: ignore[type-var]
    chart = screen_cure(cure_drawn(log, LIMITS, "inch", places))  # type: ignore[arg-type]
    names = {trace["name"] for trace in chart["data"]}
    assert "&lt;b&gt;M1" in names
    assert "<b>M1" not in names
    numbered = [number for trace in chart["data"] for number in trace.get("customdata", ())]
    at_the_foot = [int(note["text"][1:]) for note in chart["layout"]["annotations"] if note.get("name") == "finding"]
    assert sorted(numbered + at_the_foot) == sorted(one.number for one in places)
