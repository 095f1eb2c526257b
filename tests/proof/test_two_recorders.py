"""Two logs of one run, by hand."""

import dataclasses
import datetime

import numpy as np
import pytest

from bladewright.errors import BadInput
from bladewright.evidence.records import CureLog, Source
from bladewright.figures import Finding, Outcome
from bladewright.proof.two_recorders import judge_recorders, recorders_agree
from tests.proof.invented_blade import a_log, some_limits

MINUTES = np.arange(0.0, 101.0, 5.0)


def recorder(file: str, more: float = 0.0, late: float = 0.0) -> CureLog:
    """A recorder that reads so much more, and whose samples come so many minutes after the other's."""
    minutes = MINUTES + late
    heat = np.interp(minutes, [0.0, 15.0, 20.0, 80.0, 85.0, 100.0], [80.0, 112.0, 121.0, 121.0, 112.0, 90.0])
    log = a_log(MINUTES, {"M1": heat + more, "M2": heat})
    assert log.start is not None
    start = log.start + datetime.timedelta(minutes=late)
    return dataclasses.replace(log, source=Source(file, file[0] * 64), start=start)


def agree(one: CureLog, other: CureLog, **limits: str) -> Finding:
    return recorders_agree(one, other, some_limits(**limits))


@pytest.mark.parametrize(
    ("more", "outcome"), [(0.0, Outcome.PASS), (1.4, Outcome.PASS), (1.6, Outcome.REFER), (-1.6, Outcome.REFER)]
)
def test_half_of_the_band_is_what_they_may_differ_by(more: float, outcome: Outcome) -> None:
    found = agree(recorder("a.csv"), recorder("b.csv", more))
    assert found.outcome is outcome
    assert found.worst is not None
    assert found.worst.value == pytest.approx(abs(more) * 1.8, abs=1e-9)


def test_an_entered_uncertainty_counts_once_for_each() -> None:
    pair = recorder("a.csv"), recorder("b.csv", 1.3)
    assert agree(*pair, sensor_uncertainty="1 K").outcome is Outcome.PASS  # sqrt(2) of 1 K
    assert agree(*pair, sensor_uncertainty="0.9 K").outcome is Outcome.REFER


def test_samples_at_other_times_are_met_by_straight_lines() -> None:
    # corners of the heat fall between samples: 15 and 85 min are met within 9/5 K a minute times half the way
    found = agree(recorder("a.csv"), recorder("b.csv", late=5.0))
    assert found.worst is not None
    assert found.worst.value == pytest.approx(0.0, abs=1e-9)


def test_a_clock_that_is_an_hour_off_is_referred() -> None:
    other = recorder("b.csv")
    assert other.start is not None
    other = dataclasses.replace(other, start=other.start + datetime.timedelta(hours=1))
    assert agree(recorder("a.csv"), other).outcome is Outcome.REFER


@pytest.mark.parametrize(
    "other",
    [
        dataclasses.replace(recorder("b.csv"), start=None),
        dataclasses.replace(recorder("b.csv"), start=datetime.datetime(2026, 5, 1, tzinfo=datetime.UTC)),
    ],
)
def test_logs_that_cannot_be_compared_are_referred(other: CureLog) -> None:
    found = agree(recorder("a.csv"), other)
    assert found.outcome is Outcome.REFER
    assert "cannot be compared" in found.sentence


def test_the_worse_of_two_logs_stands_in_either_order() -> None:
    good, cold = recorder("a.csv"), recorder("b.csv", -4.0)
    for logs in ((good, cold), (cold, good)):
        found = {one.rule: one.outcome for one in judge_recorders(logs, some_limits())}
        assert found["cure: dwell"] is Outcome.FAIL
        assert found["cure: recorders agree"] is Outcome.REFER


def test_three_recorders_are_compared_two_by_two() -> None:
    rules = [
        one.rule for one in judge_recorders([recorder("a.csv"), recorder("b.csv"), recorder("c.csv")], some_limits())
    ]
    assert [rule for rule in rules if "agree" in rule] == [f"cure: recorders agree ({n})" for n in (1, 2, 3)]


def test_no_log_is_refused() -> None:
    with pytest.raises(BadInput) as caught:
        judge_recorders([], some_limits())
    assert caught.value.field == "logs"
