"""What the blades of a set do to hand, hub and cabin: predicted from what was measured, an estimate until flown."""

import dataclasses
import math
from collections.abc import Sequence

import numpy as np

from bladewright.engine.rotor.atmosphere import GRAVITY
from bladewright.engine.rotor.shake import hub_force, rigid_shake, shake_of_mates, unbalance
from bladewright.figures import Figure
from bladewright.pairing.differences import Spread, spread, values
from bladewright.pairing.handle import CASES, force_of_set
from bladewright.pairing.quantities import CHORDWISE_CENTRE, HANDLE_SHARE, SPAN_MOMENT, Quantity
from bladewright.pairing.records import Candidate
from bladewright.pairing.terms import Terms
from bladewright.pairing.track import track_figure, track_quantities, track_spreads
from bladewright.pairing.trim import measured
from bladewright.units import written

SOURCE = "weighing and measuring records"
VALIDITY = "rigid blades and hub; an estimate until flown"
FLOOR = "of a cabin that floats freely and does not bend: the least that is felt"


def felt(blades: Sequence[Candidate], terms: Terms) -> tuple[Figure, ...]:
    """Every figure that can be told of these blades as they are; one that rests on an unknown value is left out."""
    forces = [force_of_set(blades, case) for case in CASES]
    found = [
        *forces,
        _named("handle force, between mates", spread(values(blades, HANDLE_SHARE), HANDLE_SHARE, None).figure()),
        _named("track, one tip over the other", track_figure(track_spreads(blades, terms.track, terms.limits))),
        *(_at_hub(blades, quantity, terms) for quantity in (SPAN_MOMENT, CHORDWISE_CENTRE)),
        *_together(blades, terms),
    ]
    return tuple(figure for figure in found if figure is not None)


def at_the_hub(apart: Spread, terms: Terms) -> str:
    """One sentence, or none where the speed, the mass or the difference is not known."""
    mass = _first_moment_per_unit(apart.quantity, terms)
    if mass is None or apart.difference is None or terms.rotor_speed is None:
        return ""
    force = hub_force(mass * apart.difference, terms.rotor_speed)
    unsure = "not quantified"
    if apart.uncertainty is not None:
        unsure = _newtons(hub_force(mass * apart.uncertainty, terms.rotor_speed))
    speed = written(terms.rotor_speed, "rpm", "rotor speed", 3)
    return f" At the hub that is {_newtons(force)} +/- {unsure} once a revolution at {speed}."


def _named(name: str, figure: Figure | None) -> Figure | None:
    return None if figure is None else dataclasses.replace(figure, name=name)


def _at_hub(blades: Sequence[Candidate], quantity: Quantity, terms: Terms) -> Figure | None:
    """Force once a revolution from what one quantity leaves unbalanced, the blades in their worst order."""
    stands, mass = measured(blades, quantity), _first_moment_per_unit(quantity, terms)
    if mass is None or terms.rotor_speed is None or np.isnan(stands).any():
        return None
    spreads = [quantity.uncertainty(blade) for blade in blades]
    known = [one for one in spreads if one is not None]
    unsure = hub_force(mass * math.hypot(*known), terms.rotor_speed) if len(known) == len(spreads) else None
    return Figure(
        f"force on the hub once a revolution, from {quantity.name}",
        hub_force(mass * unbalance(stands), terms.rotor_speed), "N", unsure,
        "what the blades leave over, the worst order of seats; docs/theory/matching", VALIDITY, source=SOURCE,
    )  # fmt: skip


def _together(blades: Sequence[Candidate], terms: Terms) -> tuple[Figure, ...]:
    """All that shakes the hub of a two-blade rotor taken together, and what the cabin does of it at least."""
    aircraft, speed, balance = terms.aircraft, terms.rotor_speed, terms.places.balance
    heights = [measured(blades, quantity) for quantity in track_quantities(terms.track)]
    span, centre = measured(blades, SPAN_MOMENT), measured(blades, CHORDWISE_CENTRE)
    unknown = not heights or any(np.isnan(some).any() for some in (*heights, span, centre))
    if len(blades) != 2 or aircraft is None or speed is None or balance is None or unknown or aircraft.blades != 2:
        return ()
    thrust = aircraft.mass * GRAVITY
    more = [
        shake_of_mates(
            float(span[0] - span[1]), balance.mass * float(centre[0] - centre[1]), float(height[0] - height[1]),
            thrust, aircraft.tip, speed,
        ).size
        for height in heights
    ]  # fmt: skip
    force = max(more)
    lean = thrust / (2.0 * aircraft.tip)
    reach = [
        _reach(blades, SPAN_MOMENT, speed**2),
        _reach(blades, CHORDWISE_CENTRE, balance.mass * speed**2),
        max((_reach(blades, quantity, lean) for quantity in track_quantities(terms.track)), default=math.nan),
    ]
    unsure = math.hypot(*reach)
    shaken = rigid_shake(force, aircraft.mass, speed)
    known = math.isfinite(unsure)
    method = "span moment, chordwise centre and split track added as they point; uncertainties as independent"
    return (
        Figure(
            "force on the hub once a revolution, all together", force, "N", unsure if known else None, method,
            f"two blades on a see-saw hub, hover; {VALIDITY}", source=SOURCE,
        ),
        Figure(
            "cabin once a revolution, at least", 1e3 * shaken.velocity, "mm/s",
            1e3 * rigid_shake(unsure, aircraft.mass, speed).velocity if known else None, method, FLOOR, source=SOURCE,
        ),
    )  # fmt: skip


def _reach(blades: Sequence[Candidate], quantity: Quantity, per_unit: float) -> float:
    """k = 2 of the blades' difference, as a force [N]; not a number where nobody quantified it."""
    spreads = [quantity.uncertainty(blade) for blade in blades]
    return per_unit * math.hypot(*(math.nan if one is None else one for one in spreads))


def _first_moment_per_unit(quantity: Quantity, terms: Terms) -> float | None:
    if quantity is SPAN_MOMENT:
        return 1.0
    balance = terms.places.balance
    return balance.mass if quantity is CHORDWISE_CENTRE and balance is not None else None


def _newtons(force: float) -> str:
    return written(force, "N", "force", 2)
