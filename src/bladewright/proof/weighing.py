"""The finished blade against the rig's master. The last day counts; an earlier weighing outside is not forgotten."""

from bladewright.drawing.limits import WeighLimits
from bladewright.evidence.records import Weighing
from bladewright.figures import Figure, Finding, Outcome, Where
from bladewright.proof.comparing import held_to
from bladewright.proof.wording import no_limit, ruled

SPAN_MOMENT, CHORDWISE = "weighing: span moment", "weighing: chordwise centre"


def judge_weighings(weighings: tuple[Weighing, ...], limits: WeighLimits | None) -> tuple[Finding, ...]:
    """Both rules on the weighings of the last day, and whether an earlier one was outside."""
    if not weighings:
        return ()
    if limits is None:
        return (no_limit("weighing: limits", "weighing", "limits.weighing", (Where(weighings[0].source.file),)),)
    last_day = max(weighing.weighed_on for weighing in weighings)
    found: list[Finding] = []
    for weighing in weighings:
        if weighing.weighed_on == last_day:
            found += [span_moment(weighing, limits), chordwise_centre(weighing, limits)]
    for weighing in weighings:
        if weighing.weighed_on < last_day:
            found += _earlier(weighing, limits)
    return tuple(found)


def span_moment(weighing: Weighing, limits: WeighLimits) -> Finding:
    """Span moment, blade less master, against the limit either way."""
    return _held(
        weighing,
        SPAN_MOMENT,
        "span moment",
        (weighing.span_moment_difference, weighing.span_moment_uncertainty),
        (limits.span_moment, limits.source),
        ("kg m", 1.0),
    )


def chordwise_centre(weighing: Weighing, limits: WeighLimits) -> Finding:
    """Chordwise mass centre, blade less master, against the limit either way."""
    if weighing.chordwise_difference is None:
        return ruled(
            rule=CHORDWISE,
            outcome=Outcome.MISSING,
            sentence="The chordwise centre was not compared with the master.",
            proof="weighing",
            limit=f"within {1000.0 * limits.chordwise_centre:.4g} mm of the master",
            limit_source=limits.source,
            where=(Where(weighing.source.file),),
            next_step="Weigh again, with the chordwise readings.",
            would_change="the chordwise readings",
        )
    return _held(
        weighing,
        CHORDWISE,
        "chordwise centre",
        (weighing.chordwise_difference, weighing.chordwise_uncertainty),
        (limits.chordwise_centre, limits.source),
        ("mm", 1000.0),
    )


def _held(
    weighing: Weighing,
    rule: str,
    what: str,
    difference: tuple[float, float | None],
    limit: tuple[float, str | None],
    shown: tuple[str, float],
) -> Finding:
    value, spread = difference
    greatest, source = limit
    unit, scale = shown
    outcome = held_to(value, least=-greatest, greatest=greatest, uncertainty=spread)
    said = f"The {what} differs from master {weighing.master} by {scale * value:+.4g} {unit}"
    said += f"; {scale * greatest:.4g} {unit} is allowed either way."
    if spread is None:
        outcome = Outcome.REFER if outcome is Outcome.PASS else outcome
        said += " Its uncertainty was not entered, so inside cannot be told from outside."
    return ruled(
        rule=rule,
        outcome=outcome,
        sentence=said,
        proof="weighing",
        worst=Figure(
            f"{what} difference", scale * value, unit, None if spread is None else scale * spread,
            method="blade less master, laid on the rig in turn", source=weighing.source.file, validated=bool(source),
        ),
        limit=f"within {scale * greatest:.4g} {unit} of the master",
        limit_source=source,
        where=(Where(weighing.source.file, weighing.rig, None, weighing.weighed_on.isoformat()),),
        next_step="Find why before weight is added or taken; then weigh again.",
        would_change="a weighing with less uncertainty, or after balance weight",
    )  # fmt: skip


def _earlier(weighing: Weighing, limits: WeighLimits) -> list[Finding]:
    """An earlier weighing that was not a pass: the blade may be right now, but someone must say what was done."""
    was = [f for f in (span_moment(weighing, limits), chordwise_centre(weighing, limits)) if f.outcome is Outcome.FAIL]
    day = weighing.weighed_on.isoformat()
    return [
        ruled(
            rule=f"{finding.rule}, as weighed {day}",
            outcome=Outcome.REFER,
            sentence=f"On {day} it was outside: {finding.sentence} The later weighing does not say what was changed.",
            proof="weighing",
            worst=finding.worst,
            limit=finding.limit,
            limit_source=finding.limit_source,
            where=finding.where,
            next_step="Enter what was changed between the weighings.",
            would_change="a named person's account of what was changed",
        )
        for finding in was
    ]
