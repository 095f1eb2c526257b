"""A cure log through its logger description: UTC, SI, hashed; a reading that is not there stays not there."""

import dataclasses
from concurrent.futures import ThreadPoolExecutor
from pathlib import Path
from typing import Final

import numpy as np
import polars as pl
from numpy.typing import NDArray

from bladewright import units
from bladewright.errors import BadInput
from bladewright.evidence.cells import Cells, Wanted, read_cells
from bladewright.evidence.clock import Clock, order_complaints, read_clock, utc
from bladewright.evidence.complaints import ENOUGH, raise_if_any
from bladewright.evidence.description import ELAPSED, NOT_A_PLACE, ChannelForm, LoggerDescription
from bladewright.evidence.files import as_utf8, taken
from bladewright.evidence.records import Channel, CureLog, Floats, Remark, Source
from bladewright.evidence.table import Table, check_unit, columns_complaints, index_of, locate, lying_unit, same_unit
from bladewright.figures import digest

#: kind -> (lowest SI value there can be, in words). Gauge pressure: empty under the highest air pressure, 1,085 hPa,
#: ever reported at sea level (from memory).
_LOWEST: Final[dict[str, tuple[float, str]]] = {
    "temperature": (0.0, "at least absolute zero, -273.15 degC"),
    "pressure": (-108_500.0, "at least -108.5 kPa gauge, which is a vacuum"),
}
#: -459.67 degF is absolute zero, and must not fall below it by the last bit
_ROUNDING: Final = 1e-6


def read_cure_log(log: Path | bytes, description: LoggerDescription, file: str = "") -> CureLog:
    """The log, or ``BadInput`` / ``SeveralBadInputs`` with every bad cell: all or nothing."""
    data, name = taken(log, file)
    with ThreadPoolExecutor(max_workers=1) as aside:  # hashing needs no interpreter lock, so it costs no time
        sha256 = aside.submit(digest, data)
        read = _read(data, description, name)
        return dataclasses.replace(read, source=Source(name, sha256.result()))


def _read(data: bytes, description: LoggerDescription, file: str) -> CureLog:
    """The log, not yet hashed."""
    table = locate(as_utf8(data, description.file, file), description, file)
    complaints: list[BadInput] = []
    places = _places(table, description, file, complaints)
    raise_if_any(complaints, file)
    times = tuple(index_of(column, table, "time.columns", file) for column in description.time.columns)
    elapsed = description.time.zone == ELAPSED
    unit_columns = _unit_columns(table, description, file)
    wanted = Wanted(
        numbers=(*places, *(times if elapsed else ())),
        texts=(*(() if elapsed else times), *unit_columns),
        missing=description.missing,
        decimal_mark=description.file.decimal_mark,
    )
    cells = read_cells(table, wanted, file, complaints)
    if not len(cells.rows):
        raise_if_any(complaints, file)
        raise BadInput("has no data rows", file=file, row=table.first_row, allowed="at least one row")
    units_written = cells.texts if elapsed else cells.texts[len(times) :]
    _check_unit_columns(unit_columns, units_written, cells, table, description, complaints, file)
    clock = _clock(cells, len(places), len(times), description, file, complaints)
    names = tuple(table.names[i] for i in places)
    values = _in_si(cells.numbers[:, : len(places)], cells.rows, description.columns, names, complaints, file)
    order = _order(clock, cells, description, file, complaints)
    raise_if_any(complaints, file)
    micros = clock.micros[order]
    return CureLog(
        source=Source(file, ""),
        description=description.name,
        start=None if elapsed else utc(int(micros[0])),
        seconds=(micros - micros[0]) / 1e6,
        channels=tuple(_channel(form, name) for form, name in zip(description.columns, names, strict=True)),
        values=values[order],
        rows=cells.rows[order],
        remarks=table.remarks + clock.remarks,
        zone="UTC" if description.time.zone in NOT_A_PLACE else description.time.zone,
        order_certain=clock.order_certain,
    )


def _places(table: Table, description: LoggerDescription, file: str, complaints: list[BadInput]) -> tuple[int, ...]:
    """Where the declared channels stand; a lying unit label or an undeclared column is a complaint."""
    forms = description.columns
    places = tuple(index_of(f.column, table, f"columns.{n}.column", file) for n, f in enumerate(forms, start=1))
    times = tuple(index_of(c, table, "time.columns", file) for c in description.time.columns)
    for form, place in zip(forms, places, strict=True):
        if wrong := check_unit(place, form.unit, form.measures, form.unit_label, table, file):
            complaints.append(wrong)
    if description.time.unit is not None and (
        wrong := check_unit(times[0], description.time.unit, "time", None, table, file)
    ):
        complaints.append(wrong)
    complaints.extend(
        columns_complaints((*times, *places), _unit_columns(table, description, file), table, description, file)
    )
    return places


