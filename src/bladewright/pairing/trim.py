"""Trim weight for a set: only for a difference that is resolved, only in the drawing's pockets."""

import dataclasses
from collections.abc import Sequence

import numpy as np

from bladewright.engine.matching.closing import Target, closing_weights
from bladewright.pairing.differences import Value, spread, values
from bladewright.pairing.quantities import BALANCE, CHORDWISE_CENTRE, Quantity
from bladewright.pairing.records import Candidate, TrimWeight
from bladewright.pairing.terms import Places, Terms

STEP = 1e-4  # [kg] weights are cut to a tenth of a gram; common practice, no source
ALMOST = 1e-4  # of a step: what the solver leaves short of a whole one
#: k = 2 of a weight cut to the nearest step: half a step either way, any value equally likely (JCGM 100:2008, 4.3.7)
STEP_UNCERTAINTY = 2.0 * 0.5 * STEP / np.sqrt(3.0)


def trim_weights(blades: Sequence[Candidate], terms: Terms) -> tuple[TrimWeight, ...]:
    """The least weight that closes what is resolved; none where nothing is."""
    places = terms.places
    targets = [target for q in BALANCE if (target := _target(blades, q, terms)) is not None]
    if not places.pockets or not any(target.close for target in targets):
        return ()
    mass = closing_weights(tuple(targets), np.array([pocket.greatest for pocket in places.pockets]))
    # always down to a whole step, so that rounding overfills no pocket and no limit of the finished blade
    whole = np.floor(mass / STEP + ALMOST) * STEP
    return tuple(
        TrimWeight(blade.serial, pocket.name, pocket.radius, float(round(whole[i, p], 7)))
        for i, blade in enumerate(blades)
        for p, pocket in enumerate(places.pockets)
        if whole[i, p] > 0.0
    )


def _target(blades: Sequence[Candidate], quantity: Quantity, terms: Terms) -> Target | None:
    """One quantity as the engine wants it; None when it is not known, or what weight does to it is not."""
    per_mass, known = terms.places.per_mass(quantity), values(blades, quantity)
    limit = quantity.limit(terms.limits)
    stands = [value.value for value in known if value.value is not None]
    if per_mass is None or len(stands) < len(known) or not limit:
        return None
    highest = known[int(np.argmax(stands))]
    # a blade that cannot be told from the one that has most counts as equal to it, and gets nothing for it
    told = [_told_apart(value, highest, quantity) for value in known]
    level = np.where(told, stands, max(stands)) / limit
    bound = terms.places.finished(quantity) / limit
    measured = np.array(stands) / limit
    return Target(
        level,
        per_mass / limit,
        level + np.minimum(-bound - measured, 0.0),
        level + np.maximum(bound - measured, 0.0),
        close=any(told),
    )


def _told_apart(value: Value, highest: Value, quantity: Quantity) -> bool:
    return value is not highest and spread((value, highest), quantity, None).resolved


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
