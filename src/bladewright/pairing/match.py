"""The best sets of a batch: most blades matched first, then those most alike. The tool advises; a person signs."""

import functools
import math
from collections.abc import Sequence

from bladewright.design.track import TrackModel
from bladewright.drawing.blade import TrimPocket
from bladewright.drawing.limits import MatchLimits, WeighLimits
from bladewright.drawing.rotor import HandleBand
from bladewright.pairing.asked import require
from bladewright.pairing.choosing import METHODS, Possible, chosen, possible_sets
from bladewright.pairing.judging import fails, judged
from bladewright.pairing.leftovers import leftovers
from bladewright.pairing.records import Balance, BladeSet, Candidate, Matching
from bladewright.pairing.terms import Places, Terms

KEPT = 32  # answers; asked again whenever somebody looks


def best_sets(
    candidates: tuple[Candidate, ...],
    limits: MatchLimits,
    *,
    size: int = 2,
    pockets: tuple[TrimPocket, ...] = (),
    balance: Balance | None = None,
    weighing: WeighLimits | None = None,
    handle_band: HandleBand | None = None,
    friction: float | None = None,
    track: TrackModel | None = None,
    rotor_speed: float | None = None,
) -> Matching:
    """Which blades fly together, the trim weight they need, what is left over, and why.

    A set that fails a test, trim weight counted, is never formed. A set with a test that could not be made may be
    formed and says so: what is not known costs as much as the whole limit. ``balance`` says how far a weight moves the
    chordwise centre; ``weighing`` keeps the weighted blade inside its own limits; ``friction`` [N] is the least that
    holds the lever at lowest collective; ``track`` is ``track_model(drawing)``; ``rotor_speed``
    [rad/s] lets a difference in mass say what it comes to at the hub.
    """
    terms = Terms(limits, handle_band, friction, Places(pockets, balance, weighing), rotor_speed, track)
    return best_within(candidates, size, terms)


@functools.lru_cache(maxsize=KEPT)
def best_within(candidates: tuple[Candidate, ...], size: int, terms: Terms) -> Matching:
    """The best sets by terms already gathered, as ``best_sets`` finds them."""
    blades = tuple(sorted(candidates, key=lambda blade: blade.serial))
    require(candidates, size, terms)
    possible = possible_sets(blades, size, terms)
    sets, possible = _passing(blades, possible, terms)
    taken = {serial for one in sets for serial in one.serials}
    return Matching(
        sets=sets,
        leftovers=leftovers(blades, taken, possible, size, terms),
        total_cost=math.fsum(one.cost for one in sets),
        method=METHODS[size > 2],
    )


def _passing(blades: Sequence[Candidate], possible: Possible, terms: Terms) -> tuple[tuple[BladeSet, ...], Possible]:
    """The best sets of those that pass with their trim weight in.

    Weights are worked out only for sets that were chosen. A chosen set that fails is struck out and the choice is made
    again; since striking out can only make the best dearer, the first choice without a fail is the best of all.
    """
    while True:
        tried = {pick: judged([blades[i] for i in pick], terms) for pick in chosen(possible, len(blades))}
        failed = frozenset(pick for pick, one in tried.items() if fails(one))
        if not failed:
            return tuple(tried[pick] for pick in sorted(tried)), possible
        possible = possible.without(failed)
