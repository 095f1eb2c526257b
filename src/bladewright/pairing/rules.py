"""The two tests of a set, one finding a rule: how unlike the mates are, and what all together ask of the hand."""

from collections.abc import Sequence

from bladewright.drawing.limits import MatchLimits
from bladewright.drawing.rotor import HandleBand
from bladewright.figures import Figure, Finding, Outcome
from bladewright.pairing.differences import Spread, beyond
from bladewright.pairing.records import Candidate
from bladewright.units import written

PROOF = "matching"
FORCE = "handle force of the set"


def mates_alike(apart: Spread, limits: MatchLimits) -> Finding:
    """The largest difference between mates in one quantity, against its entered limit."""
    q, limit = apart.quantity, apart.quantity.limit(limits)
    rule, source = f"mates: {q.name}", limits.source or "no source entered"
    if limit is None:
        return Finding(
            rule, Outcome.MISSING, f"No limit is entered for how far the blades may differ in {q.name}.", PROOF,
            worst=apart.figure(), next_step=f"enter limits.match for {q.name} in the drawing, with its source",
            would_change="an entered limit",
        )  # fmt: skip
    bound = f"{q.shown(limit):.4g} {q.unit}".strip()
    outcome = _outcome(apart, limit)
    return Finding(
        rule, outcome, _sentence(apart, outcome, bound), PROOF, worst=apart.figure(), limit=bound,
        limit_source=source, deviable=outcome is not Outcome.MISSING, next_step=_next_step(apart, outcome),
        would_change=_would_change(apart, outcome),
    )  # fmt: skip


def _outcome(apart: Spread, limit: float) -> Outcome:
    if apart.difference is not None and beyond(apart.difference, limit):
        return Outcome.FAIL
    if apart.unknown or apart.difference is None:
        return Outcome.MISSING
    if apart.uncertainty is None or beyond(apart.difference + apart.uncertainty, limit):
        return Outcome.REFER
    return Outcome.PASS


def _sentence(apart: Spread, outcome: Outcome, bound: str) -> str:
    q = apart.quantity
    if outcome is Outcome.MISSING or apart.difference is None:
        return f"The {q.name} of {', '.join(apart.unknown)} is not known, so it counts as unlike."
    size = f"{q.shown(apart.difference):.3g} {q.unit}".strip()
    between = f"{apart.more} and {apart.less} differ by {size} in {q.name}"
    if outcome is Outcome.FAIL:
        return f"{between}, more than the limit of {bound}: it {q.effect}."
    if apart.uncertainty is None:
        return f"{between}, inside the limit of {bound}, but how well that is known was never said."
    spread = f"{q.shown(apart.uncertainty):.2g} {q.unit}".strip()
    resolved = "resolved" if apart.resolved else "not resolved"
    if outcome is Outcome.REFER:
        return f"{between} +/- {spread} ({resolved}): inside the limit of {bound} by less than the uncertainty."
    return f"{between} +/- {spread} ({resolved}), inside the limit of {bound}."


def _next_step(apart: Spread, outcome: Outcome) -> str:
    name = apart.quantity.name
    return {
        Outcome.PASS: "",
        Outcome.REFER: "a named person decides; a measurement better known would settle it",
        Outcome.FAIL: "do not fly these blades together",
        Outcome.MISSING: f"measure the {name} of {', '.join(apart.unknown)}",
    }[outcome]


def _would_change(apart: Spread, outcome: Outcome) -> str:
    if outcome is Outcome.MISSING:
        return "the missing measurement"
    return "a smaller uncertainty" if outcome is Outcome.REFER else f"another {apart.quantity.name} measured"


def handle_force_of_set(blades: Sequence[Candidate]) -> Figure | None:
    """What all blades together ask of the hand, pull-up positive; None when one share is not known.

    The shares rest on one model, so their uncertainties are added, not combined as independent.
    """
    shares = [b.handle_force for b in blades]
    known = [share for share in shares if share is not None]
    if len(known) < len(shares):
        return None
    spreads = [b.handle_force_uncertainty for b in blades]
    quantified = [u for u in spreads if u is not None]
    return Figure(
        FORCE, sum(known), "N", sum(quantified) if len(quantified) == len(spreads) else None,
        "sum of the blades' shares, uncertainties added", "the case the shares were found for; an estimate until flown",
        source="shares of the as-built blades",
    )  # fmt: skip


def force_in_band(blades: Sequence[Candidate], band: HandleBand | None) -> Finding:
    """The set's sum at the handle against the entered band."""
    rule, force = "set: handle force", handle_force_of_set(blades)
    if band is None:
        return Finding(
            rule, Outcome.MISSING, "No band is entered for the force a set may ask of the hand.", PROOF, worst=force,
            next_step="enter rotor.handle_band in the drawing", would_change="an entered band",
        )  # fmt: skip
    limit = f"{_force(band.least)} to {_force(band.greatest)}"
    if force is None:
        unknown = ", ".join(b.serial for b in blades if b.handle_force is None)
        return Finding(
            rule, Outcome.MISSING, f"The share of {unknown} at the handle is not known.", PROOF, limit=limit,
            limit_source="rotor.handle_band of the drawing", deviable=False,
            next_step=f"enter what the share of {unknown} waits for", would_change="the missing share",
        )  # fmt: skip
    outcome = _inside(force, band)
    said = f"The set asks for {_force(force.value)} at the handle; the band is {limit}"
    ends = {
        Outcome.PASS: ".",
        Outcome.REFER: ", and the uncertainty reaches out of it."
        if force.uncertainty is not None
        else ", and how well the force is known was never said.",
        Outcome.FAIL: ": too light, the lever tries to rise." if force.value < band.least else ": too heavy.",
    }
    return Finding(
        rule, outcome, said + ends[outcome], PROOF, worst=force, limit=limit,
        limit_source="rotor.handle_band of the drawing",
        next_step="" if outcome is Outcome.PASS else "a named person decides, or other blades are matched",
        would_change="blades whose shares sum nearer the middle of the band",
    )  # fmt: skip


def _inside(force: Figure, band: HandleBand) -> Outcome:
    if force.value < band.least or force.value > band.greatest:
        return Outcome.FAIL
    if force.uncertainty is None:
        return Outcome.REFER
    reach = force.uncertainty
    return Outcome.PASS if band.least <= force.value - reach and force.value + reach <= band.greatest else Outcome.REFER


def _force(newtons: float) -> str:
    return f"{written(newtons, 'N', 'force', 3)} ({written(newtons, 'lbf', 'force', 3)})"
