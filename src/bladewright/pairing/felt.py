"""What a difference in mass comes to at the hub, in words beside its finding."""

from bladewright.engine.rotor.shake import hub_force
from bladewright.pairing.differences import Spread
from bladewright.pairing.quantities import CHORDWISE_CENTRE, SPAN_MOMENT
from bladewright.pairing.terms import Terms
from bladewright.units import written


def at_the_hub(apart: Spread, terms: Terms) -> str:
    """One sentence, or none where the speed, the mass or the difference is not known."""
    mass = _first_moment_per_unit(apart, terms)
    if mass is None or apart.difference is None or terms.rotor_speed is None:
        return ""
    force = hub_force(mass * apart.difference, terms.rotor_speed)
    spread = "not quantified"
    if apart.uncertainty is not None:
        spread = _newtons(hub_force(mass * apart.uncertainty, terms.rotor_speed))
    speed = written(terms.rotor_speed, "rpm", "rotor speed", 3)
    return f" At the hub that is {_newtons(force)} +/- {spread} once a revolution at {speed}."


def _first_moment_per_unit(apart: Spread, terms: Terms) -> float | None:
    if apart.quantity is SPAN_MOMENT:
        return 1.0
    balance = terms.places.balance
    return balance.mass if apart.quantity is CHORDWISE_CENTRE and balance is not None else None


def _newtons(force: float) -> str:
    return written(force, "N", "force", 2)
