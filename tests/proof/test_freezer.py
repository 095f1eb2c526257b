"""A freezer's log, by hand: when its rolls were as good as out."""

import dataclasses
import datetime
import itertools

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from bladewright.drawing.counting_rule import CountingRule
from bladewright.errors import BadInput
from bladewright.evidence.freezer_log import Roll, Unlogged
from bladewright.evidence.records import CureLog
from bladewright.proof.freezer import freezer_excursions
from bladewright.proof.out_time import HOUR, out_time
from tests.proof.invented_blade import a_log

WARMEST = 273.15 - 18.0
INTERVAL = 1800.0


def freezer(*celsius: float, minutes: list[float] | None = None) -> CureLog:
    """A reading every half hour from 08:00 UTC of 2026-03-02."""
    times = minutes or [30.0 * number for number in range(len(celsius))]
    return a_log(times, {"F1": list(celsius)}, role="air")


def hours(*excursions: Unlogged) -> list[tuple[float, float]]:
    start = datetime.datetime(2026, 3, 2, 8, 0, tzinfo=datetime.UTC)
    return [
        ((one.start - start).total_seconds() / HOUR, (one.end - start).total_seconds() / HOUR) for one in excursions
    ]


def test_a_cold_freezer_has_none() -> None:
    assert freezer_excursions(freezer(-20.0, -18.0, -19.0), WARMEST, INTERVAL) == ()


def test_warm_runs_from_the_last_good_sample_to_the_next() -> None:
    # good at 0 and 0.5 h, warm at 1 and 1.5 h, good at 2 h
    found = freezer_excursions(freezer(-20.0, -20.0, -17.0, -10.0, -19.0), WARMEST, INTERVAL)
    assert hours(*found) == [(0.5, 2.0)]
    assert "above -0.4 degF" in found[0].why


def test_silence_and_holes_count_and_touching_ones_count_once() -> None:
    log = freezer(-20.0, np.nan, -10.0, -20.0, -20.0, minutes=[0.0, 30.0, 60.0, 90.0, 200.0])
    found = freezer_excursions(log, WARMEST, INTERVAL)
    assert hours(*found) == [(0.0, pytest.approx(200.0 / 60.0))]
    assert all(word in found[0].why for word in ("no reading", "above", "hole"))


def test_a_roll_that_lay_in_it_is_counted_by_it() -> None:
    found = freezer_excursions(freezer(-20.0, -20.0, -17.0, -10.0, -19.0), WARMEST, INTERVAL)
    received = datetime.datetime(2026, 3, 1, tzinfo=datetime.UTC)
    rule = CountingRule.model_validate({"maker_limit": "240 h"})
    counted = out_time(Roll("F-1", "L-1", received, (), found), rule, received + datetime.timedelta(days=5))
    assert counted.unlogged / HOUR == 1.5


@pytest.mark.parametrize(
    ("log", "field"),
    [(a_log([0.0], {"F1": [-20.0]}), "channels"), (dataclasses.replace(freezer(-20.0), start=None), "start")],
)
def test_a_log_that_cannot_be_counted_by_is_refused_by_field(log: CureLog, field: str) -> None:
    with pytest.raises(BadInput) as caught:
        freezer_excursions(log, WARMEST, INTERVAL)
    assert caught.value.field == field
    assert caught.value.fix


@settings(max_examples=40, deadline=None)
@given(readings=st.lists(st.one_of(st.floats(-30.0, 10.0), st.just(np.nan)), min_size=2, max_size=30))
def test_every_bad_sample_lies_in_a_stretch_and_stretches_are_apart(readings: list[float]) -> None:
    log = freezer(*readings)
    found = hours(*freezer_excursions(log, WARMEST, INTERVAL))
    for number, reading in enumerate(readings):
        bad = np.isnan(reading) or reading + 273.15 > WARMEST
        assert any(start <= 0.5 * number <= end for start, end in found) or not bad
    assert all(one[1] < other[0] for one, other in itertools.pairwise(found))