def _unit_columns(table: Table, description: LoggerDescription, file: str) -> tuple[int, ...]:
    declared = [form.unit_column for form in description.columns if form.unit_column is not None]
    return tuple(index_of(column, table, "columns.unit_column", file) for column in declared)


def _check_unit_columns(
    places: tuple[int, ...],
    texts: tuple[pl.Series, ...],
    cells: Cells,
    table: Table,
    description: LoggerDescription,
    complaints: list[BadInput],
    file: str,
) -> None:
    """A unit that stands in every row must be the declared one in every row."""
    forms = [form for form in description.columns if form.unit_column is not None]
    for form, place, text in zip(forms, places, texts, strict=True):
        for written in text.unique(maintain_order=True).to_list():
            label = form.unit_label
            if written.strip() == label if label is not None else same_unit(written.strip(), form.unit, form.measures):
                continue
            rows = cells.rows[(text == written).to_numpy()][:ENOUGH]
            complaints.extend(
                lying_unit(written, label or form.unit, table.names[place], int(row), file) for row in rows
            )


def _in_si(
    numbers: Floats,
    rows: NDArray[np.int64],
    forms: tuple[ChannelForm, ...],
    names: tuple[str, ...],
    complaints: list[BadInput],
    file: str,
) -> Floats:
    """The columns turned to SI where they stand, and a complaint about every reading that cannot be."""
    for place, (form, name) in enumerate(zip(forms, names, strict=True)):
        scale, zero = units.scale_and_zero(form.unit, form.measures)
        column = numbers[:, place]
        with np.errstate(over="ignore"):
            column *= scale
            column += zero
        complaints.extend(
            BadInput(
                f"holds a reading that is too large in {form.unit}",
                file=file,
                row=int(rows[i]),
                column=name,
                allowed=f"a finite {form.measures}",
                fix="check the cell and the unit",
            )
            for i in np.flatnonzero(np.isinf(column))[:ENOUGH]
        )
        lowest, allowed = _LOWEST.get(form.measures, (-np.inf, ""))
        if not np.fmin.reduce(column) < lowest - _ROUNDING:
            continue
        complaints.extend(
            BadInput(
                f"{written:g} {form.unit} cannot be",
                file=file,
                row=int(rows[i]),
                column=name,
                value=written,
                allowed=allowed,
                fix="check the unit; if the logger writes this for no reading, add it to the missing words",
            )
            for i in np.flatnonzero(column < lowest - _ROUNDING)[:ENOUGH]
            for written in (round((float(column[i]) - zero) / scale, 6),)
        )
    return numbers


def _clock(
    cells: Cells, channels: int, times: int, description: LoggerDescription, file: str, complaints: list[BadInput]
) -> Clock:
    form = description.time
    if form.unit is None:
        texts = cells.texts[0] if times == 1 else cells.texts[0] + " " + cells.texts[1]
        return read_clock(texts, form, cells.rows, file, complaints)
    elapsed = cells.numbers[:, channels] * units.scale_and_zero(form.unit, "time")[0]
    complaints.extend(
        BadInput("has no time", file=file, row=int(cells.rows[i]), column=str(form.columns[0]), allowed="a time")
        for i in np.flatnonzero(np.isnan(elapsed))[:ENOUGH]
    )
    remarks = (Remark(f"the first row stands at {elapsed[0]:g} s by the logger's own count", int(cells.rows[0])),)
    return Clock(np.rint(np.nan_to_num(elapsed) * 1e6).astype(np.int64), remarks=remarks if elapsed[0] else ())


def _order(
    clock: Clock, cells: Cells, description: LoggerDescription, file: str, complaints: list[BadInput]
) -> NDArray[np.int64] | slice:
    """The rows in the order of time; sorted only where the description does not claim that they already are."""
    form = description.time
    column = " ".join(str(name) for name in form.columns)
    micros, rows = clock.micros, cells.rows
    if complaints or bool((np.diff(micros) > 0).all()):
        return slice(None)
    if form.file_order_is_time_order or clock.repeated_hour:
        complaints.extend(order_complaints(micros, rows, column, file))
        return slice(None)
    order = np.argsort(micros, kind="stable")
    complaints.extend(order_complaints(micros[order], rows[order], column, file))
    return order


def _channel(form: ChannelForm, column: str) -> Channel:
    return Channel(name=form.name or column, role=form.role, zone=form.zone, side=form.side)
