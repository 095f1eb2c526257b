"""Runs a sensor found off may have reached. Tables worked by hand: a dwell of 60 min that some kelvins undo."""

import dataclasses
import datetime
import functools

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from bladewright.errors import BadInput
from bladewright.evidence.calibration import Calibration
from bladewright.evidence.oven_file import Instrument
from bladewright.evidence.records import CureLog, Source
from bladewright.figures import Outcome
from bladewright.proof.affected_runs import (
    Run,
    SensorFound,
    review_affected_runs,
    worst_outcome,
)
from bladewright.proof.calibrated import judge_calibrated_cure
from bladewright.proof.cure import judge_cure
from tests.proof.invented_blade import a_log, some_limits

UTC = datetime.UTC
LAST_GOOD = datetime.datetime(2026, 1, 10, tzinfo=UTC)
FOUND = datetime.datetime(2026, 6, 10, tzinfo=UTC)
MINUTES = np.arange(0.0, 106.0, 5.0)
#: in the band of 118 to 124 degC from 20 to 80 min: exactly the 60 asked
SHAPE = np.interp(MINUTES, [0.0, 15.0, 20.0, 80.0, 85.0, 105.0], [80.0, 115.0, 121.0, 121.0, 115.0, 90.0])


def a_run(level: float = 0.0, day: int = 2, channel: str | None = "M1", name: str = "log.csv") -> Run:
    """A run of two mould sensors; the first holds its dwell at 121 degC and ``level`` more."""
    first = np.where((MINUTES >= 20.0) & (MINUTES <= 80.0), SHAPE + level, SHAPE)
    log = a_log(MINUTES, {"M1": first, "M2": SHAPE})
    start = datetime.datetime(2026, 3, day, 8, 0, tzinfo=UTC)
    log = dataclasses.replace(log, start=start, source=dataclasses.replace(log.source, file=name))
    return Run(log, some_limits(), ("FM31-0001",), channel)


def found(offset: float, **other: object) -> SensorFound:
    return dataclasses.replace(SensorFound("TC-7", offset, LAST_GOOD, FOUND), **other)  # type: ignore[arg-type]


def outcomes(run: Run, offset: float) -> dict[str, Outcome]:
    (review,) = review_affected_runs(found(offset), [run]).reviewed
    return {finding.rule: finding.outcome for finding in review.findings}


def test_four_kelvin_high_undoes_a_dwell_that_was_held_at_the_middle() -> None:
    # true 117 degC, below the floor of 118: no dwell; at half, 119, it stood
    review = review_affected_runs(found(4.0), [a_run()])
    (run,) = review.changed
    (dwell,) = [rule for rule in run.changed if rule.rule == "cure: dwell"]
    assert (dwell.before, dwell.after, dwell.share, dwell.channel) == (Outcome.PASS, Outcome.FAIL, 1.0, "M1")
    assert review.serials == ("FM31-0001",)
    assert "1 verdict" in review.told


def test_two_kelvin_high_changes_nothing_there() -> None:
    review = review_affected_runs(found(2.0), [a_run()])
    assert review.changed == ()
    assert "No verdict gets worse" in review.told


def test_a_sensor_that_read_low_lifts_no_fail() -> None:
    # read 117, so it failed; 4 low would have been 121 in truth, and still it fails
    run = a_run(level=-4.0)
    assert outcomes(run, 0.0)["cure: dwell"] is Outcome.FAIL
    assert outcomes(run, -4.0)["cure: dwell"] is Outcome.FAIL


def test_a_dwell_that_half_and_all_would_have_mended_still_fails() -> None:
    # 117 read, 4 low: 119 true at half, 121 at all, and it fails as it was read
    (review,) = review_affected_runs(found(-4.0), [a_run(level=-4.0)]).reviewed
    assert review.before is Outcome.FAIL
    assert review.after is Outcome.FAIL
    assert "cure: dwell" not in {one.rule for one in review.changed}


def test_runs_that_were_judged_through_calibrations_are_reviewed_through_them() -> None:
    # corrected by -1 K the dwell stood at 120; 2.5 K more and it is 117.5, below the floor of 118
    day = LAST_GOOD.date()
    held = Calibration(
        Source("tc-7.toml", "0" * 64), "TC-7", "M1", day, FOUND.date(), (350.0, 400.0), (-1.0, -1.0), 0.3, "R. Vane"
    )
    judge = functools.partial(judge_calibrated_cure, calibrations=[held], instrument=Instrument(0.1, 0.1, 0.1))
    assert review_affected_runs(found(2.5), [a_run()]).reviewed[0].changed == ()
    (run,) = review_affected_runs(found(2.5), [a_run()], judge).reviewed
    assert {one.rule for one in run.changed if one.after is Outcome.FAIL} == {"cure: dwell"}


