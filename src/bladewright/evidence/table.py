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

DELIMITERS: Final = {"comma": ",", "tab": "\t", "semicolon": ";"}
_UNIT_IN_NAME: Final = re.compile(r"[\[(]\s*([^\[\]()]+?)\s*[\])]\s*$")
_LIKE_A_UNIT: Final = re.compile(r"^[A-Za-z°µμ%][A-Za-z°µμ%/ ²³^0-9.-]{0,19}$")


@dataclass(frozen=True, slots=True)
class Table:
    """A located table: its body is UTF-8, one kind of line end, nothing around it."""

    names: tuple[str, ...]
    units: tuple[str, ...] | None
    body: bytes
    first_row: int
    units_row: int | None
    delimiter: str
    remarks: tuple[Remark, ...] = ()


def locate(text: bytes, description: Description, file: str) -> Table:
    """The table the description promises; ``BadInput`` where the file does not keep the promise."""
    form, where = description.file, description.table
    delimiter = DELIMITERS[form.delimiter]
    head, body = _parted(text, where.first_row)
    if not body.strip():
        raise BadInput(
            "has no data rows", file=file, row=where.first_row, allowed="at least one row", fix="export the log again"
        )
    body, remarks = _ended(body, where.first_row, where.ends_before)
    if not body.strip():
        raise BadInput("has no data rows", file=file, row=where.first_row, allowed="at least one row")
    body, cut = _whole_lines(body, form, where.first_row, file)
    rows = [head[row - 1] if row is not None else None for row in (where.names_row, where.units_row)]
    names, labels = (None if row is None else _cells(row, delimiter, file) for row in rows)
    if names is None:
        names = tuple(str(i + 1) for i in range(len(_cells(body.partition(b"\n")[0].decode(), delimiter, file))))
    if labels is not None and len(labels) != len(names):
        raise BadInput(
            f"has {len(labels)} unit labels under {len(names)} names",
            file=file,
            row=where.units_row,
            allowed="one unit label, possibly empty, for every name",
            fix="check names_row and units_row in the logger description",
        )
    return Table(names, labels, body, where.first_row, where.units_row, delimiter, remarks + cut)


def _parted(text: bytes, first_row: int) -> tuple[list[str], bytes]:
    start = 0
    head: list[str] = []
    for _ in range(first_row - 1):
        end = text.find(b"\n", start)
        if end < 0:
            return head, b""
        head.append(text[start:end].decode("utf-8"))
        start = end + 1
    return head, text[start:]


def _ended(body: bytes, first_row: int, ends_before: str | None) -> tuple[bytes, tuple[Remark, ...]]:
    if ends_before is None:
        return body, ()
    if ends_before:
        place = (b"\n" + body).find(b"\n" + ends_before.encode("utf-8"))
    else:
        blank = re.search(rb"^[ \t]*\n", body, re.MULTILINE)
        place = blank.start() if blank else -1
    if place < 0:
        return body, ()
    left = body[place:].count(b"\n")
    row = first_row + body[:place].count(b"\n")
    return body[:place], (Remark(f"{left} lines from here on are not part of the table and were not read", row),)


def _whole_lines(body: bytes, form: FileForm, first_row: int, file: str) -> tuple[bytes, tuple[Remark, ...]]:
    """The body with every line ended. A last line without an end may have lost digits nobody can see."""
    if body.endswith(b"\n"):
        return body, ()
    row = first_row + body.count(b"\n")
    if form.last_line_end:
        raise BadInput(
            "the last line has no end: the file may have been cut inside its last number",
            file=file,
            row=row,
            value=body.rpartition(b"\n")[2].decode("utf-8")[-40:],
            allowed="a line end after every row",
            fix="export the log again; if this logger never ends its last line, declare file.last_line_end = false",
        )
    return body + b"\n", (Remark("the last line has no end; its last number may have been cut", row),)


def _cells(line: str, delimiter: str, file: str) -> tuple[str, ...]:
    try:
        return tuple(cell.strip() for cell in next(csv.reader(io.StringIO(line), delimiter=delimiter), []))
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
    in_name = _UNIT_IN_NAME.search(table.names[index])
    if in_name and label is None and _measures(in_name.group(1), kind) and not same_unit(in_name.group(1), unit, kind):
        return lying_unit(in_name.group(1), unit, table.names[index], None, file)
    return None


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


def _measures(written: str, kind: str) -> bool:
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
    return _measures(written, kind) and units.scale_and_zero(written, kind) == units.scale_and_zero(declared, kind)


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
