"""Where the table stands in a file: names, units, and the body with the line number it starts at."""

import csv
import io
import re
from dataclasses import dataclass
from typing import Final

from bladewright import units
from bladewright.errors import BadInput
from bladewright.evidence.description import Column, Description, FileForm
from bladewright.evidence.records import Remark
from bladewright.typed import hidden_complaint

DELIMITERS: Final = {"comma": ",", "tab": "\t", "semicolon": ";"}
_UNIT_IN_NAME: Final = re.compile(r"[\[(]\s*([^\[\]()]+?)\s*[\])]\s*$")
_SOMETHING: Final = re.compile(rb"[^ \t\n]")
_LIKE_A_UNIT: Final = re.compile(r"^[A-Za-z°µμ%][A-Za-z°µμ%/ ²³^0-9.-]{0,19}$")


@dataclass(frozen=True, slots=True)
class Table:
    """A located table: UTF-8 text with one kind of line end, and where in it the data rows stand."""

    text: bytes
    start: int
    end: int
    first_row: int
    names: tuple[str, ...]
    units: tuple[str, ...] | None
    units_row: int | None
    delimiter: str
    remarks: tuple[Remark, ...] = ()

    @property
    def body(self) -> bytes:
        """The data rows alone."""
        return self.text[self.start : self.end]


def locate(text: bytes, description: Description, file: str) -> Table:
    """The table the description promises; ``BadInput`` where the file does not keep the promise."""
    form, where = description.file, description.table
    delimiter = DELIMITERS[form.delimiter]
    head, start = _head(text, where.first_row, file)
    end, remarks = _ended(text, start, where.first_row, where.ends_before)
    if _SOMETHING.search(text, start, end) is None:
        raise _no_rows(where.first_row, file)
    cut = _last_line(text, start, end, form, where.first_row, file)
    rows = [head[row - 1] if row is not None else None for row in (where.names_row, where.units_row)]
    names, labels = (None if row is None else _cells(row, delimiter, file) for row in rows)
    if names is None:
        first = text[start : end if (stop := text.find(b"\n", start, end)) < 0 else stop]
        names = tuple(str(i + 1) for i in range(len(_cells(first.decode(), delimiter, file))))
    refuse_hidden(names, where.names_row or where.first_row, file)
    if labels is not None and len(labels) != len(names):
        raise BadInput(
            f"has {len(labels)} unit labels under {len(names)} names",
            file=file,
            row=where.units_row,
            allowed="one unit label, possibly empty, for every name",
            fix="check names_row and units_row in the logger description",
        )
    return Table(text, start, end, where.first_row, names, labels, where.units_row, delimiter, remarks + cut)


def refuse_hidden(names: tuple[str, ...], row: int, file: str) -> None:
    """A column's name is shown in sentences and on papers, and must read as it shows."""
    for number, name in enumerate(names, 1):
        if (wrong := hidden_complaint(name, file=file, row=row, column=f"number {number}")) is not None:
            raise wrong


def _no_rows(first_row: int, file: str) -> BadInput:
    return BadInput("has no data rows", file=file, row=first_row, allowed="at least one row", fix="export it again")


def _head(text: bytes, first_row: int, file: str) -> tuple[list[str], int]:
    """The lines above the data rows, and where the data rows start."""
    start = 0
    head: list[str] = []
    for _ in range(first_row - 1):
        if start >= len(text):  # or a slipped digit in first_row would be counted to its end
            raise _no_rows(first_row, file)
        stop = text.find(b"\n", start)
        stop = len(text) if stop < 0 else stop
        head.append(text[start:stop].decode("utf-8"))
        start = min(stop + 1, len(text))
    return head, start


def _ended(text: bytes, start: int, first_row: int, ends_before: str | None) -> tuple[int, tuple[Remark, ...]]:
    """Where the table ends, with a remark about what stands after it."""
    if ends_before is None:
        return len(text), ()
    mark = rb"[ \t]*\n" if not ends_before else re.escape(ends_before.encode("utf-8"))
    found = re.compile(rb"^" + mark, re.MULTILINE).search(text, start)
    if found is None:
        return len(text), ()
    end = found.start()
    left = text[end:].count(b"\n")
    row = first_row + text.count(b"\n", start, end)
    return end, (Remark(f"{left} lines from here on are not part of the table and were not read", row),)