def test_a_rule_that_gets_worse_under_a_verdict_that_was_bad_already_is_said() -> None:
    # no limit of overshoot is entered, so the verdict is incomplete before and after; the dwell gets uncertain
    run = dataclasses.replace(a_run(), limits=some_limits(sensor_uncertainty="0.5 K"))
    review = review_affected_runs(found(2.8), [run])
    assert review.changed == ()
    (dwell,) = review.reviewed[0].changed
    assert (dwell.rule, dwell.before, dwell.after) == ("cure: dwell", Outcome.PASS, Outcome.REFER)
    assert "log.csv" in review.told


def test_runs_outside_the_time_are_named_with_the_reason() -> None:
    late = a_run(day=2, name="late.csv")
    late = dataclasses.replace(late, log=dataclasses.replace(late.log, start=FOUND + datetime.timedelta(days=1)))
    early = a_run(day=2, name="early.csv")
    early = dataclasses.replace(early, log=dataclasses.replace(early.log, start=LAST_GOOD - datetime.timedelta(days=1)))
    review = review_affected_runs(found(4.0), [early, a_run(), late])
    assert [run.file for run in review.reviewed] == ["log.csv"]
    assert {file for file, _ in review.not_reached} == {"early.csv", "late.csv"}


def test_a_run_through_the_moment_it_was_last_good_counts() -> None:
    run = a_run()
    run = dataclasses.replace(run, log=dataclasses.replace(run.log, start=LAST_GOOD - datetime.timedelta(minutes=30)))
    assert len(review_affected_runs(found(4.0), [run]).reviewed) == 1


def test_a_sensor_never_known_good_reaches_every_run() -> None:
    run = a_run()
    run = dataclasses.replace(run, log=dataclasses.replace(run.log, start=datetime.datetime(1999, 1, 1, tzinfo=UTC)))
    assert len(review_affected_runs(found(4.0, last_good=None), [run]).reviewed) == 1


def test_a_log_without_a_clock_counts_and_says_so() -> None:
    run = a_run()
    run = dataclasses.replace(run, log=dataclasses.replace(run.log, start=None))
    (review,) = review_affected_runs(found(4.0), [run]).reviewed
    assert "no clock" in review.remark


def test_a_place_not_on_record_may_have_been_any() -> None:
    (review,) = review_affected_runs(found(4.0), [a_run(channel=None)]).reviewed
    assert review.after is Outcome.FAIL
    assert "not on record" in review.remark


def test_only_a_record_takes_a_run_out() -> None:
    review = review_affected_runs(found(4.0), [dataclasses.replace(a_run(), used=False)])
    assert review.reviewed == ()
    assert "the record" in review.not_reached[0][1]


def test_a_channel_that_is_not_in_the_log_is_refused_by_name() -> None:
    with pytest.raises(BadInput) as caught:
        review_affected_runs(found(4.0), [a_run(channel="M9")])
    assert (caught.value.field, caught.value.value, caught.value.allowed) == ("channel", "M9", "M1, M2")


@pytest.mark.parametrize(
    ("change", "field"),
    [
        ({"offset": float("nan")}, "offset"),
        ({"found": datetime.datetime(2026, 6, 10)}, "found"),  # noqa: DTZ001
        ({"last_good": datetime.datetime(2026, 1, 10)}, "last_good"),  # noqa: DTZ001
        ({"last_good": FOUND + datetime.timedelta(days=1)}, "last_good"),
    ],
)
def test_times_that_cannot_be_are_refused(change: dict[str, object], field: str) -> None:
    with pytest.raises(BadInput) as caught:
        review_affected_runs(dataclasses.replace(found(4.0), **change), [a_run()])
    assert caught.value.field == field


def judged_worst(log: CureLog) -> Outcome:
    return worst_outcome(judge_cure(log, some_limits()))


@settings(max_examples=25, deadline=None)
@given(level=st.floats(-8.0, 8.0), offset=st.floats(-10.0, 10.0))
def test_no_offset_ever_makes_a_rule_better(level: float, offset: float) -> None:
    order = [Outcome.PASS, Outcome.REFER, Outcome.MISSING, Outcome.FAIL]
    run = a_run(level)
    before = {finding.rule: finding.outcome for finding in judge_cure(run.log, run.limits)}
    after = outcomes(run, offset)
    assert set(after) == set(before)
    assert all(order.index(after[rule]) >= order.index(before[rule]) for rule in before)


def test_the_trial_itself_makes_no_sensor_suspect() -> None:
    # moved by 2 K the sensor departs from its fellows as an offset would; it was found off, and is not suspected anew
    (run,) = review_affected_runs(found(2.0), [a_run()]).reviewed
    assert "cure: sensor faults" not in {one.rule for one in run.changed}
