"""Sets of three and four against every possibility counted out."""

import math
from itertools import combinations

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from bladewright.engine.arrays import Floats
from bladewright.engine.matching.partition import STEPS, best_partition
from bladewright.errors import BadInput
from bladewright.selfcheck.set_choice_by_enumeration import eleven, threes


def every_way(sets: list[tuple[int, ...]], cost: Floats, free: frozenset[int]) -> list[tuple[int, float]]:
    """Sets formed and what they cost, for every way of forming some, by the lowest member still free."""
    if not free:
        return [(0, 0.0)]
    lowest = min(free)
    ways = every_way(sets, cost, free - {lowest})
    for number, one in enumerate(sets):
        if lowest in one and free.issuperset(one):
            ways += [(n + 1, c + float(cost[number])) for n, c in every_way(sets, cost, free - set(one))]
    return ways


@settings(max_examples=40, deadline=None)
@given(data=st.data(), n=st.integers(3, 9), size=st.sampled_from([3, 4]))
def test_most_sets_then_least_cost_of_every_possibility(data: st.DataObject, n: int, size: int) -> None:
    every = list(combinations(range(n), size))
    if not every:
        return
    sets = data.draw(st.lists(st.sampled_from(every), unique=True, min_size=1, max_size=30))
    price = data.draw(st.lists(st.floats(0.0, 9.0), min_size=len(sets), max_size=len(sets)))
    cost = np.array(price)
    rows = best_partition(np.array(sets), cost, n)
    used = [member for row in rows for member in sets[row]]
    assert len(used) == len(set(used))
    ways = every_way(sets, cost, frozenset(range(n)))
    most = max(count for count, _ in ways)
    assert len(rows) == most
    rounding = len(rows) * max(price) / STEPS
    assert sum(cost[row] for row in rows) <= min(c for count, c in ways if count == most) + rounding + 1e-12


def test_threes_of_eleven() -> None:
    # 15,400 ways counted out: 1-4-11, 2-6-9, 3-7-10 for 34.68, 5 and 8 left; second best 37.96
    sets, cost = threes(eleven(limited=False))
    rows = best_partition(np.array(sets), cost, 11)
    assert [sets[row] for row in rows] == [(0, 3, 10), (1, 5, 8), (2, 6, 9)]
    assert math.fsum(cost[list(rows)]) == pytest.approx(34.68, abs=1e-9)


def test_no_set_allowed_is_an_answer() -> None:
    assert best_partition(np.empty((0, 3), dtype=np.int64), np.empty(0), 7) == ()


@pytest.mark.parametrize(
    ("sets", "cost", "field"),
    [
        ([[0, 1, 2]], [-1.0], "cost"),
        ([[0, 1, 2]], [math.inf], "cost"),
        ([[0, 1, 5]], [1.0], "sets"),
        ([[0, 1, 1]], [1.0], "sets"),
    ],
)
def test_sets_that_cannot_be_are_refused(sets: list[list[int]], cost: list[float], field: str) -> None:
    with pytest.raises(BadInput) as caught:
        best_partition(np.array(sets), np.array(cost), 5)
    assert caught.value.field == field
