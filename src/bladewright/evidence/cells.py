"""The cells of a table as numbers and texts. A quick way for clean tables; a careful way that names every bad cell.

The quick way answers only when it is sure that the careful way would say the same; tests hold the two together.
"""

import codecs
import csv
import dataclasses
import io
import math
import re
from dataclasses import dataclass
from typing import Final

import numpy as np
import polars as pl
from numpy.typing import NDArray

from bladewright.errors import BadInput
from bladewright.evidence.complaints import ENOUGH
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
    # one column: a blank line would read as an empty cell; a byte order mark inside the file: polars would swallow it
    if len(table.names) == 1 or table.text.startswith(codecs.BOM_UTF8, table.start):
        return None
    bare = _without_quotes(table)
    if bare is None:
        return None
    table = bare
    frame = _frame(table, wanted)
    if frame is None or not _well_shaped(frame, table, wanted):
        return None
    written = frame.select(str(i) for i in wanted.numbers)
    columns = _comma_numbers(written) if wanted.decimal_mark == "comma" else written
    # a sum passes over gaps, and shows any word that reads as a number without being one, like "inf"
    if columns is None or not all(math.isfinite(total) for total in columns.sum().row(0)):
        return None
    numbers = columns.to_numpy(order="fortran", writable=True).astype(np.float64, copy=False)
    texts = tuple(frame[str(index)] for index in wanted.texts)
    if any(text.null_count() for text in texts):
        return None
    rows = np.arange(table.first_row, table.first_row + frame.height, dtype=np.int64)
    return Cells(_blank_out(numbers, wanted.missing), texts, rows)


def _without_quotes(table: Table) -> Table | None:
    """The table with the quotes taken off, or None where they hold a delimiter, a line end or another quote."""
    if table.text.find(b'"', table.start, table.end) < 0:
        return table
    mark = re.escape(table.delimiter.encode())
    plain = rb'(?<=[\n%s])"([^"\n%s]*)"(?=[\n%s])' % (mark, mark, mark)
    body = re.sub(plain, rb"\1", b"\n" + table.body)[1:]
    return None if b'"' in body else dataclasses.replace(table, text=body, start=0, end=len(body))


def _frame(table: Table, wanted: Wanted) -> pl.DataFrame | None:
    """Every column, also those not wanted: only then does polars notice a cell too many."""
    number = pl.String if wanted.decimal_mark == "comma" else pl.Float64
    whole = table.start > 0 and table.end == len(table.text)  # then the rows are not copied
    try:
        return pl.read_csv(
            table.text if whole else table.body,
            skip_lines=table.first_row - 1 if whole else 0,
            has_header=False,
            schema={str(i): number if i in wanted.numbers else pl.String for i in range(len(table.names))},
            separator=table.delimiter,
            quote_char=None,
            null_values=[word for word in wanted.missing if word],
        )
    except pl.exceptions.PolarsError:
        return None


def _well_shaped(frame: pl.DataFrame, table: Table, wanted: Wanted) -> bool:
    """Whether every gap polars found is a missing word, and not an empty cell, a short row or a blank line.

    A row that is short has a gap in its last cell, so only rows with gaps there, or where a gap may be an empty
    cell that the description does not allow, are looked at.
    """
    looked_at = {frame.width - 1} | (set() if "" in wanted.missing else set(wanted.numbers))
    gaps = np.zeros(frame.height, dtype=bool)
    for index in looked_at:
        if frame[str(index)].null_count():
            gaps |= frame[str(index)].is_null().to_numpy()
    rows = np.flatnonzero(gaps)
    if not len(rows):
        return True
    ends = _line_ends(table)
    if len(ends) + (ends[-1] != table.end - 1 if len(ends) else 1) != frame.height:
        return False
    delimiter, allowed = table.delimiter.encode(), "" in wanted.missing
    for row in rows:
        start = ends[row - 1] + 1 if row else table.start
        stop = ends[row] if row < len(ends) else table.end
        cells = table.text[start:stop].split(delimiter)
        if len(cells) != frame.width or not (allowed or all(cells[i].strip() for i in wanted.numbers)):
            return False
    return True


def _line_ends(table: Table) -> NDArray[np.int64]:
    """The place of every line end of the data rows, looked for in pieces that stay in the processor's cache."""
    view, piece = np.frombuffer(table.text, dtype=np.uint8), 1 << 18
    pieces = [(i, min(i + piece, table.end)) for i in range(table.start, table.end, piece)]
    return np.concatenate([np.flatnonzero(view[a:b] == ord("\n")) + a for a, b in pieces])


def _comma_numbers(columns: pl.DataFrame) -> pl.DataFrame | None:
    """Texts with decimal commas as numbers, or None where one of them is anything else."""
    every = pl.all()
    if any(columns.select(every.str.contains(".", literal=True).any()).row(0)):
        return None
    try:
        return columns.select(every.str.replace(",", ".", literal=True).cast(pl.Float64))
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
    while len(complaints) < ENOUGH:
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
