"""The best sets of a batch: most blades matched first, then those most alike. The tool advises; a person signs."""

from collections.abc import Sequence

import numpy as np

from bladewright.drawing.blade import TrimPocket
from bladewright.drawing.limits import MatchLimits
from bladewright.drawing.rotor import HandleBand
from bladewright.engine.matching.pairs import best_pairs
from bladewright.figures import Outcome
from bladewright.pairing.differences import spread, values
from bladewright.pairing.quantities import QUANTITIES
from bladewright.pairing.records import BladeSet, Candidate, Leftover, Matching
from bladewright.pairing.rules import force_in_band, handle_force_of_set, mates_alike


def best_sets(
    candidates: tuple[Candidate, ...],
    limits: MatchLimits,
    *,
    size: int = 2,  # noqa: ARG001
    pockets: tuple[TrimPocket, ...] = (),  # noqa: ARG001
    handle_band: HandleBand | None = None,
) -> Matching:
    """Which blades fly together, what is left over, and why."""
    blades = sorted(candidates, key=lambda blade: blade.serial)
    cost = np.full((len(blades), len(blades)), np.inf)
    for i, one in enumerate(blades):
        for j in range(i + 1, len(blades)):
            tried = judged((one, blades[j]), limits, handle_band)
            if not any(f.outcome is Outcome.FAIL for f in tried.findings):
                cost[i, j] = cost[j, i] = tried.cost
    sets = tuple(judged((blades[i], blades[j]), limits, handle_band) for i, j in best_pairs(cost))
    taken = {serial for chosen in sets for serial in chosen.serials}
    left = tuple(Leftover(b.serial, "left over") for b in blades if b.serial not in taken)
    return Matching(sets, left, sum(chosen.cost for chosen in sets), "exact: blossom method on whole numbers")


def judged(blades: Sequence[Candidate], limits: MatchLimits, band: HandleBand | None) -> BladeSet:
    """One set, with both tests made."""
    apart = [spread(values(blades, q), q, q.limit(limits)) for q in QUANTITIES]
    cost = 0.0
    for one in apart:
        limit = one.quantity.limit(limits)
        if limit:
            cost += 1.0 if one.difference is None else one.difference / limit
    figures = tuple(figure for one in apart if (figure := one.figure()) is not None)
    findings = (*(mates_alike(one, limits) for one in apart), force_in_band(blades, band))
    return BladeSet(tuple(b.serial for b in blades), cost, figures, figures, (), handle_force_of_set(blades), findings)
