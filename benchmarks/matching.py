"""Exact sets: pairs of 200 blades against networkx, threes of 24 blades against every possibility tried; same best."""

import math
import time
from collections.abc import Callable
from functools import cache
from itertools import combinations

import networkx
import numpy as np
from numpy.typing import NDArray

from bladewright.engine.matching.pairs import STEPS, best_pairs, in_steps
from bladewright.engine.matching.partition import best_partition

Floats = NDArray[np.float64]
BLADES = 200
BATCH = 24  # of threes
GOAL = 50.0
QUANTITIES = 4
RUNS = 3


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


def by_brute_force(sets: list[tuple[int, ...]], cost: Floats, batch: int) -> float:
    """Least cost over every way of dividing the batch into threes, each remaining group of blades looked at once."""
    holding: list[list[tuple[int, float]]] = [[] for _ in range(batch)]
    for one, price in zip(sets, cost.tolist(), strict=True):
        holding[one[0]].append((sum(1 << blade for blade in one), price))

    @cache
    def least(free: int) -> float:
        if not free:
            return 0.0
        lowest = (free & -free).bit_length() - 1
        return min((price + least(free & ~one) for one, price in holding[lowest] if one & free == one))

    return least((1 << batch) - 1)


def _timed(work: Callable[[], object]) -> float:
    start = time.perf_counter()
    work()
    return time.perf_counter() - start


def run() -> list[dict[str, object]]:
    """Two lines; each side's answer is compared before it is timed."""
    cost = pair_cost(BLADES)
    ours, theirs = (math.fsum(cost[pair] for pair in pairs) for pairs in (best_pairs(cost), by_networkx(cost)))
    if not math.isclose(ours, theirs, rel_tol=1e-8):
        raise AssertionError(f"pairs: {ours} is not {theirs}")
    sets, price = threes(BATCH)
    table = np.array(sets)
    chosen = math.fsum(price[list(best_partition(table, price, BATCH))])
    best = by_brute_force(sets, price, BATCH)
    if not math.isclose(chosen, best, rel_tol=1e-6):
        raise AssertionError(f"threes: {chosen} is not {best}")
    return [
        _line(
            f"exact best pairs of {BLADES} blades, against networkx; same cost",
            lambda: best_pairs(cost),
            lambda: by_networkx(cost),
            GOAL,
        ),
        _line(
            f"exact best threes of {BATCH} blades, against every possibility tried; same cost",
            lambda: best_partition(table, price, BATCH),
            lambda: by_brute_force(sets, price, BATCH),
            GOAL,
        ),
    ]


def _line(name: str, ours: Callable[[], object], other: Callable[[], object], goal: float) -> dict[str, object]:
    pairs = [(_timed(ours), _timed(other)) for _ in range(RUNS)]
    mine, theirs = (min(times) for times in zip(*pairs, strict=True))
    ratio = theirs / mine
    return {
        "name": name, "ratio": ratio, "goal": f">= {goal:g}", "holds": ratio >= goal, "ours_s": mine, "other_s": theirs,
    }  # fmt: skip


if __name__ == "__main__":
    for line in run():
        print(line)
