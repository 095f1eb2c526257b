"""Void maps: every bondline looked at over its whole span, and every void against the damage limits of its zone.

Three answers to a void and no fourth, from ``design.damage``: within the entered limit; outside, out of service until a
named person decides; no limit entered, out of service. No inspection measures bond strength: a map speaks of the voids
it found, not of the bond beside them.
"""

from collections.abc import Sequence
from dataclasses import replace

from bladewright.design.bondlines import Bondline, bondlines
from bladewright.design.damage import TIGHTENED, DamageAnswer, damage_answer
from bladewright.design.damage_place import Damage, length_text, require_on_the_blade
from bladewright.drawing.file import BladeDrawing
from bladewright.errors import BadInput, BladewrightError
from bladewright.evidence.records import LookedAt, Void, VoidMap
from bladewright.figures import WORST_FIRST, Finding, Outcome, Where
from bladewright.proof.comparing import ROUNDING
from bladewright.proof.wording import ruled

VOID_MAP = "void map"


def judge_void_maps(drawing: BladeDrawing, maps: Sequence[VoidMap]) -> tuple[Finding, ...]:
    """One finding for each void, and one for each bondline: looked at over its whole span, or where not."""
    if not maps:
        return ()
    voids = [_void(drawing, one, void) for one in maps for void in one.voids]
    drawn = bondlines(drawing)
    if not drawn:
        return (*voids, _nothing_drawn(maps))
    return (*voids, *(_coverage(line, maps) for line in drawn))


def damage_of(one: VoidMap, void: Void) -> Damage:
    """A void of a map as the damage limits are asked about it."""
    return Damage(
        "void",
        void.station,
        void.chordwise,
        along=void.along,
        across=void.across,
        uncertainty=one.uncertainty,
    )


def gaps_of(line: Bondline, maps: Sequence[VoidMap]) -> tuple[tuple[float, float], ...]:
    """Stretches of a bondline's span that no map looked at. [m]"""
    stretches = sorted((s.inner, s.outer) for one in maps for s in one.looked_at if s.bondline == line.name)
    slack, reached, gaps = ROUNDING * line.outer, line.inner, []
    for inner, outer in stretches:
        if inner > reached + slack and reached < line.outer:
            gaps.append((reached, min(inner, line.outer)))
        reached = max(reached, outer)
    if reached < line.outer - slack:
        gaps.append((reached, line.outer))
    return tuple(gaps)


def place_of(void: Void) -> str:
    """Where a void is, in words: like "spar to top skin, 2.660 m, 20 % chord"."""
    chord = "place on the chord not told" if void.chordwise is None else f"{100.0 * void.chordwise:.3g} % chord"
    return f"{void.bondline}, {void.station:.3f} m, {chord}"


def _void(drawing: BladeDrawing, one: VoidMap, void: Void) -> Finding:
    rule = f"{VOID_MAP}: void {void.number}, {place_of(void)}"
    where = (Where(one.source.file, f"void {void.number}", None, one.found_on.isoformat()),)
    size = f"{length_text(void.along)} by {length_text(void.across)}"
    try:
        answer = damage_answer(drawing, damage_of(one, void))
    except BladewrightError as error:  # it is no pass because it could not be asked
        return ruled(
            rule, Outcome.MISSING, f"A void of {size} was not judged: {error.what}.", proof=VOID_MAP, where=where,
            next_step="Look where it lies and file a map that says so.", would_change="a place on the drawn blade",
        )  # fmt: skip
    return _answered(drawing, one, rule, where, f"A void of {size}", answer)


