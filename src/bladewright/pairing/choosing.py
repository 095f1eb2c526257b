"""Which sets could be formed, what each costs, and the exact choice among them."""

from collections.abc import Sequence
from dataclasses import dataclass
from itertools import combinations

import numpy as np
from numpy.typing import NDArray

from bladewright.engine.arrays import Floats
from bladewright.engine.matching.pairs import best_pairs
from bladewright.engine.matching.partition import Indices, best_partition
from bladewright.pairing.differences import ROUNDING
from bladewright.pairing.handle import CASES, Case, least_allowed
from bladewright.pairing.quantities import BALANCE, QUANTITIES, Quantity
from bladewright.pairing.records import Candidate
from bladewright.pairing.rules import accepts
from bladewright.pairing.terms import Places, Terms

METHODS = (
    "exact: most blades in sets first, then least cost; blossom method, costs rounded to a billionth of the greatest",
    "exact: most blades in sets first, then least cost; branch and bound with no gap, costs rounded to a millionth of "
    "the greatest",
)


@dataclass(frozen=True, slots=True)
class Possible:
    """Sets that no test rules out before trim weight is worked out."""

    sets: Indices  # (k, size) places in the batch, rising in each row
    cost: Floats  # (k,)

    def without(self, failed: frozenset[tuple[int, ...]]) -> "Possible":
        """The same, less those that were found to fail."""
        if not failed:
            return self
        keep = np.array([tuple(row) not in failed for row in self.sets.tolist()], dtype=bool)
        return Possible(self.sets[keep], self.cost[keep])


def possible_sets(blades: Sequence[Candidate], size: int, terms: Terms) -> Possible:
    """Every set of the size that conditions, limits and band allow, with what trim weight could mend forgiven."""
    every = np.array(list(combinations(range(len(blades)), size)), dtype=np.int64).reshape(-1, size)
    keep = _may_mate(blades, every)
    for case in CASES:
        keep &= _inside_band(blades, every, case, terms)
    cost = np.zeros(len(every))
    for quantity in QUANTITIES:
        limit = quantity.limit(terms.limits)
        if not limit:
            continue
        share, unknown = _share(blades, every, quantity, limit)
        keep &= share <= 1.0 + ROUNDING + _mendable(quantity, terms.places) / limit
        cost += np.where(unknown, np.maximum(share, 1.0), share)
    return Possible(every[keep], cost[keep])


def chosen(possible: Possible, members: int) -> list[tuple[int, ...]]:
    """The best of the possible sets: most blades first, then least cost."""
    if possible.sets.shape[1] > 2:
        return [tuple(possible.sets[row].tolist()) for row in best_partition(possible.sets, possible.cost, members)]
    cost = np.full((members, members), np.inf)
    first, second = possible.sets.T
    cost[first, second] = cost[second, first] = possible.cost
    return list(best_pairs(cost))


def _may_mate(blades: Sequence[Candidate], every: Indices) -> NDArray[np.bool_]:
    table = np.array([[accepts(a, b) and accepts(b, a) for b in blades] for a in blades], dtype=bool)
    table = table.reshape(len(blades), len(blades))
    keep = np.ones(len(every), dtype=bool)
    for i, j in combinations(range(every.shape[1]), 2):
        keep &= table[every[:, i], every[:, j]]
    return keep


def _inside_band(blades: Sequence[Candidate], every: Indices, case: Case, terms: Terms) -> NDArray[np.bool_]:
    """True where the sum is inside or not known; not known is a finding, not a reason to keep blades apart."""
    band = terms.handle_band
    if band is None:
        return np.ones(len(every), dtype=bool)
    force = _known([case.share(blade) for blade in blades])[every].sum(axis=1)
    allowed: NDArray[np.bool_] = np.isnan(force) | (
        (force >= least_allowed(case, band, terms.friction)) & (force <= band.greatest)
    )
    return allowed


def _share(
    blades: Sequence[Candidate], every: Indices, quantity: Quantity, limit: float
) -> tuple[Floats, NDArray[np.bool_]]:
    """The widest known difference of each set in units of the limit, and whether a value is unknown."""
    value = _known([quantity.value(blade) for blade in blades])[every]
    unknown: NDArray[np.bool_] = np.isnan(value)
    high = np.where(unknown, -np.inf, value).max(axis=1, initial=-np.inf)
    low = np.where(unknown, np.inf, value).min(axis=1, initial=np.inf)
    apart: Floats = np.maximum(high - low, 0.0) / limit
    some: NDArray[np.bool_] = np.any(unknown, axis=1)
    return apart, some


def _mendable(quantity: Quantity, places: Places) -> float:
    """How much nearer two blades can come by weight alone, at the very most. SI."""
    per_mass = places.per_mass(quantity) if quantity in BALANCE else None
    if per_mass is None:
        return 0.0
    change = per_mass * np.array([pocket.greatest for pocket in places.pockets])
    # one blade gets all that moves it up, its mate all that moves it down
    return float(np.abs(change).sum())


def _known(values: Sequence[float | None]) -> Floats:
    return np.array([np.nan if value is None else value for value in values], dtype=np.float64)
