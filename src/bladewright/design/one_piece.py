"""Does it stay in one piece: every margin of the drawn blade with its source, gathered for one page."""

from collections.abc import Iterable
from dataclasses import dataclass

from bladewright.design.damage_examples import damage_examples
from bladewright.design.droop import droop
from bladewright.design.fan_charts import fan_charts
from bladewright.design.flutter_charts import flutter_charts
from bladewright.design.flutter_margin import as_drawn, flutter_margin
from bladewright.design.frequencies import frequencies
from bladewright.design.life import ESTIMATE, life, unguarded
from bladewright.design.strength_case import StrengthCase, strength_case
from bladewright.design.strength_charts import strength_charts
from bladewright.drawing.file import BladeDrawing
from bladewright.figures import (
    WORST_FIRST,
    Answered,
    Bars,
    Chart,
    Figure,
    Finding,
    Missing,
    Outcome,
    counted,
    worst_of,
)

FIRST = 2  # of each part's findings that do not pass, on the first page
QUESTION = "Does it stay in one piece?"
WORDS = {
    Outcome.PASS: "Every margin asked for was found and holds",
    Outcome.REFER: "A named person decides",
    Outcome.MISSING: "Not known: something is missing",
    Outcome.FAIL: "No: a margin does not hold",
}

#: before the first of the worst findings, where something else is told ahead of it
WORDED = {
    Outcome.PASS: "Nearest: ",
    Outcome.REFER: "Referred first: ",
    Outcome.MISSING: "Missing first: ",
    Outcome.FAIL: "Fails first: ",
}


@dataclass(frozen=True, slots=True)
class Part:
    """One part of the answer: its findings, the figures behind them, and what governs it."""

    name: str
    question: str
    findings: tuple[Finding, ...]
    figures: tuple[Figure, ...]
    missing: tuple[Missing, ...]
    lead: str = ""  # what is told before what governs

    @property
    def outcome(self) -> Outcome:
        """The worst of its findings; where something is missing never better than that."""
        judged = worst_of(self.findings)
        return worst_outcome((judged, Outcome.MISSING)) if self.missing else judged

    @property
    def governing(self) -> Finding | None:
        """The first of its worst findings: each part has the nearest to its limit first."""
        worst = worst_of(self.findings)
        return next((one for one in self.findings if one.outcome is worst), None)

    @property
    def next_step(self) -> str:
        """What to do about it: enter what is missing, then what governs says; empty where all passes."""
        needs = dict.fromkeys(need for gap in self.missing for need in gap.needs)
        steps = [f"enter {', '.join(needs)}"] if needs else []
        if self.governing is not None and self.governing.outcome is not Outcome.PASS and self.governing.next_step:
            steps.append(self.governing.next_step)
        return "; then ".join(steps)

    @property
    def told(self) -> str:
        """What governs it, how many rules said what, and how much is missing."""
        if self.governing is None:
            return "; ".join(str(gap) for gap in self.missing) or "nothing was judged"
        counts = ", ".join(
            f"{count} {outcome.value}"
            for outcome in WORST_FIRST
            if (count := sum(one.outcome is outcome for one in self.findings))
        )
        first = WORDED[self.governing.outcome] if self.lead else ""
        told = f"{self.lead}{first}{_capital(self.governing.rule)}: {self.governing.sentence.rstrip('.')}."
        told += f" Of {counted(len(self.findings), 'rule')}: {counts}."
        waits = f"{counted(len(self.missing), 'answer')} not known: {'; '.join(gap.name for gap in self.missing)}"
        return f"{told} {waits}." if self.missing else told

    @property
    def told_with_next(self) -> str:
        """The same, and what to do next."""
        return f"{self.told} Next: {self.next_step}." if self.next_step else self.told


@dataclass(frozen=True, slots=True)
class OnePiece:
    """Everything that bears on the question, as plain data."""

    question: str
    parts: tuple[Part, ...]
    pictures: tuple[Chart | Bars, ...]
    examples: tuple[Answered, ...] = ()  # damage that may happen to it, no part of the whole

    @property
    def findings(self) -> tuple[Finding, ...]:
        """Of every part."""
        return tuple(finding for part in self.parts for finding in part.findings)

    @property
    def foremost(self) -> tuple[Finding, ...]:
        """Of each part the nearest to its limit and the first that do not pass: what a reader looks at first."""
        return tuple(dict.fromkeys(finding for part in self.parts for finding in _first_of(part)))

    @property
    def missing(self) -> tuple[Missing, ...]:
        """Of every part, each once."""
        return tuple(dict.fromkeys(gap for part in self.parts for gap in part.missing))

    @property
    def outcome(self) -> Outcome:
        """The worst of the parts."""
        return worst_outcome(part.outcome for part in self.parts)

    @property
    def word(self) -> str:
        """The outcome in words."""
        return WORDS[self.outcome]

    @property
    def answers(self) -> tuple[Answered, ...]:
        """Each part as a question with its answer, then the examples."""
        own = (Answered(part.question, part.told, part.figures, part.missing) for part in self.parts)
        return (*own, *self.examples)


def worst_outcome(outcomes: Iterable[Outcome]) -> Outcome:
    """The worst of some outcomes; of none, ``missing``."""
    return min(outcomes, key=WORST_FIRST.index, default=Outcome.MISSING)


def one_piece(drawing: BladeDrawing) -> OnePiece:
    """Frequencies, droop, flutter, strength and life of the drawn blade, with examples of damage."""
    modes, hanging, margin = frequencies(drawing), droop(drawing), flutter_margin(drawing)
    strength, lasting = strength_case(drawing), life(drawing)
    parts = (
        Part("Frequencies", "Does a mode come near what shakes it?", modes.findings, modes.figures, modes.missing),
        Part("Droop and coning", "Does it clear its stops?", hanging.findings, hanging.figures, hanging.missing),
        Part(
            "Flutter",
            "Does it flutter or twist off?",
            margin.findings,
            margin.figures,
            margin.missing,
            as_drawn(margin),
        ),
        Part(
            "Strength",
            "Does it bear its loads?",
            strength.findings,
            strength.figures,
            strength.missing,
            _least(strength),
        ),
        Part(
            f"Life: {ESTIMATE}",
            "How long should it last?",
            lasting.findings,
            lasting.figures,
            lasting.missing,
            unguarded(lasting),
        ),
    )
    pictures = (*fan_charts(modes), *flutter_charts(margin), *strength_charts(strength))
    return OnePiece(QUESTION, parts, pictures, damage_examples(drawing))


def _first_of(part: Part) -> tuple[Finding, ...]:
    worst = sorted(
        (one for one in part.findings if one.outcome is not Outcome.PASS),
        key=lambda one: WORST_FIRST.index(one.outcome),
    )
    return (*part.findings[:1], *worst[:FIRST]) if worst else ()


def _least(found: StrengthCase) -> str:
    """The least margin whatever its outcome, and a skin that buckles, before what is referred."""
    if found.governing is None:
        return ""
    told = f"Least margin: {found.governing.check}, {found.governing.finding.sentence}. "
    waves = [one for one in found.screens if one.outcome is not Outcome.PASS and one.worst is not None]
    if waves:
        worst = max(waves, key=lambda one: one.worst.value if one.worst else 0.0)
        told += f"{_capital(worst.rule)}: {worst.sentence.partition(':')[0]}. "
    return told


def _capital(text: str) -> str:
    return text[:1].upper() + text[1:]
