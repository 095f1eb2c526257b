"""A finding accepted by a person with design authority who did not make the part. The finding itself never changes."""

from collections.abc import Sequence
from dataclasses import dataclass

from bladewright.errors import BadInput, MissingInput, NotAuthorised
from bladewright.figures import Outcome, canonical
from bladewright.proof.records import Deviation
from bladewright.proof.verdict import covers
from bladewright.records.acts import Act, Scope
from bladewright.records.blades import blade_named
from bladewright.records.hands import makers_of
from bladewright.records.judging import deviations_of, latest_row, refuse_unjudged_evidence, stored_verdict
from bladewright.records.ready import models
from bladewright.records.writing import writing


@dataclass(frozen=True, slots=True)
class DeviationAccepted:
    """An accepted deviation."""

    deviation: Deviation
    already: bool


def accept_deviation(act: Act, serial: str, rule: str, only_with: Sequence[str] = ()) -> DeviationAccepted:
    """Accept one failed or referred finding of the newest verdict; ``act.reason`` says why.

    ``only_with`` limits the blade to these mates.
    """
    if not act.reason.strip():
        raise MissingInput(
            "a deviation needs a reason", field="reason", value=act.reason, allowed="why it is accepted", fix="say why"
        )
    mates = tuple(sorted(set(only_with)))
    if serial in mates:
        raise BadInput("a blade is not its own mate", field="only_with", value=serial, fix="name the other blades")
    with writing(act, "deviation accepted", serial, Scope.DESIGN) as entry:
        blade = blade_named(serial)
        for mate in mates:
            blade_named(mate)
        before = _given(blade, rule, act.reason, mates)
        if before is not None:
            return DeviationAccepted(before, already=True)
        if act.by in makers_of(blade):
            raise NotAuthorised(
                f"{act.by} made this blade",
                field="by",
                value=act.by,
                allowed="a person with design authority who did not make the part",
                fix="ask another person with design authority",
            )
        verdict_sha256 = _deviable(blade, rule)
        number = f"D-{models.Deviation.objects.count() + 1}"
        entry.add(
            models.Deviation(
                number=number,
                blade=blade,
                rule=rule,
                only_with=canonical(mates).decode("ascii"),
                verdict_sha256=verdict_sha256,
            )
        )
    made = next(item for item in deviations_of(blade_named(serial)) if item.number == number)
    return DeviationAccepted(made, already=False)


def _given(blade: models.Blade, rule: str, reason: str, mates: tuple[str, ...]) -> Deviation | None:
    """This very deviation, if it was given before on what the newest verdict still finds."""
    newest = latest_row(blade)
    findings = () if newest is None else stored_verdict(newest).verdict.findings
    for old in deviations_of(blade):
        if (old.rule, old.reason, old.only_with) == (rule, reason, mates) and any(covers(old, f) for f in findings):
            return old
    return None


def _deviable(blade: models.Blade, rule: str) -> str:
    """The hash of the newest verdict, if it holds this rule and somebody may accept it."""
    row = latest_row(blade)
    if row is None:
        raise MissingInput(
            "was never judged", field="serial", value=blade.serial, allowed="a verdict", fix="judge it first"
        )
    refuse_unjudged_evidence(blade, row)
    newest = stored_verdict(row)
    findings = [f for f in newest.verdict.findings if f.rule == rule and f.outcome is not Outcome.PASS]
    open_rules = sorted({f.rule for f in newest.verdict.findings if f.outcome is not Outcome.PASS and f.deviable})
    if not findings:
        raise BadInput(
            "is not an open finding of this blade",
            field="rule",
            value=rule,
            allowed=", ".join(open_rules) or "none is open",
            fix="choose one of these",
        )
    if any(finding.outcome is Outcome.MISSING or not finding.deviable for finding in findings):
        raise BadInput(
            "cannot be accepted by anybody",
            field="rule",
            value=rule,
            allowed=", ".join(open_rules) or "none of this blade's findings",
            fix=findings[0].next_step or "get what is missing, or reject the blade",
        )
    return newest.sha256
