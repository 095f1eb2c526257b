"""What the bytes of a log show by themselves: how they are written, where the table stands, what its cells look like.

Only a suggestion is made of this. No reading is ever taken by it.
"""

import codecs
import csv
import io
import re
from collections import Counter
from dataclasses import dataclass
from typing import Final

from bladewright.errors import BadInput
from bladewright.evidence.description import FileForm
from bladewright.evidence.files import as_utf8
from bladewright.evidence.table import DELIMITERS, refuse_hidden

_NUMBER: Final = re.compile(r"[+-]?(?:\d+[.,]?\d*|[.,]\d+)(?:[eE][+-]?\d+)?", re.ASCII)
_PARTED: Final = re.compile("[;\t]")
_CLOCK_FORM: Final = r"\d{1,2}:\d{2}(?!\d)"
_DATE_FORM: Final = r"(?:\d{1,4}([-/. ])(?:\d{1,2}|[A-Za-z]{3})\1\d{1,4}(?!\d)|[A-Za-z]{3} \d{1,2},? \d{4})"
_DATE: Final = re.compile(f"^{_DATE_FORM}")
_CLOCK: Final = re.compile(f"^(?:{_DATE_FORM}[ Tt])?{_CLOCK_FORM}")
#: of the cells that hold anything, so many must be readable, or alike; our own choice
MOSTLY: Final = 0.5
_ALIKE: Final = 0.9
_FEWEST_CELLS: Final = 2


@dataclass(frozen=True, slots=True)
class Seen:
    """A value the bytes show, or the several they allow; and why."""

    values: tuple[str, ...]
    why: str


@dataclass(frozen=True, slots=True)
class Column:
    """One column of the table as it looks."""

    number: int  # from 1
    name: str
    label: str  # from the row of units
    cells: tuple[str, ...]

    @property
    def held(self) -> tuple[str, ...]:
        """The cells that are not empty."""
        return tuple(cell for cell in self.cells if cell)

    @property
    def is_number(self) -> bool:
        """Whether most of it is numbers."""
        return bool(self.held) and sum(map(is_number, self.held)) >= MOSTLY * len(self.held)

    def looks(self, shape: re.Pattern[str]) -> bool:
        """Whether nearly every cell has the shape."""
        return bool(self.held) and sum(bool(shape.search(cell)) for cell in self.held) >= _ALIKE * len(self.held)

    @property
    def has_date(self) -> bool:
        """Whether its cells begin with a date."""
        return self.looks(_DATE)

    @property
    def has_clock(self) -> bool:
        """Whether its cells hold a time of day."""
        return self.looks(_CLOCK)


@dataclass(frozen=True, slots=True)
class Look:
    """A log as it looks. Rows are counted from 1."""

    encoding: Seen
    delimiter: Seen
    names_row: int | None
    units_row: int | None
    first_row: int
    lines_after: int  # lines after the table, behind a blank one
    ends_its_last_line: bool
    columns: tuple[Column, ...]


def is_number(cell: str) -> bool:
    """Whether a cell is a number with a point or a comma, or none."""
    return _NUMBER.fullmatch(cell) is not None


def looked_at(data: bytes, file: str) -> Look:
    """The log as it looks; ``BadInput`` where it is no text or holds no table."""
    encoding = _encoding(data)
    form = FileForm.model_validate({"encoding": encoding.values[0], "delimiter": "tab", "decimal_mark": "point"})
    text = as_utf8(data, form, file).decode("utf-8")
    lines = text.split("\n")
    parted = {name: _rows(lines, mark) for name, mark in DELIMITERS.items()}
    shares = {name: _share(rows) for name, rows in parted.items()}
    counts = {name: len(_body(rows)) for name, rows in parted.items()}
    best = max(shares, key=lambda name: shares[name] * counts[name])
    if shares[best] < MOSTLY:
        raise BadInput(
            "holds no table that can be made out",
            file=file,
            allowed="rows of numbers parted by " + ", ".join(DELIMITERS),
            fix="write the logger description by hand, from a look at the file in a plain editor",
        )
    also = tuple(name for name in shares if name != best and min(shares[name], counts[name] / counts[best]) >= MOSTLY)
    delimiter = Seen((best, *also), f"parted so, {shares[best]:.0%} of the cells read as numbers, times or nothing")
    look = _table(parted[best], encoding, delimiter, ends=text.endswith("\n"))
    refuse_hidden(tuple(column.name for column in look.columns), look.names_row or look.first_row, file)
    return look


