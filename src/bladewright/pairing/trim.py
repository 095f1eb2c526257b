"""Trim weight for a set: only for a difference that is resolved, only in the drawing's pockets."""

import dataclasses
from collections.abc import Sequence

import numpy as np

from bladewright.engine.arrays import Floats
from bladewright.engine.matching.closing import Target, closing_weights_of_each, reach
from bladewright.pairing.differences import spread, values
from bladewright.pairing.quantities import BALANCE, CHORDWISE_CENTRE, SPAN_MOMENT, Quantity
from bladewright.pairing.records import Candidate, TrimWeight
from bladewright.pairing.terms import Places, Terms

STEP = 1e-4  # [kg] weights are cut to a tenth of a gram; common practice, no source
ALMOST = 1e-4  # of a step: what the solver leaves short of a whole one
#: k = 2 of a weight cut to the nearest step: half a step either way, any value equally likely (JCGM 100:2008, 4.3.7)
STEP_UNCERTAINTY = 2.0 * 0.5 * STEP / np.sqrt(3.0)


def trim_weights(blades: Sequence[Candidate], terms: Terms) -> tuple[TrimWeight, ...]:
    """The least weight that closes what is resolved; none where nothing is."""
    return trim_weights_of_each((blades,), terms)[0]


def trim_weights_of_each(sets: Sequence[Sequence[Candidate]], terms: Terms) -> tuple[tuple[TrimWeight, ...], ...]:
    """The same for many sets at once, which is quicker than one after the other."""
    targets = [_targets(blades, terms) if terms.places.pockets else () for blades in sets]
    asked = [place for place, wanted in enumerate(targets) if any(np.ptp(target.told) for target in wanted)]
    found = dict(zip(asked, closing_weights_of_each([targets[at] for at in asked], terms.places.greatest), strict=True))
    return tuple(_cut(blades, found[at], terms.places) if at in found else () for at, blades in enumerate(sets))


def _cut(blades: Sequence[Candidate], mass: Floats, places: Places) -> tuple[TrimWeight, ...]:
    """Always down to a whole step, so that rounding overfills no pocket and no limit of the finished blade."""
    whole = np.floor(mass / STEP + ALMOST) * STEP
    return tuple(
        TrimWeight(blade.serial, pocket.name, pocket.radius, float(round(whole[i, p], 7)))
        for i, blade in enumerate(blades)
        for p, pocket in enumerate(places.pockets)
        if whole[i, p] > 0.0
    )


def reachable(blades: Sequence[Candidate], quantity: Quantity, terms: Terms) -> tuple[Floats, Floats]:
    """How low and how high weight alone could bring each blade, in units of the limit; not a number where unknown."""
    stands, limit = measured(blades, quantity), quantity.limit(terms.limits)
    assert limit  # the caller asks only of quantities that have one
    low, high, known = stands / limit, stands / limit, ~np.isnan(stands)
    per_mass = terms.places.per_mass(quantity)
    if per_mass is None or not known.any():
        return low, high
    target = _target(stands[known], stands[known], per_mass, limit, terms.places.finished(quantity))
    room = np.maximum(terms.places.finished(SPAN_MOMENT) - measured(blades, SPAN_MOMENT)[known], 0.0)
    radii = np.array([pocket.radius for pocket in terms.places.pockets])
    low[known], high[known] = reach(target, radii, room, terms.places.greatest)
    return low, high


def measured(blades: Sequence[Candidate], quantity: Quantity) -> Floats:
    """The values as numbers; not a number where unknown."""
    found = [quantity.value(blade) for blade in blades]
    return np.array([np.nan if value is None else value for value in found], dtype=np.float64)


def _targets(blades: Sequence[Candidate], terms: Terms) -> tuple[Target, ...]:
    """What is known of each quantity that weight is known to change."""
    targets = []
    for quantity in BALANCE:
        stands, limit = measured(blades, quantity), quantity.limit(terms.limits)
        per_mass = terms.places.per_mass(quantity)
        if per_mass is not None and limit and not np.isnan(stands).any():
            told = _told_apart(blades, quantity, stands)
            targets.append(_target(stands, told, per_mass, limit, terms.places.finished(quantity)))
    return tuple(targets)


def _told_apart(blades: Sequence[Candidate], quantity: Quantity, stands: Floats) -> Floats:
    """A blade that cannot be told from the one that has most counts as equal to it, and gets nothing for it."""
    known = values(blades, quantity)
    highest = known[int(np.argmax(stands))]
    told = [value is not highest and spread((value, highest), quantity, None).resolved for value in known]
    return np.where(told, stands, np.max(stands))


def _target(stands: Floats, told: Floats, per_mass: Floats, limit: float, bound: float) -> Target:
    """In units of the limit. A blade that is outside its own bound already may stay where it is."""
    least, greatest = np.minimum(-bound, stands), np.maximum(bound, stands)
    return Target(stands / limit, told / limit, per_mass / limit, least / limit, greatest / limit)


def after(blades: Sequence[Candidate], weights: Sequence[TrimWeight], places: Places) -> tuple[Candidate, ...]:
    """The blades as they should weigh with their weights in; they are weighed again to know."""
    return tuple(_weighted(blade, [w for w in weights if w.serial == blade.serial], places) for blade in blades)


def _weighted(blade: Candidate, weights: Sequence[TrimWeight], places: Places) -> Candidate:
    if not weights:
        return blade
    span = sum(w.mass * w.radius for w in weights)
    unsure = STEP_UNCERTAINTY * float(np.hypot.reduce([w.radius for w in weights]))
    heavier = dataclasses.replace(
        blade,
        span_moment=blade.span_moment + span,
        span_moment_uncertainty=float(np.hypot(blade.span_moment_uncertainty, unsure)),
    )
    balance, centre = places.balance, CHORDWISE_CENTRE.value(blade)
    if balance is None or centre is None:
        return dataclasses.replace(heavier, chordwise_centre=None, chordwise_uncertainty=None)
    arm = dict(zip((pocket.name for pocket in places.pockets), places.arms(balance), strict=True))
    moved = sum(w.mass * arm[w.pocket] for w in weights) / (balance.mass + sum(w.mass for w in weights))
    return dataclasses.replace(heavier, chordwise_centre=centre + float(moved))
