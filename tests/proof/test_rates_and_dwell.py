"""The quick ways to the fastest rise and the longest dwell against the definitions, looked up one pair at a time."""

import dataclasses
import math

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from bladewright.drawing.limits import CureLimits
from bladewright.evidence.records import Channel, CureLog, Source
from bladewright.figures import Outcome, canonical
from bladewright.proof.cure import RULES, judge_cure
from bladewright.proof.dwell import dwell_of, possible_dwell, whole_stay
from bladewright.proof.mould import read_mould
from bladewright.proof.rates import fastest, slowest_rise
from tests.proof.invented_blade import DRAWING

LIMITS = CureLimits.model_validate(
    {"target": "121 degC", "below": "3 K", "above": "3 K", "dwell_least": "60 min", "ramp_greatest": "2.8 K/min",
     "spread_greatest": "5 K", "sample_interval": "60 s"}
)  # fmt: skip
CELSIUS = 273.15


@st.composite
def logs(draw: st.DrawFn) -> CureLog:
    """Uneven steps, some over a hole; one to three sensors in whole degrees, some readings not there."""
    count = draw(st.integers(1, 40))
    steps = draw(
        st.lists(st.sampled_from([30.0, 60.0, 60.0, 90.0, 120.0, 121.0, 400.0]), min_size=count, max_size=count)
    )
    sensors = draw(st.integers(1, 3))
    reading = st.one_of(st.integers(112, 127).map(float), st.just(121.0), st.just(math.nan))
    cells = draw(st.lists(st.lists(reading, min_size=sensors, max_size=sensors), min_size=count, max_size=count))
    return CureLog(
        source=Source("drawn.csv", "0" * 64),
        description="drawn",
        start=None,
        seconds=np.concatenate(([0.0], np.cumsum(steps)[:-1])),
        channels=tuple(Channel(f"Z{i}", "mould", str(i)) for i in range(sensors)),
        values=np.array(cells) + CELSIUS,
        rows=np.arange(2, count + 2),
    )


@settings(max_examples=120, deadline=None)
@given(logs(), st.sampled_from([30.0, 60.0, 100.0, 300.0]), st.booleans())
def test_the_fastest_change_is_that_of_every_pair_looked_at(log: CureLog, window: float, falling: bool) -> None:
    mould = read_mould(log, LIMITS)
    readings, t = mould.believed(slice(None)), log.seconds
    rates = []
    for i in range(len(t)):
        before = [j for j in range(i) if t[i] - t[j] >= window]
        if before:
            rates += [float(rate) for rate in (readings[i] - readings[before[-1]]) / (t[i] - t[before[-1]])]
    rates = [-rate if falling else rate for rate in rates if not math.isnan(rate)]
    found = fastest(mould, window, falling=falling)
    assert (found is None) == (not rates)
    if found is not None:
        assert (-found.per_second if falling else found.per_second) == pytest.approx(max(rates), abs=1e-12)


@settings(max_examples=120, deadline=None)
@given(logs())
def test_the_dwell_is_the_longest_run_by_its_definition(log: CureLog) -> None:
    mould = read_mould(log, LIMITS)
    readings, t = mould.believed(slice(None)) - CELSIUS, log.seconds
    best, begun = -1.0, -1
    for i in range(len(t)):
        inside = all(118.0 - 1e-6 <= value <= 124.0 + 1e-6 for value in readings[i])
        hole = i > 0 and t[i] - t[i - 1] > 120.0
        begun = (i if begun < 0 or hole else begun) if inside else -1
        best = max(best, t[i] - t[begun]) if inside else best
    found = dwell_of(log, LIMITS)
    assert (found is None) == (best < 0.0)
    if found is not None:
        assert found.seconds == pytest.approx(best, abs=1e-9)
        possible = possible_dwell(mould, LIMITS)
        assert possible is not None
        assert found.seconds <= possible.seconds <= whole_stay(mould, LIMITS)
        assert found.seconds <= found.crossed


@settings(max_examples=80, deadline=None)
@given(logs(), st.booleans())
def test_any_log_gets_an_answer_to_every_rule(log: CureLog, heated: bool) -> None:
    """However short, broken or empty: no rule falls over, and a log with anything silent is never all right."""
    assert DRAWING.limits.cure is not None
    if heated:
        channels = (*log.channels, Channel("H0", "heater", "0"), Channel("P", "pressure"))
        values = np.column_stack((log.values, log.values[:, 0] + 5.0, log.values[:, 0] * 700.0))
        log = dataclasses.replace(log, channels=channels, values=values)
    found = judge_cure(log, DRAWING.limits.cure)
    assert len(found) == len(RULES)
    assert all(finding.sentence for finding in found)
    canonical(found)  # every number in a finding can be kept
    if np.isnan(log.values).any():
        assert any(finding.outcome is not Outcome.PASS for finding in found)


def test_the_slowest_rise_of_a_ramp_with_a_rest_in_it() -> None:
    """Worked by hand: 2 K/min, a rest of 12 min at 80 degC, 2 K/min again; over 10 min the slowest is none."""
    minutes = np.arange(0.0, 70.0)
    celsius = np.interp(minutes, [0.0, 30.0, 42.0, 62.5, 70.0], [20.0, 80.0, 80.0, 121.0, 121.0])
    log = CureLog(
        Source("rest.csv", "0" * 64), "by hand", None, minutes * 60.0, (Channel("Z1", "mould", "1"),),
        (celsius + CELSIUS)[:, None], np.arange(2, 72),
    )  # fmt: skip
    limits = LIMITS.model_copy(update={"frozen_samples": 100})
    rise = slowest_rise(read_mould(log, limits), 600.0, 40.0 + CELSIUS, 118.0 + CELSIUS)
    assert rise is not None
    assert rise.per_second * 60.0 == pytest.approx(0.0, abs=1e-12)
    above = slowest_rise(read_mould(log, limits), 600.0, 90.0 + CELSIUS, 118.0 + CELSIUS)
    assert above is not None
    assert above.per_second * 60.0 == pytest.approx(2.0, rel=1e-9)


def test_a_climb_shorter_than_the_window_counts_whole() -> None:
    minutes = np.arange(0.0, 10.0)
    celsius = np.interp(minutes, [0.0, 1.0, 6.0], [20.0, 100.0, 121.0])
    log = CureLog(
        Source("short.csv", "0" * 64), "by hand", None, minutes * 60.0, (Channel("Z1", "mould", "1"),),
        (celsius + CELSIUS)[:, None], np.arange(2, 12),
    )  # fmt: skip
    rise = slowest_rise(read_mould(log, LIMITS), 600.0, 100.0 + CELSIUS, 118.0 + CELSIUS)
    assert rise is not None
    assert rise.per_second * 60.0 == pytest.approx(4.2, rel=1e-9)  # 21 K in 5 min
