"""May this roll be used: one sentence first, then every figure it rests on and whatever is missing."""

import datetime

from bladewright.drawing.counting_rule import CountingRule
from bladewright.evidence.freezer_log import Roll
from bladewright.figures import Answered, Figure, Finding, Missing, Outcome
from bladewright.proof.adhesive import OUT, ROOM, SHELF, WARM, judge_roll
from bladewright.proof.affected_runs import worst_outcome
from bladewright.proof.lot_acceptance import NEEDS, NOT_ASKED, acceptance_said
from bladewright.proof.out_time import HOUR, out_time

_WORD = {
    Outcome.PASS: "Yes, by its log.",
    Outcome.REFER: "Only if a person with authority decides so.",
    Outcome.MISSING: "Not while this is missing.",
    Outcome.FAIL: "No.",
}
_NEEDS = {
    OUT: ("maker_limit", "before_receipt"),
    SHELF: ("expires",),
    ROOM: ("maker_warmest",),
    WARM: ("warm_up_least",),
    **NEEDS,
}


def may_be_used(roll: Roll, rule: CountingRule, now: datetime.datetime, needed: float = 0.0) -> Answered:
    """Whether a roll may be used for ``needed`` [s] more, why, and what would change the answer."""
    findings = judge_roll(roll, rule, now, needed)
    counted = out_time(roll, rule, now)
    deciding = [finding for finding in findings if finding.rule != WARM]  # it can still be warmed
    outcome = worst_outcome(deciding)
    against = [finding for finding in deciding if finding.outcome is outcome and outcome is not Outcome.PASS]
    told = " ".join((_WORD[outcome], *(_with_next_step(one) for one in against or deciding[:1])))
    warm = findings[-1]
    if outcome is not Outcome.FAIL and warm.outcome is not Outcome.PASS:
        told += f" Before it is opened: {warm.sentence}"
    if rule.acceptance is None:
        told += f" {NOT_ASKED}"
    elif outcome is Outcome.PASS:
        told += f" The acceptance test of lot {roll.lot} {acceptance_said(roll, rule.acceptance, now)}."
    if outcome is Outcome.PASS:
        told += " The log shows hours, not the film: a person who saw the roll decides."
    source = f"freezer log of roll {roll.number}"
    figures = [
        Figure(name, seconds / HOUR, "h", method="missing entries counted in full", source=source,
               validated=bool(rule.source))
        for name, seconds in (
            ("out-time on record", counted.logged),
            ("out-time nobody logged", counted.unlogged),
            ("still needed", needed),
            *((("left", rule.limit - counted.counted),) if rule.limit is not None else ()),
        )
    ]  # fmt: skip
    return Answered(f"May roll {roll.number} be used?", told, tuple(figures), _missing(roll, rule, findings))


def _with_next_step(finding: Finding) -> str:
    change = f" It would change with {finding.would_change}." if finding.would_change else ""
    return f"{finding.sentence} {finding.next_step}".strip() + change


def _missing(roll: Roll, rule: CountingRule, findings: tuple[Finding, ...]) -> tuple[Missing, ...]:
    """What is not entered, by the names it is entered under."""
    entered = {
        "maker_limit": rule.maker_limit,
        "maker_warmest": rule.maker_warmest,
        "warm_up_least": rule.warm_up_least,
        "before_receipt": roll.before_receipt,
        "expires": roll.expires,
    }
    return tuple(
        Missing(finding.rule, tuple(name for name in _NEEDS[finding.rule] if entered.get(name) is None))
        for finding in findings
        if finding.outcome is Outcome.MISSING
    )
