"""Exact sets: pairs of 200 blades against networkx, threes of 24 blades against every possibility tried; same best."""

import math
from functools import cache
from itertools import combinations

import networkx
import numpy as np
from numpy.typing import NDArray

from benchmarks.side_by_side import Line, best_of, line, seconds
from bladewright.engine.matching.pairs import STEPS, best_pairs, in_steps
from bladewright.engine.matching.partition import best_partition

Floats = NDArray[np.float64]
BLADES = 200
BATCH = 24  # of threes
FEWER = 15  # as many as can be tried out one way after the other
GOAL = ">= 50"
QUANTITIES = 4
ROUNDS = 3


def pair_cost(blades: int) -> Floats:
    """Cost of each pair of invented blades: differences of four quantities, summed."""
    place = np.random.default_rng(200).normal(size=(blades, QUANTITIES))
    cost: Floats = np.abs(place[:, None, :] - place[None, :, :]).sum(axis=2)
    return cost


def by_networkx(cost: Floats) -> list[tuple[int, int]]:
    """The same question, costs rounded to the same whole numbers."""
    graph = networkx.Graph()
    first, second = np.triu_indices(len(cost), k=1)
    weight = -in_steps(cost[first, second], STEPS)
    graph.add_weighted_edges_from(zip(first.tolist(), second.tolist(), weight.tolist(), strict=True))
    return list(networkx.max_weight_matching(graph, maxcardinality=True))


def threes(batch: int) -> tuple[list[tuple[int, ...]], Floats]:
    """Every set of three of a batch and its cost: the widest difference of each quantity, summed."""
    place = np.random.default_rng(24).normal(size=(batch, QUANTITIES))
    sets = list(combinations(range(batch), 3))
    return sets, np.ptp(place[np.array(sets)], axis=1).sum(axis=1)


def by_trying(sets: list[tuple[int, ...]], cost: Floats, batch: int) -> float:
    """Least cost over every way of dividing the batch into threes, one way after the other."""
    holding = _by_lowest(sets, cost, batch)

    def least(free: int) -> float:
        if not free:
            return 0.0
        lowest = (free & -free).bit_length() - 1
        return min(price + least(free & ~one) for one, price in holding[lowest] if one & free == one)

    return least((1 << batch) - 1)


def by_remembering(sets: list[tuple[int, ...]], cost: Floats, batch: int) -> float:
    """The same least cost, each group of blades still free looked at once; quick enough for the whole batch."""
    holding = _by_lowest(sets, cost, batch)

    @cache
    def least(free: int) -> float:
        if not free:
            return 0.0
        lowest = (free & -free).bit_length() - 1
        return min((price + least(free & ~one) for one, price in holding[lowest] if one & free == one))

    return least((1 << batch) - 1)


def _by_lowest(sets: list[tuple[int, ...]], cost: Floats, batch: int) -> list[list[tuple[int, float]]]:
    """Sets as bits, under their lowest blade, with their cost."""
    holding: list[list[tuple[int, float]]] = [[] for _ in range(batch)]
    for one, price in zip(sets, cost.tolist(), strict=True):
        holding[one[0]].append((sum(1 << blade for blade in one), price))
    return holding


def ways(batch: int) -> int:
    """In how many ways a batch divides into threes."""
    return math.factorial(batch) // (6 ** (batch // 3) * math.factorial(batch // 3))


def run() -> list[Line]:
    """Two lines; the answers are compared before anything is timed."""
    cost = pair_cost(BLADES)
    ours, theirs = (math.fsum(cost[pair] for pair in pairs) for pairs in (best_pairs(cost), by_networkx(cost)))
    assert math.isclose(ours, theirs, rel_tol=1e-8)
    timed = best_of(ROUNDS, lambda: best_pairs(cost), lambda: by_networkx(cost))
    return [line(f"best pairs of {BLADES} blades, against networkx; same cost", *timed, GOAL), _threes()]


def _threes() -> Line:
    """Trying out 24 blades would take years: timed on fewer, and scaled by the number of ways."""
    for batch in (FEWER, BATCH):
        sets, price = threes(batch)
        chosen = math.fsum(price[list(best_partition(np.array(sets), price, batch))])
        assert math.isclose(chosen, by_remembering(sets, price, batch), rel_tol=1e-6)
    table = np.array(sets)
    ours = min(seconds(lambda: best_partition(table, price, BATCH)) for _ in range(ROUNDS))
    fewer, cheap = threes(FEWER)
    tried = seconds(lambda: by_trying(fewer, cheap, FEWER)) * ways(BATCH) / ways(FEWER)
    name = f"best threes of {BATCH} blades, against trying every way (scaled from {FEWER} blades); same cost"
    return line(name, ours, tried, GOAL)


if __name__ == "__main__":
    print(run())
