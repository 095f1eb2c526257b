"""A run logged in parts, by hand."""

import dataclasses
import datetime

import numpy as np
import pytest

from bladewright.errors import BadInput
from bladewright.evidence.joined import joined
from bladewright.evidence.records import Channel, CureLog, Source
from bladewright.figures import Outcome
from bladewright.proof.cure import judge_cure
from tests.proof.invented_blade import a_log, some_limits

MINUTES = np.arange(0.0, 101.0, 5.0)
#: in the band of 118 to 124 degC from 20 to 80 min
HEAT = np.interp(MINUTES, [0.0, 15.0, 20.0, 80.0, 85.0, 100.0], [80.0, 112.0, 121.0, 121.0, 112.0, 90.0])


def part(first: int, last: int, file: str) -> CureLog:
    """Some samples of one run as a file of its own."""
    log = a_log(MINUTES[first:last] - MINUTES[first], {"M1": HEAT[first:last], "M2": HEAT[first:last]})
    assert log.start is not None
    start = log.start + datetime.timedelta(minutes=float(MINUTES[first]))
    return dataclasses.replace(log, source=Source(file, file[0] * 64), start=start)


def test_parts_make_the_run_whatever_order_they_come_in() -> None:
    whole = part(0, 21, "w.csv")
    log = joined([part(9, 21, "b.csv"), part(0, 9, "a.csv")])
    assert log.seconds == pytest.approx(whole.seconds)
    assert (log.values == whole.values).all()
    assert (log.start, log.source.file) == (whole.start, "a.csv + b.csv")
    assert len(log.source.sha256) == 64
    assert [(remark.row, "b.csv" in remark.what) for remark in log.remarks] == [(2, True)]


def test_the_pause_is_a_hole_and_ends_the_dwell() -> None:
    # seen from 20 to 40 min and from 60 to 80: two runs of 20 min, never added, and a hole of 20
    log = joined([part(0, 9, "a.csv"), part(12, 21, "b.csv")])
    found = {one.rule: one for one in judge_cure(log, some_limits())}
    assert found["cure: holes in the log"].outcome is Outcome.REFER
    assert found["cure: dwell"].outcome is Outcome.FAIL
    dwell = found["cure: dwell"].worst
    assert dwell is not None
    assert dwell.value == pytest.approx(20.0)
    assert "b.csv" in found["cure: clock"].sentence


def test_one_part_is_itself() -> None:
    log = joined([part(0, 21, "w.csv")])
    assert (log.source.file, log.remarks) == ("w.csv", ())


A, B = part(0, 9, "a.csv"), part(9, 21, "b.csv")


@pytest.mark.parametrize(
    ("parts", "field"),
    [
        ([], "parts"),
        ([A, dataclasses.replace(B, start=None)], "start"),
        ([A, dataclasses.replace(B, channels=(Channel("M1", "heater", "1"), B.channels[1]))], "channels"),
        ([A, dataclasses.replace(B, zone="Europe/Paris")], "channels"),
        ([A, part(8, 21, "b.csv")], "start"),
    ],
)
def test_what_cannot_be_parts_of_one_run_is_refused_by_field(parts: list[CureLog], field: str) -> None:
    with pytest.raises(BadInput) as caught:
        joined(parts)
    assert caught.value.field == field
    assert caught.value.allowed
