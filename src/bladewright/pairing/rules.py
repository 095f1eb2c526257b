"""The first test of a set, one finding a rule: how unlike the mates are, and whether they may be mates at all."""

from collections.abc import Sequence
from itertools import permutations

from bladewright.drawing.limits import MatchLimits
from bladewright.figures import Finding, Outcome
from bladewright.pairing.differences import Spread, beyond
from bladewright.pairing.records import Candidate

PROOF = "matching"
CONDITIONS = "mates: conditions"


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


def bound_to_each_other(blades: Sequence[Candidate]) -> Finding:
    """Whether every blade accepted only with certain mates has no other."""
    rule, bound = CONDITIONS, [blade for blade in blades if blade.only_with is not None]
    broken = [(one, other) for one, other in permutations(blades, 2) if one in bound and not accepts(one, other)]
    if broken:
        said = "; ".join(
            f"{one.serial} is accepted only with other blades than {other.serial}" for one, other in broken
        )
        return Finding(
            rule, Outcome.FAIL, f"{said}.", PROOF, deviable=False, next_step="do not fly these blades together",
            would_change="another deviation, decided by a person with design authority",
        )  # fmt: skip
    said = ", ".join(blade.serial for blade in bound)
    kept = f"{said} may fly only with certain blades, and does." if bound else "No blade here is bound to another."
    return Finding(rule, Outcome.PASS, kept, PROOF)


def accepts(one: Candidate, other: Candidate) -> bool:
    """Whether the first blade's conditions allow the second."""
    return one.only_with is None or other.serial in one.only_with
