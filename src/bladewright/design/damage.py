"""A nick, a dent, a void, a bondline: what the entered limits say first, and whether a calculation tightens it."""

import dataclasses
from dataclasses import dataclass

from bladewright.design.damage_limits import OUTCOMES, PROOF, LimitAnswer, Word, against_limits
from bladewright.design.damage_place import Damage, length_text, require_on_the_blade
from bladewright.design.damage_worth import damage_worth
from bladewright.design.strength_case import LoadedBlade, loaded_blade
from bladewright.design.worth import Worth
from bladewright.drawing.file import BladeDrawing
from bladewright.figures import WORST_FIRST, Figure, Finding, Missing, Outcome

SIGNER = "a named person with design authority who did not make or repair the blade"
TIGHTENED = "the calculation"
ENTERED = "a limit entered for this zone"


@dataclass(frozen=True, slots=True)
class DamageAnswer:
    """The word, how it came about, and who may decide otherwise."""

    question: str
    word: Word
    findings: tuple[Finding, ...]
    figures: tuple[Figure, ...]  # the sizes told, then margins without and with the damage
    missing: tuple[Missing, ...]
    not_told: tuple[str, ...]  # what would have helped, by its option
    who: str
    would_change: tuple[str, ...]

    @property
    def outcome(self) -> Outcome:
        """Pass only within an entered limit that a calculation was asked of and did not tighten."""
        return min((OUTCOMES[self.word], *(one.outcome for one in self.findings)), key=WORST_FIRST.index)


def damage_answer(drawing: BladeDrawing, damage: Damage) -> DamageAnswer:
    """The entered limits' word; a negative margin turns "within" into "outside", and nothing turns it back."""
    require_on_the_blade(damage, drawing)
    limits = against_limits(damage, drawing)
    loaded = loaded_blade(drawing)
    if isinstance(loaded, LoadedBlade):
        worth = damage_worth(damage, drawing, loaded)
        gaps = (*loaded.missing, *worth.missing)
        unasked = tuple(gap for gap in gaps if _waits_for_an_entry(gap))
    else:
        worth, gaps, unasked = Worth(None, (), (), ()), loaded, loaded
    word, findings = _tightened(limits, worth)
    if word is Word.WITHIN and unasked:
        findings = (_not_asked(unasked), *findings)
    entered = drawing.limits.damage
    return DamageAnswer(
        question=question_of(damage, drawing),
        word=word,
        findings=findings,
        figures=(*_told(damage, drawing), *worth.figures),
        missing=tuple(dict.fromkeys((*limits.missing, *gaps))),
        not_told=_not_told(damage),
        who=f"{entered.decided_by}: {SIGNER}" if entered and entered.decided_by else SIGNER,
        would_change=tuple(dict.fromkeys((*_within(limits), ENTERED, *worth.would_change))),
    )


def question_of(damage: Damage, drawing: BladeDrawing) -> str:
    """The damage in words, its station also as a share of the radius."""
    sizes = " x ".join(length_text(value) for value in damage.sizes().values())
    place = "place on the chord not told" if damage.chordwise is None else f"{100 * damage.chordwise:.3g} % chord"
    share = damage.station / drawing.planform.tip
    what = "bondline of" if damage.kind == "bondline" else f"{damage.kind} of"
    where = "" if damage.kind == "bondline" else f", {place}"
    return f"{what} {sizes} at {damage.station:.4g} m ({share:.3g} R){where}"


def _within(limits: LimitAnswer) -> tuple[str, ...]:
    """What each size that is outside would have to be."""
    outside = (finding for finding in limits.findings if finding.outcome is Outcome.FAIL)
    return tuple(f"{finding.rule.rsplit(',', 1)[0]}: {finding.limit}" for finding in outside)


def _tightened(limits: LimitAnswer, worth: Worth) -> tuple[Word, tuple[Finding, ...]]:
    if worth.margin is None or worth.margin >= 0.0:
        return limits.word, limits.findings
    margin = min((one for one in worth.figures if one.unit == "1" and one.value < 0.0), key=lambda one: one.value)
    said = f"margin of safety {worth.margin:+.2f} with the damage: {margin.method}"
    finding = Finding(
        rule=TIGHTENED, outcome=Outcome.FAIL, sentence=f"{said}: {Word.OUTSIDE.value}", proof=PROOF,
        worst=dataclasses.replace(margin, value=worth.margin), limit="margin of safety at least 0",
        limit_source=margin.source or "no source entered: unvalidated data", deviable=False,
        would_change="; ".join(worth.would_change),
    )  # fmt: skip
    return Word.OUTSIDE, (finding, *limits.findings)


def _waits_for_an_entry(gap: Missing) -> bool:
    """Whether somebody may end it by entering something; what no entry ends is shown, and weighed by a person."""
    return any(need.partition(".")[0] in BladeDrawing.model_fields for need in gap.needs)


def _not_asked(gaps: tuple[Missing, ...]) -> Finding:
    """Without its entries the calculation cannot tighten: leaving them out must not be the way to a pass."""
    needs = ", ".join(dict.fromkeys(need for gap in gaps for need in gap.needs))
    return Finding(
        rule=TIGHTENED, outcome=Outcome.MISSING, sentence=f"could not be asked whether it is tighter: {needs}",
        proof=PROOF, limit="margin of safety at least 0", limit_source="", deviable=False,
        would_change=f"entered: {needs}",
    )  # fmt: skip


def _told(damage: Damage, drawing: BladeDrawing) -> tuple[Figure, ...]:
    rows = [Figure(f"{name}, as told", value, "m", damage.uncertainty) for name, value in damage.sizes().items()]
    rows.append(Figure("station", damage.station, "m", method=f"{damage.station / drawing.planform.tip:.4g} R"))
    if damage.root_radius is not None:
        rows.append(Figure("radius of the nick's bottom, as told", damage.root_radius, "m", damage.uncertainty))
    return tuple(rows)


def _not_told(damage: Damage) -> tuple[str, ...]:
    gaps = []
    if damage.chordwise is None and damage.kind != "bondline":
        gaps.append("--chordwise: every zone at this station was asked")
    if damage.uncertainty is None:
        gaps.append("--uncertainty: the sizes were taken as exact")
    if damage.kind == "nick" and damage.root_radius is None:
        gaps.append("--root-radius: the sharpest bottom was taken")
    return tuple(gaps)
