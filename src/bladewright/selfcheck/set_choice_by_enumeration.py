"""The choice of sets against every possibility counted out, on invented tables. No outside source needed."""

import math
from collections.abc import Sequence
from itertools import combinations

import numpy as np

from bladewright.engine.arrays import Floats
from bladewright.engine.matching.pairs import best_pairs
from bladewright.engine.matching.partition import best_partition
from bladewright.selfcheck.case import Case

_SOURCE = "every possibility counted out on an invented table: closed form"

#: eight members; taking the cheapest pair first gives 50, the best is 32, the second best 35, of 105 ways
EIGHT = np.array(
    [
        [0, 7, 12, 9, 15, 21, 18, 30],
        [7, 0, 6, 14, 10, 17, 25, 22],
        [12, 6, 0, 5, 11, 16, 19, 20],
        [9, 14, 5, 0, 8, 13, 12, 26],
        [15, 10, 11, 8, 0, 4, 9, 17],
        [21, 17, 16, 13, 4, 0, 6, 11],
        [18, 25, 19, 12, 9, 6, 0, 34],
        [30, 22, 20, 26, 17, 11, 34, 0],
    ],
    dtype=np.float64,
)

#: eleven members: span moment [kg m], chordwise moment, twist [deg]
_ELEVEN = np.array(
    [
        [6.4120, -12, 0.05], [6.3985, 8, -0.02], [6.4210, 3, 0.11], [6.4055, -6, 0.00], [6.4302, 15, 0.08],
        [6.3890, -2, -0.07], [6.4147, 6, 0.02], [6.4260, -9, 0.14], [6.4018, 1, -0.05], [6.4099, 10, 0.09],
        [6.3942, -15, 0.03],
    ]
)  # fmt: skip
_SCALE = np.array([0.005, 5.0, 0.05])
_GREATEST = np.array([0.010, np.inf, 0.08])  # hard limits, included


def eleven(limited: bool) -> Floats:
    """Cost of each pair of the eleven: sum of differences in units of the scale; infinite beyond the hard limits."""
    apart = np.abs(_ELEVEN[:, None, :] - _ELEVEN[None, :, :])
    cost: Floats = (apart / _SCALE).sum(axis=2)
    return np.where((apart > _GREATEST + 1e-9).any(axis=2), np.inf, cost) if limited else cost


def _pairs(cost: Floats) -> float:
    return math.fsum(cost[pair] for pair in best_pairs(cost))


def threes(cost: Floats) -> tuple[Sequence[tuple[int, ...]], Floats]:
    """Every set of three, each costing the sum of its three pairs."""
    sets = list(combinations(range(len(cost)), 3))
    return sets, np.array([sum(cost[pair] for pair in combinations(three, 2)) for three in sets])


def _threes(cost: Floats) -> float:
    sets, price = threes(cost)
    return math.fsum(price[list(best_partition(np.array(sets), price, len(cost)))])


CASES: tuple[Case, ...] = (
    Case(_SOURCE, "eight members, least cost of four pairs [1]", lambda: _pairs(EIGHT), 32.0, 1e-9),
    Case(_SOURCE, "eleven members, least cost of five pairs [1]", lambda: _pairs(eleven(False)), 18.96, 1e-9),
    Case(_SOURCE, "eleven members, pairs within hard limits [1]", lambda: _pairs(eleven(True)), 21.88, 1e-9),
    Case(_SOURCE, "eleven members, least cost of three threes [1]", lambda: _threes(eleven(False)), 34.68, 1e-9),
)
