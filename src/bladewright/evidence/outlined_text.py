"""Outlines as a person types them: corners as "across,down", one outline a line; and drawn ones as such a text."""

import re
from collections.abc import Callable, Sequence
from dataclasses import dataclass
from typing import Final, TypeVar, get_args

from bladewright import units
from bladewright.errors import BadInput, BladewrightError, SeveralBadInputs
from bladewright.evidence.outlined import MOST_AREAS, MOST_CORNERS, Corner, Mark, Outline
from bladewright.evidence.records import FailureMode

T = TypeVar("T")

_CORNER: Final = re.compile(r"(\d{1,5}(?:\.\d{1,3})?),(\d{1,5}(?:\.\d{1,3})?)", re.ASCII)
_MODES: Final = {mode.casefold(): mode for mode in get_args(FailureMode)}
_EXAMPLE: Final = "12,30 388,31 388,96 12,95"


def corners_of(text: str, field: str, row: int = 1, least: int = 3) -> tuple[Corner, ...]:
    """The corners in a text; ``BadInput`` names the word that is none."""
    words = text.replace(";", " ").split()
    read = [_CORNER.fullmatch(word) for word in words]
    wrong = next((word for word, found in zip(words, read, strict=True) if found is None), None)
    if wrong is not None or not least <= len(words) <= MOST_CORNERS:
        raise BadInput(
            "is no corner" if wrong is not None else f"has {len(words)} corners", field=field, row=row,
            value=text if wrong is None else wrong,
            allowed=f'{least} to {MOST_CORNERS} corners, pixels across and down, like "{_EXAMPLE}"',
            fix="a comma inside each corner, a blank between two",
        )  # fmt: skip
    return tuple((float(found[1]), float(found[2])) for found in read if found is not None)


def areas_of(text: str, field: str = "areas") -> tuple[Outline, ...]:
    """One area a line: ``AF: 12,30 388,31 388,96``."""
    found, wrong = [], list[BladewrightError]()
    for row, line in _lines(text, field):
        mode, colon, corners = line.partition(":")
        known = _MODES.get(mode.strip().casefold())
        try:
            if known is None or not colon:
                raise BadInput(
                    "names no failure mode", field=field, row=row, value=line, allowed=f"{', '.join(_MODES.values())}",
                    fix=f'begin the line with one of them and a colon: "AF: {_EXAMPLE}"',
                )  # fmt: skip
            found.append(Outline(known, corners_of(corners, field, row)))
        except BadInput as error:
            wrong.append(error)
    if wrong:
        raise SeveralBadInputs(wrong)
    return tuple(found)


def marks_of(text: str, field: str = "marks") -> tuple[Mark, ...]:
    """One known length a line, with its two ends: ``1.000 in: 54,30 54,182``."""
    found, wrong = [], list[BladewrightError]()
    for row, line in _lines(text, field):
        length, colon, ends = line.partition(":")
        try:
            metres = units.to_si(length, "length") if colon else 0.0
            if not metres > 0.0:
                raise BadInput(
                    "is no length with two ends", field=field, row=row, value=line,
                    allowed='a length above zero, a colon, its two ends: "1.000 in: 54,30 54,182"', fix="write it so",
                )  # fmt: skip
            start, *rest = corners_of(ends, field, row, least=2)
            if len(rest) != 1:
                raise BadInput(
                    "has more than two ends", field=field, row=row, value=line, allowed="two corners", fix="leave two"
                )
            found.append(Mark(metres, start, rest[0]))
        except BadInput as error:
            error.field, error.row = field, row
            wrong.append(error)
    if wrong:
        raise SeveralBadInputs(wrong)
    return tuple(found)


@dataclass(frozen=True, slots=True)
class Typed:
    """All that was typed about one photograph."""

    outline: tuple[Corner, ...]
    marks: tuple[Mark, ...]
    areas: tuple[Outline, ...]


def typed_outlines(outline: str, marks: str, areas: str) -> Typed:
    """The three entries together; ``SeveralBadInputs`` names everything wrong in any of them."""
    wrong: list[BladewrightError] = []

    def read(reading: Callable[[], T], otherwise: T) -> T:
        try:
            return reading()
        except SeveralBadInputs as error:
            wrong.extend(error.errors)
        except BadInput as error:
            wrong.append(error)
        return otherwise

    typed = Typed(
        read(lambda: corners_of(outline, "outline"), ()),
        read(lambda: marks_of(marks), ()),
        read(lambda: areas_of(areas), ()),
    )
    if wrong:
        raise SeveralBadInputs(wrong)
    return typed


def _lines(text: str, field: str) -> list[tuple[int, str]]:
    lines = [(row, line.strip()) for row, line in enumerate(text.splitlines(), start=1) if line.strip()]
    if len(lines) > MOST_AREAS:
        raise BadInput(
            "has too many lines",
            field=field,
            value=len(lines),
            allowed=f"at most {MOST_AREAS}",
            fix="leave the small ones",
        )
    return lines


def corners_text(corners: Sequence[Corner]) -> str:
    """Corners as they are typed; also how a picture takes them."""
    return " ".join(f"{across:.7g},{down:.7g}" for across, down in corners)


def areas_text(areas: Sequence[Outline]) -> str:
    """Areas as they are typed."""
    return "\n".join(f"{area.mode}: {corners_text(area.corners)}" for area in areas)


def marks_text(marks: Sequence[Mark]) -> str:
    """Marked lengths as they are typed."""
    return "\n".join(f"{1000.0 * mark.length:.6g} mm: {corners_text((mark.start, mark.end))}" for mark in marks)
