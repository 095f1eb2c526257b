"""Pairs against every possibility counted out, against another implementation, and against worked tables."""

import math

import networkx
import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from bladewright.engine.arrays import Floats
from bladewright.engine.matching.pairs import STEPS, best_pairs, in_steps
from bladewright.errors import BadInput
from bladewright.selfcheck.set_choice_by_enumeration import EIGHT, eleven


@st.composite
def tables(draw: st.DrawFn, greatest: int = 8) -> Floats:
    n = draw(st.integers(0, greatest))
    entry = st.one_of(st.floats(0.0, 5.0), st.integers(0, 3).map(float), st.just(math.inf))
    cost = np.zeros((n, n))
    for i in range(n):
        for j in range(i + 1, n):
            cost[i, j] = cost[j, i] = draw(entry)
    return cost


def every_way(members: tuple[int, ...], cost: Floats) -> list[tuple[int, float]]:
    """Pairs made and what they cost, for every way of pairing some of the members."""
    if not members:
        return [(0, 0.0)]
    first, rest = members[0], members[1:]
    ways = every_way(rest, cost)
    for other in rest:
        if np.isfinite(cost[first, other]):
            left = tuple(m for m in rest if m != other)
            ways += [(n + 1, c + float(cost[first, other])) for n, c in every_way(left, cost)]
    return ways


@settings(max_examples=60, deadline=None)
@given(cost=tables())
def test_most_pairs_then_least_cost_of_every_possibility(cost: Floats) -> None:
    pairs = best_pairs(cost)
    used = [member for pair in pairs for member in pair]
    assert len(used) == len(set(used))
    assert all(np.isfinite(cost[pair]) for pair in pairs)
    most = max(n for n, _ in every_way(tuple(range(len(cost))), cost))
    least = min(c for n, c in every_way(tuple(range(len(cost))), cost) if n == most)
    assert len(pairs) == most
    rounding = len(cost) / 2 * (np.max(cost[np.isfinite(cost)], initial=0.0) / STEPS)
    assert sum(cost[pair] for pair in pairs) <= least + rounding + 1e-12


@pytest.mark.parametrize("n", [20, 31, 60])
def test_the_same_cost_as_another_implementation(n: int) -> None:
    chance = np.random.default_rng(n)
    place = chance.normal(size=(n, 4))
    cost = np.abs(place[:, None, :] - place[None, :, :]).sum(axis=2)
    cost = np.where(cost > 5.0, np.inf, cost)
    graph = networkx.Graph()
    graph.add_nodes_from(range(n))
    first, second = np.triu_indices(n, k=1)
    whole = in_steps(np.where(np.isfinite(cost), cost, 0.0)[first, second], STEPS)
    graph.add_weighted_edges_from(
        (int(i), int(j), -int(w)) for i, j, w in zip(first, second, whole, strict=True) if np.isfinite(cost[i, j])
    )
    theirs = networkx.max_weight_matching(graph, maxcardinality=True)
    ours = best_pairs(cost)
    assert len(ours) == len(theirs)
    assert sum(cost[pair] for pair in ours) == pytest.approx(sum(cost[pair] for pair in theirs), rel=1e-8)


def test_the_cheapest_pair_first_is_not_the_best() -> None:
    # counted out by hand over all 105 ways: 1-2, 3-4, 5-7, 6-8 for 32; beginning with the cheapest pair gives 50
    assert best_pairs(EIGHT) == ((0, 1), (2, 3), (4, 6), (5, 7))


def test_hard_limits_keep_as_many_pairs_as_they_can() -> None:
    assert best_pairs(eleven(limited=True)) == ((0, 3), (1, 5), (2, 7), (6, 9), (8, 10))
    assert best_pairs(eleven(limited=False)) == ((0, 3), (1, 8), (2, 7), (5, 10), (6, 9))


@settings(max_examples=30, deadline=None)
@given(cost=tables(), factor=st.sampled_from([0.125, 2.0, 1024.0]))
def test_the_unit_of_cost_does_not_matter(cost: Floats, factor: float) -> None:
    assert best_pairs(cost * factor) == best_pairs(cost)


@pytest.mark.parametrize(
    ("cost", "allowed"),
    [
        (np.zeros((2, 3)), "(n, n)"),
        (np.array([[0.0, -1.0], [-1.0, 0.0]]), "zero or more; infinite: not allowed"),
        (np.array([[0.0, np.nan], [np.nan, 0.0]]), "zero or more; infinite: not allowed"),
        (np.array([[0.0, 1.0], [2.0, 0.0]]), "the same cost both ways round"),
    ],
)
def test_a_table_that_cannot_be_is_refused(cost: Floats, allowed: str) -> None:
    with pytest.raises(BadInput) as caught:
        best_pairs(cost)
    assert (caught.value.field, caught.value.allowed) == ("cost", allowed)
