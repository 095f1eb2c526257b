"""The cells of a table as numbers and texts. A quick way for clean tables; a careful way that names every bad cell.

The quick way answers only when it is sure that the careful way would say the same; tests hold the two together.
"""

import csv
import io
import math
import re
from dataclasses import dataclass
from typing import Final

import numpy as np
import polars as pl
from numpy.typing import NDArray

from bladewright.errors import BadInput
from bladewright.evidence.records import Floats
from bladewright.evidence.table import Table

_NUMBER: Final = re.compile(r"[+-]?(?:\d+\.?\d*|\.\d+)(?:[eE][+-]?\d+)?", re.ASCII)


@dataclass(frozen=True, slots=True)
class Wanted:
    """Which columns are read, by place: as numbers or as text."""

    numbers: tuple[int, ...]
    texts: tuple[int, ...]
    missing: tuple[str, ...]
    decimal_mark: str


@dataclass(frozen=True, slots=True, eq=False)
class Cells:
    """What stands in the wanted columns; NaN where a missing word stands."""

    numbers: Floats  # (n, m) as written, not yet SI
    texts: tuple[pl.Series, ...]
    rows: NDArray[np.int64]


def read_cells(table: Table, wanted: Wanted, file: str, complaints: list[BadInput]) -> Cells:
    """The wanted cells; what cannot be read is added to ``complaints``."""
    return quick(table, wanted) or careful(table, wanted, file, complaints)


def _blank_out(values: Floats, missing: tuple[str, ...]) -> Floats:
    """Readings equal to a missing word that is itself a number, like 7999, however many digits it is written with."""
    for word in missing:
        if _NUMBER.fullmatch(word):
            values[values == float(word)] = math.nan
    return values


def quick(table: Table, wanted: Wanted) -> Cells | None:
    """The cells by polars, or None where anything at all is unusual."""
    body, delimiter = table.body, table.delimiter.encode()
    lines, width = body.count(b"\n"), len(table.names)
    if b'"' in body or body.count(delimiter) != lines * (width - 1):
        return None
    blanks = any(mark in body for mark in (delimiter * 2, b"\n" + delimiter, delimiter + b"\n"))
    if body.startswith(delimiter) or (blanks and "" not in wanted.missing):
        return None
    comma = wanted.decimal_mark == "comma"
    as_number = pl.String if comma else pl.Float64
    names = [str(i) for i in range(width)]
    schema = {name: as_number if i in wanted.numbers else pl.String for i, name in enumerate(names)}
    chosen = sorted({*wanted.numbers, *wanted.texts})
    try:
        frame = pl.read_csv(
            body,
            has_header=False,
            schema=schema,
            columns=chosen,
            separator=table.delimiter,
            quote_char=None,
            null_values=[word for word in wanted.missing if word],
        )
    except pl.exceptions.PolarsError:
        return None
    if frame.height != lines:
        return None
    numbers = np.empty((lines, len(wanted.numbers)), order="F")
    for place, index in enumerate(wanted.numbers):
        column = _comma_numbers(frame[names[index]]) if comma else frame[names[index]]
        if column is None or not column.is_finite().all():
            return None
        numbers[:, place] = column.to_numpy()
    texts = tuple(frame[names[index]] for index in wanted.texts)
    if any(text.null_count() for text in texts):
        return None
    rows = np.arange(table.first_row, table.first_row + lines, dtype=np.int64)
    return Cells(_blank_out(numbers, wanted.missing), texts, rows)


def _comma_numbers(column: pl.Series) -> pl.Series | None:
    if column.str.contains(".", literal=True).any():
        return None
    try:
        return column.str.replace(",", ".", literal=True).cast(pl.Float64)
    except pl.exceptions.PolarsError:
        return None


def careful(table: Table, wanted: Wanted, file: str, complaints: list[BadInput]) -> Cells:
    """The cells one by one; every bad one becomes a complaint with its row, column and value."""
    width = len(table.names)
    numbers: list[list[float]] = []
    texts: list[list[str]] = []
    rows: list[int] = []
    reader = csv.reader(io.StringIO(table.body.decode("utf-8"), newline=""), delimiter=table.delimiter, strict=True)
    row = table.first_row
    while True:
        try:
            line = next(reader, None)
        except csv.Error as error:
            complaints.append(
                BadInput(f"is not a row of a table: {error}", file=file, row=row, fix="check the quotation marks")
            )
            break
        here, row = row, table.first_row + reader.line_num
        if line is None:
            break
        if not line:
            continue  # a blank line says nothing
        if len(line) != width:
            complaints.append(_wrong_width(line, width, here, file))
            continue
        numbers.append(
            [_number(line[i].strip(), table.names[i], here, wanted, file, complaints) for i in wanted.numbers]
        )
        texts.append([line[i].strip() for i in wanted.texts])
        rows.append(here)
    columns = tuple(pl.Series([text[i] for text in texts], dtype=pl.String) for i in range(len(wanted.texts)))
    values = np.array(numbers, dtype=np.float64).reshape(len(rows), len(wanted.numbers))
    return Cells(_blank_out(values, wanted.missing), columns, np.array(rows, dtype=np.int64))


def _wrong_width(line: list[str], width: int, row: int, file: str) -> BadInput:
    return BadInput(
        f"has {len(line)} cells where the table has {width}",
        file=file,
        row=row,
        value=",".join(line)[:60],
        allowed=f"{width} cells",
        fix="the row may be cut, shifted, or holds an extra delimiter: compare it with its neighbours",
    )


def _number(cell: str, column: str, row: int, wanted: Wanted, file: str, complaints: list[BadInput]) -> float:
    if cell in wanted.missing:
        return math.nan
    point = wanted.decimal_mark == "point"
    text = cell if point else cell.replace(",", ".", 1)
    if _NUMBER.fullmatch(text) and (point or "." not in cell) and math.isfinite(value := float(text)):
        return value
    words = ", ".join(repr(word) for word in wanted.missing)
    other = "," if point else "."
    fix = "mend the cell, or add it to the missing words of the description if the logger writes it for no reading"
    if other in cell and _NUMBER.fullmatch(cell.replace(",", ".")):
        fix = (
            f"the cell has a decimal {'comma' if point else 'point'}: declare file.decimal_mark as the logger writes it"
        )
    complaints.append(
        BadInput(
            "is empty" if not cell else f"{cell[:40]!r} is not a number",
            file=file,
            row=row,
            column=column,
            value=cell[:40],
            allowed=f"a number with a decimal {wanted.decimal_mark}" + (f", or {words}" if words else ""),
            fix=fix,
        )
    )
    return math.nan
