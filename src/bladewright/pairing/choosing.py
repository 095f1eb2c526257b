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
from bladewright.pairing.terms import Terms
from bladewright.pairing.track import track_quantities
from bladewright.pairing.trim import measured, reachable

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
    derived = track_quantities(terms.track)  # ruled by, but not paid for twice: pitch and moment are in the cost
    for quantity in (*QUANTITIES, *derived):
        limit = quantity.limit(terms.limits)
        if not limit:
            continue
        low, high = _ends(blades, quantity, terms)
        keep &= _width(high[every], low[every]) <= 1.0 + ROUNDING
        if quantity not in derived:
            stands = measured(blades, quantity)[every] / limit
            width = _width(stands, stands)
            cost += np.where(np.isnan(stands).any(axis=1), np.maximum(width, 1.0), width)
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
    force = np.array([_or_nan(case.share(blade)) for blade in blades])[every].sum(axis=1)
    allowed: NDArray[np.bool_] = np.isnan(force) | (
        (force >= least_allowed(case, band, terms.friction)) & (force <= band.greatest)
    )
    return allowed


def _ends(blades: Sequence[Candidate], quantity: Quantity, terms: Terms) -> tuple[Floats, Floats]:
    """How low and how high each blade could end, in units of the limit, whatever weight it gets."""
    if quantity in BALANCE and terms.places.pockets:
        return reachable(blades, quantity, terms)
    stands = measured(blades, quantity) / (quantity.limit(terms.limits) or np.nan)
    return stands, stands


def _width(high: Floats, low: Floats) -> Floats:
    """What is left between the blades of each set when each comes as near the others as it can; unknown ones aside."""
    most = np.where(np.isnan(low), -np.inf, low).max(axis=1, initial=-np.inf)
    least = np.where(np.isnan(high), np.inf, high).min(axis=1, initial=np.inf)
    width: Floats = np.maximum(most - least, 0.0)
    return width


def _or_nan(value: float | None) -> float:
    return np.nan if value is None else value