def _last_line(text: bytes, start: int, end: int, form: FileForm, first_row: int, file: str) -> tuple[Remark, ...]:
    """A last line without an end may have lost digits nobody can see: an error, unless declared."""
    if text.endswith(b"\n", start, end):
        return ()
    row = first_row + text.count(b"\n", start, end)
    if form.last_line_end:
        raise BadInput(
            "the last line has no end: the file may have been cut inside its last number",
            file=file,
            row=row,
            value=text[start:end].rpartition(b"\n")[2].decode("utf-8")[-40:],
            allowed="a line end after every row",
            fix="export the log again; if this logger never ends its last line, declare file.last_line_end = false",
        )
    return (Remark("the last line has no end; its last number may have been cut", row),)


def _cells(line: str, delimiter: str, file: str) -> tuple[str, ...]:
    try:
        return tuple(cell.strip() for cell in next(csv.reader(io.StringIO(line), delimiter=delimiter, strict=True), []))
    except csv.Error as error:
        raise BadInput(f"is not a table: {error}", file=file) from error


def index_of(column: Column, table: Table, field: str, file: str) -> int:
    """The place of a declared column, from 0; ``BadInput`` unless it stands there exactly once."""
    known = ", ".join(table.names[:40])
    if isinstance(column, int):
        if not 1 <= column <= len(table.names):
            raise BadInput(
                f"there is no column {column}",
                file=file,
                field=field,
                value=column,
                allowed=f"1 to {len(table.names)}",
                fix="count the columns from 1",
            )
        return column - 1
    found = [i for i, name in enumerate(table.names) if name == column]
    if len(found) != 1:
        what = f"stands in the names row {len(found)} times" if found else "does not stand in the names row"
        fix = "declare the column by its number" if found else "check names_row and the spelling in the description"
        raise BadInput(f"{column!r} {what}", file=file, field=field, value=column, allowed=f"one of {known}", fix=fix)
    return found[0]


def check_unit(index: int, unit: str, kind: str, label: str | None, table: Table, file: str) -> BadInput | None:
    """What is wrong with the unit the file itself gives a column, in its units row or in brackets in its name."""
    written = table.units[index] if table.units is not None else None
    if written is not None:
        agrees = written == label if label is not None else same_unit(written, unit, kind)
        if not agrees:
            return lying_unit(written, label or unit, table.names[index], table.units_row, file)
    in_name = unit_in_name(table.names[index])
    if in_name and label is None and is_unit_of(in_name, kind) and not same_unit(in_name, unit, kind):
        return lying_unit(in_name, unit, table.names[index], None, file)
    return None


def unit_in_name(name: str) -> str:
    """What stands in brackets at the end of a column's name, like the F of "Mould 1 (F)", or nothing."""
    found = _UNIT_IN_NAME.search(name)
    return found.group(1) if found else ""


def lying_unit(written: str, declared: str, column: str, row: int | None, file: str) -> BadInput:
    """The file says one unit and the description another: one of the two is wrong by a factor."""
    return BadInput(
        f"the file says {written!r} where the description says {declared!r}",
        file=file,
        row=row,
        column=column,
        value=written,
        allowed=declared,
        fix="find out which is true; if only the spelling differs, declare it as unit_label",
    )


def is_unit_of(written: str, kind: str) -> bool:
    """Whether a label names a unit of that kind."""
    if not _LIKE_A_UNIT.match(written):
        return False
    try:
        units.scale_and_zero(written, kind)
    except BadInput:
        return False
    return True


def same_unit(written: str, declared: str, kind: str) -> bool:
    """Whether a unit label means the declared unit, whatever its spelling."""
    if written == declared:
        return True
    return is_unit_of(written, kind) and units.scale_and_zero(written, kind) == units.scale_and_zero(declared, kind)


def columns_complaints(
    read: tuple[int, ...], also_known: tuple[int, ...], table: Table, description: Description, file: str
) -> list[BadInput]:
    """Columns declared twice, and columns nobody declared."""
    found = [
        BadInput(
            "is declared twice",
            file=file,
            column=table.names[i],
            allowed="one use of each column",
            fix="take one out of the description",
        )
        for i in sorted({i for i in read if read.count(i) > 1})
    ]
    if description.ignore_other_columns:
        return found
    found += [
        BadInput(
            "is in the file and not in the description",
            file=file,
            column=name or f"number {i + 1}",
            allowed="a declared column",
            fix="declare it, or set ignore_other_columns = true",
        )
        for i, name in enumerate(table.names)
        if i not in read and i not in also_known
    ]
    return found
