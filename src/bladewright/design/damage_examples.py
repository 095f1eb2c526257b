"""Damage a shop asks about most, answered for the drawn blade: examples, and no part of whether it is whole."""

from collections.abc import Iterator

from bladewright.design.damage import damage_answer
from bladewright.design.damage_place import Damage
from bladewright.drawing.file import BladeDrawing
from bladewright.figures import Answered

NOSE, BOND = 0.0, 0.18  # places on the chord: the leading edge; the middle of the spar's bond [chord fraction]
MILLI, INCH = 1e-3, 25.4e-3  # [m]


def damage_examples(drawing: BladeDrawing) -> tuple[Answered, ...]:
    """A wide bondline, a void and a nick, each with the entered limits' word and what it costs beside a clean blade."""
    return tuple(_answered(drawing, damage) for damage in _asked(drawing.planform.tip))


def _asked(tip: float) -> Iterator[Damage]:
    """The sizes the shop's own questions name; the tip's radius in metres."""
    yield Damage("bondline", 0.5 * tip, None, thickness=0.007 * INCH)
    yield Damage("void", 0.9 * tip, BOND, along=40.0 * MILLI, across=12.0 * MILLI)
    yield Damage("nick", 0.75 * tip, NOSE, depth=0.4 * MILLI)


def _answered(drawing: BladeDrawing, damage: Damage) -> Answered:
    answer = damage_answer(drawing, damage)
    said = "; ".join(f"{one.rule.partition(':')[0]}, {one.sentence.rpartition(':')[0]}" for one in answer.findings)
    told = f"{answer.word.value.upper()}. {said[:1].upper()}{said[1:]}. Who may decide: {answer.who}."
    told += f" What would change this: {'; '.join(answer.would_change)}."
    return Answered(f"What if: {answer.question}?", told, answer.figures, answer.missing)
