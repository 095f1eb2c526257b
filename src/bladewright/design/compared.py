"""Compare a change: every answer of two drawings side by side, what moved first."""

import dataclasses
from collections.abc import Mapping
from dataclasses import dataclass

from bladewright.design.answers import design_answers
from bladewright.drawing.file import BladeDrawing
from bladewright.figures import Figure, Missing

STILL = 1e-9  # of the larger value: below this a difference is rounding
SLIGHT = 1e-3  # of the larger value: below this an answer moved, but nobody would act on it; our own choice


@dataclass(frozen=True, slots=True)
class Compared:
    """One answer before and after; None where one of the drawings does not give it."""

    name: str
    old: Figure | None
    new: Figure | None

    @property
    def difference(self) -> Figure | None:
        """New less old, where both are known. Its own uncertainty is that of neither, so it is not quantified."""
        if self.old is None or self.new is None:
            return None
        return dataclasses.replace(
            self.new,
            value=self.new.value - self.old.value,
            uncertainty=None,
            inside_validity=self.old.inside_validity and self.new.inside_validity,
            validated=self.old.validated and self.new.validated,
        )

    @property
    def share(self) -> float:
        """How far the answer moved, of the larger of the two values. [1]"""
        if self.old is None or self.new is None:
            return 1.0
        larger = max(abs(self.old.value), abs(self.new.value))
        return abs(self.new.value - self.old.value) / larger if larger > 0.0 else 0.0


@dataclass(frozen=True, slots=True)
class Comparison:
    """Every answer, and what neither or only one of the drawings can answer."""

    moved: tuple[Compared, ...]
    slightly: tuple[Compared, ...]  # by less than a thousandth
    still: tuple[Compared, ...]
    missing: tuple[Missing, ...]  # of the changed drawing


def compared(before: BladeDrawing, after: BladeDrawing) -> Comparison:
    """The answers of the two drawings, those that moved apart from those that did not."""
    old, _ = design_answers(before)
    new, missing = design_answers(after)
    return side_by_side(old, new, missing)


def side_by_side(old: Mapping[str, Figure], new: Mapping[str, Figure], missing: tuple[Missing, ...]) -> Comparison:
    """Answers already worked out, by name; ``missing``: of the second drawing."""
    rows = [Compared(name, old.get(name), new.get(name)) for name in dict.fromkeys((*old, *new))]
    return Comparison(
        moved=tuple(row for row in rows if row.share >= SLIGHT),
        slightly=tuple(row for row in rows if STILL < row.share < SLIGHT),
        still=tuple(row for row in rows if row.share <= STILL),
        missing=missing,
    )