def _answered(
    drawing: BladeDrawing, one: VoidMap, rule: str, where: tuple[Where, ...], what: str, answer: DamageAnswer
) -> Finding:
    outcome = answer.outcome
    said = f"{what}: {answer.word.value}."
    against = [finding for finding in answer.findings if finding.outcome is not Outcome.PASS]
    told = [finding.sentence.removesuffix(f": {answer.word.value}") for finding in against]
    said += "".join(f" {one[:1].upper()}{one[1:]}." for one in told)
    said += "".join(f" Not worked out: {gap.name}." for gap in answer.missing if gap.needs)
    if outcome is Outcome.PASS and one.uncertainty is None:
        outcome = Outcome.REFER
        said += " The uncertainty of its size was not entered, so inside cannot be told from outside."
    deciding = min(answer.findings, key=lambda finding: WORST_FIRST.index(finding.outcome), default=None)
    limits = drawing.limits.damage
    worst = replace(deciding.worst, method=one.method, source=one.source.file) if deciding and deciding.worst else None
    tightened = any(finding.rule == TIGHTENED for finding in against)
    return ruled(
        rule,
        outcome,
        said,
        proof=VOID_MAP,
        worst=worst,
        limit=deciding.limit if deciding else "none entered for this place",
        limit_source=deciding.limit_source if deciding else (limits.source if limits else ""),
        where=where,
        deviable=outcome in (Outcome.FAIL, Outcome.REFER) and not tightened,
        next_step=_next_step(outcome, tightened, limits.decided_by if limits else None),
        would_change="; ".join(answer.would_change),
    )


def _next_step(outcome: Outcome, tightened: bool, decided_by: str | None) -> str:
    if outcome is Outcome.MISSING and tightened:
        return "Enter what the calculation waits for, in a drawing revision."
    if outcome is Outcome.MISSING:
        return "Out of service: enter the limit for this zone, with its source, in a drawing revision."
    if outcome is Outcome.REFER:
        return "Measure the void again and say how well its size is known, or let a named person decide."
    if tightened:
        return "Out of service: the margin with this void is negative; reject the blade."
    return f"Out of service until a named person decides: {decided_by or 'one with design authority'}."


def _coverage(line: Bondline, maps: Sequence[VoidMap]) -> Finding:
    """Whether the maps together looked at a bondline from end to end."""
    gaps = gaps_of(line, maps)
    rule = f"{VOID_MAP}: {line.name}, whole span"
    where = tuple(Where(one.source.file, line.name, None, one.found_on.isoformat()) for one in maps)
    whole = f"{line.inner:.3f} m to {line.outer:.3f} m"
    if not gaps:
        said = f"The bondline {line.name} was looked at from {whole}."
    else:
        open_ = ", ".join(f"{inner:.3f} m to {outer:.3f} m" for inner, outer in gaps)
        said = f"The bondline {line.name} was not looked at from {open_}: what is there is not known."
    return ruled(
        rule,
        Outcome.MISSING if gaps else Outcome.PASS,
        said,
        proof=VOID_MAP,
        limit=f"looked at from {whole}",
        limit_source="the drawing's required proofs",
        where=where,
        next_step=f"Look at the {line.name} there and file a map of it.",
        would_change="a map of the stretch nobody looked at",
    )


def _nothing_drawn(maps: Sequence[VoidMap]) -> Finding:
    return ruled(
        f"{VOID_MAP}: whole span",
        Outcome.MISSING,
        "Not judged: the drawing has no spar, doubler or adhesive, so which bonds had to be looked at is not known.",
        proof=VOID_MAP,
        where=tuple(Where(one.source.file) for one in maps),
        next_step="Enter spar and adhesive in a drawing revision.",
        would_change="the bonds entered in the drawing",
    )


def unplaced(drawing: BladeDrawing, one: VoidMap) -> tuple[BadInput, ...]:
    """What a map says of bonds and places the drawn blade does not have, each with the entry that says it."""
    names = [line.name for line in bondlines(drawing)]
    rows: list[tuple[str, Void | LookedAt]] = [(f"looked_at.{n}", row) for n, row in enumerate(one.looked_at, 1)]
    rows += [(f"voids.{void.number}", void) for void in one.voids]
    wrong = [
        BadInput(
            "is no bondline of this drawing", file=one.source.file, field=f"{field}.bondline", value=row.bondline,
            allowed=", ".join(names), fix="name it as the drawing's parts are named",
        )
        for field, row in rows
        if row.bondline not in names
    ]  # fmt: skip
    for void in one.voids:
        try:
            require_on_the_blade(damage_of(one, void), drawing)
        except BadInput as error:
            error.file, error.field = one.source.file, f"voids.{void.number}.{error.field}"
            wrong.append(error)
    return tuple(wrong)
