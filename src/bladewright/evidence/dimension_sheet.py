"""A dimension sheet: one row per dimension, each value with its unit, its gauge and the gauge's uncertainty."""

import csv
import datetime
import io
from collections.abc import Mapping
from pathlib import Path
from typing import Final

from bladewright import units
from bladewright.errors import BadInput
from bladewright.evidence.complaints import raise_if_any
from bladewright.evidence.dates import iso_date
from bladewright.evidence.description import FileForm
from bladewright.evidence.files import as_utf8, opened
from bladewright.evidence.records import DimensionSheet, Measured
from bladewright.typed import hidden_complaint

COLUMNS: Final = ("serial", "feature", "station", "value", "uncertainty", "gauge", "measured_by", "measured_on")
_MAY_BE_EMPTY: Final = ("station", "uncertainty", "gauge")
_FORM: Final = FileForm(encoding="utf-8", delimiter="comma", decimal_mark="point", last_line_end=False)
#: what a unit alone can tell apart; no unit belongs to two of these
_KINDS: Final = ("length", "angle", "mass", "area", "span moment", "force", "pressure")


def read_dimension_sheet(sheet: Path | bytes, file: str = "", known: Mapping[str, str] | None = None) -> DimensionSheet:
    """The sheet of one blade, or ``SeveralBadInputs`` with every bad cell.

    ``known`` maps every feature the drawing or the shop has to its kind; with it, a misspelt feature is an error.
    """
    data, source = opened(sheet, file)
    complaints: list[BadInput] = []
    lines = _lines(as_utf8(data, _FORM, source.file).decode("utf-8"), source.file, complaints)
    for row, cells in lines:
        found = (hidden_complaint(cell, file=source.file, row=row, column=name) for name, cell in cells.items())
        complaints.extend(wrong for wrong in found if wrong is not None)
    rows = [_measured(row, cells, source.file, known, complaints) for row, cells in lines]
    days = [_day(row, cells["measured_on"], source.file, complaints) for row, cells in lines]
    for name in ("serial", "measured_by", "measured_on"):
        _one_only(name, lines, source.file, complaints)
    seen: dict[tuple[str, float | None], int] = {}
    for (row, cells), measured in zip(lines, rows, strict=True):
        if measured is None:
            continue
        earlier = seen.setdefault((measured.feature, measured.station), row)
        if earlier != row:
            complaints.append(
                _wrong("feature", row, source.file, f"was already measured in row {earlier}", cells["feature"],
                       "each feature once at each station", "keep the reading that counts, and say why in the book")
            )  # fmt: skip
    raise_if_any(complaints, source.file)
    first, day = lines[0][1], days[0]
    assert day is not None
    return DimensionSheet(
        source=source,
        serial=first["serial"],
        measured_by=first["measured_by"],
        measured_on=day,
        rows=tuple(row for row in rows if row is not None),
    )


def _wrong(
    column: str, row: int, file: str, what: str, value: object = None, allowed: str = "", fix: str = ""
) -> BadInput:
    return BadInput(what, file=file, row=row, column=column, value=value, allowed=allowed or None, fix=fix or None)


def _lines(text: str, file: str, complaints: list[BadInput]) -> list[tuple[int, dict[str, str]]]:
    reader = csv.reader(io.StringIO(text, newline=""), strict=True)
    found: list[tuple[int, dict[str, str]]] = []
    row = 1
    try:
        names = tuple(cell.strip() for cell in next(reader, []))
        if sorted(names) != sorted(COLUMNS):
            raise BadInput(
                "has other columns than a dimension sheet",
                file=file,
                row=1,
                value=",".join(names)[:80],
                allowed=",".join(COLUMNS),
                fix="write these names in the first row, parted by commas",
            )
        row = reader.line_num + 1
        for line in reader:
            if any(cell.strip() for cell in line):
                if len(line) != len(names):
                    what = f"has {len(line)} cells where the sheet has {len(names)}"
                    fix = "a value with a comma in it? write the decimal mark as a point"
                    complaints.append(BadInput(what, file=file, row=row, allowed=f"{len(names)} cells", fix=fix))
                else:
                    found.append((row, dict(zip(names, (cell.strip() for cell in line), strict=True))))
            row = reader.line_num + 1
    except csv.Error as error:
        raise BadInput(f"is not a table: {error}", file=file, row=row) from error
    if not found:
        raise_if_any(complaints, file)
        raise BadInput("has no measured dimension", file=file, allowed="one row or more", fix="enter what was measured")
    return found


def _one_only(name: str, lines: list[tuple[int, dict[str, str]]], file: str, complaints: list[BadInput]) -> None:
    first = lines[0][1][name]
    what, fix = f"differs from the first row's {first!r}", "write one sheet for each blade, person and day"
    complaints.extend(
        _wrong(name, row, file, what, cells[name], first, fix) for row, cells in lines if cells[name] != first
    )


def _day(row: int, written: str, file: str, complaints: list[BadInput]) -> datetime.date | None:
    try:
        return iso_date(written)
    except BadInput as error:
        error.file, error.row, error.column = file, row, "measured_on"
        complaints.append(error)
        return None


def _kind_of(unit: str) -> str | None:
    for kind in _KINDS:
        try:
            units.scale_and_zero(unit, kind)
        except BadInput:
            continue
        return kind
    return None


def _measured(
    row: int, cells: dict[str, str], file: str, known: Mapping[str, str] | None, complaints: list[BadInput]
) -> Measured | None:
    before = len(complaints)
    complaints.extend(
        _wrong(name, row, file, "is empty", "", "an entry", "enter it")
        for name in COLUMNS
        if not cells[name] and name not in _MAY_BE_EMPTY
    )
    feature = cells["feature"]
    if known is not None and feature and feature not in known:
        fix = "check the spelling"
        complaints.append(_wrong("feature", row, file, f"{feature!r} is not known", feature, ", ".join(known), fix))
    if len(complaints) > before:
        return None

    def si(column: str, kind: str) -> float | None:
        if not cells[column]:
            return None
        try:
            return units.to_si(cells[column], kind)
        except BadInput as error:
            error.file, error.row, error.column = file, row, column
            complaints.append(error)
            return None

    try:
        unit = units.split(cells["value"], "length")[1]
    except BadInput as error:
        error.file, error.row, error.column = file, row, "value"
        complaints.append(error)
        return None
    kind = known[feature] if known is not None else _kind_of(unit)
    if kind is None:
        allowed = "a unit of " + ", ".join(_KINDS)
        complaints.append(_wrong("value", row, file, f"{unit!r} is not a unit of a dimension", cells["value"], allowed))
        return None
    value, uncertainty, station = si("value", kind), si("uncertainty", kind), si("station", "length")
    if uncertainty is not None and uncertainty <= 0.0:
        allowed = "more than zero, or empty where it is not known"
        complaints.append(_wrong("uncertainty", row, file, "is not above zero", cells["uncertainty"], allowed))
    if value is None or len(complaints) > before:
        return None
    return Measured(feature, value, kind, cells["value"], unit, uncertainty, station, cells["gauge"], row)
