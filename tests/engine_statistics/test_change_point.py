"""Change of level and drift in a run of results: false alarms as seldom as said, places held as often as said."""

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from bladewright.engine.statistics.change_point import (
    EXACT_UP_TO,
    change_shares,
    likely_places,
    normal_scores,
    rank_change,
    squares_about_levels,
)
from bladewright.engine.statistics.drift import drift, step_over_drift
from bladewright.errors import BadInput, MissingInput

DRAWN = 400


def _alarms(count: int, seed: int) -> float:
    generator = np.random.default_rng(seed)
    return float(np.mean([rank_change(generator.normal(size=count)).chance <= 0.05 for _ in range(DRAWN)]))


@pytest.mark.parametrize("count", [9, 14, 24, 60])
def test_chance_alone_alarms_no_oftener_than_said(count: int) -> None:
    assert _alarms(count, 7) <= 0.05 + 3.0 * np.sqrt(0.05 * 0.95 / DRAWN)


def test_the_limit_for_long_runs_is_not_kinder_to_an_alarm_than_counting() -> None:
    """The same orders by both ways, where both are at hand."""
    from bladewright.engine.statistics.change_point import _in_the_limit

    generator = np.random.default_rng(5)
    for _ in range(60):
        found = rank_change(generator.normal(size=EXACT_UP_TO))
        if found.chance < 0.2:
            assert _in_the_limit(int(found.statistic), EXACT_UP_TO) >= found.chance


@pytest.mark.parametrize("at", [3, 6, 9])
def test_the_places_named_hold_the_step_as_often_as_said(at: int) -> None:
    """Over steps of 3 deviations; credible sets of flat priors need not cover exactly, hence the width of the band."""
    generator = np.random.default_rng(at)
    held = 0
    for _ in range(DRAWN):
        run = generator.normal(size=12)
        run[at:] -= 3.0
        held += at in likely_places(change_shares(normal_scores(run), 1e-3))
    assert held / DRAWN >= 0.90


@settings(max_examples=40, deadline=None)
@given(st.lists(st.floats(-50.0, 50.0), min_size=4, max_size=30), st.floats(0.1, 10.0), st.floats(-100.0, 100.0))
def test_neither_unit_nor_zero_matters(values: list[float], scale: float, shift: float) -> None:
    run = np.round(np.array(values), 3)
    moved = np.round(scale, 2) * run + round(shift, 2)
    assert rank_change(np.round(moved, 6)).chance == pytest.approx(rank_change(run).chance, abs=1e-9)


@settings(max_examples=40, deadline=None)
@given(st.lists(st.floats(-50.0, 50.0), min_size=4, max_size=40))
def test_shares_add_up_and_squares_are_those_of_the_definition(values: list[float]) -> None:
    run = np.array(values)
    assert change_shares(run, 0.01).sum() == pytest.approx(1.0)
    for place, squares in enumerate(squares_about_levels(run), start=1):
        parts = (run[:place], run[place:])
        assert squares == pytest.approx(sum(((part - part.mean()) ** 2).sum() for part in parts), abs=1e-6)


def test_equal_values_show_nothing() -> None:
    found = rank_change(np.full(8, 3.0))
    assert (found.statistic, found.chance) == (0.0, 1.0)
    assert drift(np.full(8, 3.0)).chance == 1.0


def test_a_steady_drift_is_measured_and_told_from_a_step() -> None:
    noise = np.random.default_rng(3).normal(0.0, 0.3, size=24)
    falling, stepping = 30.0 - 0.5 * np.arange(24) + noise, np.where(np.arange(24) < 12, 30.0, 25.0) + noise
    found = drift(falling)
    assert found.least <= -0.5 <= found.greatest
    assert found.chance < 1e-6
    assert step_over_drift(falling, 0.01) < -2.0
    assert step_over_drift(stepping, 0.01) > 2.0


def test_too_few_or_no_numbers_are_refused() -> None:
    for ask in (rank_change, drift, lambda v: change_shares(v, 0.1), lambda v: step_over_drift(v, 0.1)):
        with pytest.raises(MissingInput) as few:
            ask(np.array([1.0, 2.0, 3.0]))
        assert (few.value.field, few.value.value) == ("values", 3)
    with pytest.raises(BadInput) as gap:
        rank_change(np.array([1.0, np.nan, 2.0, 3.0]))
    assert gap.value.field == "values"
    with pytest.raises(BadInput) as fine:
        change_shares(np.arange(5.0), 0.0)
    assert fine.value.field == "resolution"


def test_one_wild_result_does_not_blur_the_place() -> None:
    run = np.concatenate((np.full(9, 23.0), np.full(9, 21.5))) + np.random.default_rng(8).normal(0.0, 0.2, 18)
    wild = run.copy()
    wild[2] = 12.0
    places = likely_places(change_shares(normal_scores(run), 1e-3))
    assert set(places) <= {8, 9, 10}
    assert 9 in likely_places(change_shares(normal_scores(wild), 1e-3))
    assert len(likely_places(change_shares(normal_scores(wild), 1e-3))) < len(likely_places(change_shares(wild, 1e-3)))


def test_scores_of_ranks_are_those_of_a_normal_sample() -> None:
    """Three values: the quartiles, -0.6745, 0 and 0.6745. Any table of the normal distribution."""
    assert normal_scores(np.array([5.0, 1.0, 9.0])) == pytest.approx([0.0, -0.67449, 0.67449], abs=1e-5)