def _encoding(data: bytes) -> Seen:
    if data.startswith((codecs.BOM_UTF16_LE, codecs.BOM_UTF16_BE)):
        return Seen(("utf-16",), "the file starts with its mark")
    if data.startswith(codecs.BOM_UTF8):
        return Seen(("utf-8-sig",), "the file starts with its mark")
    if data.isascii():
        return Seen(("utf-8",), "this file has plain letters only, and those are the same in it")
    try:
        data.decode("utf-8")
    except UnicodeDecodeError:
        return Seen(("latin-1", "windows-1252"), "it is not utf-8, and both of these would read it")
    return Seen(("utf-8",), "it has other than plain letters, and all of them read so")


def _rows(lines: list[str], mark: str) -> list[tuple[str, ...]]:
    """The cells of every line; a line that is no row of a table has none."""
    rows: list[tuple[str, ...]] = []
    for line in lines:
        try:
            cells = next(csv.reader(io.StringIO(line), delimiter=mark, strict=True), [])
        except csv.Error:
            cells = []
        rows.append(tuple(cell.strip() for cell in cells))
    return rows


def _tells(cell: str) -> bool:
    """Whether a cell is a number or begins with a date or a clock, and is one cell by any delimiter but a comma."""
    return is_number(cell) or (not _PARTED.search(cell) and bool(_DATE.search(cell) or _CLOCK.search(cell)))


def _body(rows: list[tuple[str, ...]]) -> list[tuple[str, ...]]:
    """The rows with a number or a time that are as wide as most of those."""
    telling = [row for row in rows if len(row) >= _FEWEST_CELLS and any(map(_tells, row))]
    widths = Counter(map(len, telling)).most_common(1)
    return [row for row in telling if len(row) == widths[0][0]]


def _share(rows: list[tuple[str, ...]]) -> float:
    """How many of the table's cells read as numbers, times or nothing."""
    cells = [cell for row in _body(rows) for cell in row]
    return sum(not cell or _tells(cell) for cell in cells) / len(cells) if cells else 0.0


def _table(rows: list[tuple[str, ...]], encoding: Seen, delimiter: Seen, ends: bool) -> Look:
    width = len(_body(rows)[0])
    first = next(i for i, row in enumerate(rows) if len(row) == width and any(map(_tells, row)))
    head = first
    while head and len(rows[head - 1]) == width and any(rows[head - 1]):
        head -= 1
    while head < first and sum(map(bool, rows[head])) < MOSTLY * width:
        head += 1  # lines about the logger, filled up with empty cells
    names = rows[head] if head < first else ()
    # the row under the names holds the units, where there is one; a third row of words is neither
    labels = rows[head + 1] if first - head > 1 else ()
    stop = next((i for i in range(first, len(rows)) if not any(rows[i])), len(rows))
    if any(len(row) == width and _tells(row[0]) for row in rows[stop:]):
        stop = len(rows)  # the table goes on behind the blank line: nothing may be left out unseen
    after = sum(any(row) for row in rows[stop:])
    body = [row for row in rows[first:stop] if len(row) == width]
    columns = tuple(
        Column(i + 1, names[i] if names else "", labels[i] if labels else "", tuple(row[i] for row in body))
        for i in range(width)
    )
    names_row, units_row = head + 1 if names else None, head + 2 if labels else None
    return Look(encoding, delimiter, names_row, units_row, first + 1, after, ends, columns)
