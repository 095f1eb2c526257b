"""Local stamps to UTC. The hour a clock repeats is settled by the file's order alone; the hour it skips is an error."""

import datetime
import zoneinfo
from dataclasses import dataclass
from typing import Final

import numpy as np
import polars as pl
from numpy.typing import NDArray

from bladewright.errors import BadInput
from bladewright.evidence.complaints import ENOUGH
from bladewright.evidence.description import OFFSET_IN_FILE, TimeForm
from bladewright.evidence.records import Remark
from bladewright.evidence.stamps import EPOCH, MICROSECOND, Micros, one_stamp, whole_column

_DAY: Final = 86_400_000_000  # microseconds


@dataclass(frozen=True, slots=True, eq=False)
class Clock:
    """UTC of every row, in the file's order."""

    micros: Micros
    order_certain: bool = True
    repeated_hour: bool = False
    remarks: tuple[Remark, ...] = ()


@dataclass(frozen=True, slots=True)
class Change:
    """A zone's clock change: the instant in UTC, and the offsets before and after. All in microseconds."""

    at: int
    before: int
    after: int


def read_clock(
    texts: pl.Series, form: TimeForm, rows: NDArray[np.int64], file: str, complaints: list[BadInput]
) -> Clock:
    """The stamps of a log as UTC; what cannot be read is added to ``complaints``."""
    assert form.format is not None
    column = " ".join(str(name) for name in form.columns)
    micros, unsure = whole_column(texts, form.format)
    if unsure.any():
        texts = texts.str.strip_chars()
        micros, unsure = whole_column(texts, form.format)
    if unsure.any():
        micros = micros.copy()  # what polars hands out cannot be written to
    remarks = []
    before = len(complaints)
    for i in np.flatnonzero(unsure):
        try:
            stamp = one_stamp(texts[int(i)], form.format)
        except BadInput as error:
            error.file, error.row, error.column = file, int(rows[i]), column
            complaints.append(error)
            if len(complaints) >= ENOUGH:
                break
            continue
        micros[i] = stamp.micros
        if stamp.leap_second:
            what = "is a leap second; it is kept as the last microsecond before the next minute"
            remarks.append(Remark(what, int(rows[i]), column))
    if len(complaints) > before or form.zone == OFFSET_IN_FILE:
        return Clock(micros, remarks=tuple(remarks))
    clock = _zoned(micros, texts, form, rows, file, complaints)
    return Clock(clock.micros, clock.order_certain, clock.repeated_hour, (*remarks, *clock.remarks))


def changes(zone: str, first: int, last: int) -> tuple[int, tuple[Change, ...]]:
    """The offset at ``first`` and every clock change up to ``last``; microseconds, with a margin on both ends."""
    rules = zoneinfo.ZoneInfo(zone)

    def offset(utc: int) -> int:
        shift = (EPOCH + utc * MICROSECOND).astimezone(rules).utcoffset()
        assert shift is not None
        return shift // MICROSECOND

    start, found = first - 2 * _DAY, []
    low, held = start, offset(start)
    while low < last + 2 * _DAY:
        high = low + _DAY
        if (new := offset(high)) != held:
            left, right = low, high
            while right - left > 1_000_000:  # zone rules change on whole seconds
                middle = (left + right) // 2_000_000 * 1_000_000
                middle = middle if left < middle < right else (left + right) // 2
                left, right = (middle, right) if offset(middle) == held else (left, middle)
            found.append(Change(right // 1_000_000 * 1_000_000, held, new))
            held = new
        low = high
    return offset(start), tuple(found)


def _zoned(
    local: Micros, texts: pl.Series, form: TimeForm, rows: NDArray[np.int64], file: str, complaints: list[BadInput]
) -> Clock:
    offset, turned = changes(form.zone, int(local.min()), int(local.max()))
    if not turned:
        return Clock(local - offset)
    offsets = np.array([offset, *(change.after for change in turned)])
    ends_before = np.array([change.at + change.before for change in turned])  # local time the old offset runs to
    starts_after = np.array([change.at + change.after for change in turned])  # local time the new offset starts at
    first = local - offsets[np.searchsorted(ends_before, local, side="right")]
    second = local - offsets[np.searchsorted(starts_after, local, side="right")]
    column = " ".join(str(name) for name in form.columns)
    skipped = np.flatnonzero(_skipped(local, turned))
    complaints.extend(
        BadInput(
            f"{texts[int(i)]!r} never was in {form.zone}: the clock was put forward over it",
            file=file,
            row=int(rows[i]),
            column=column,
            value=texts[int(i)],
            allowed="a local time that existed",
            fix="the logger's clock did not follow this zone: declare the zone it kept",
        )
        for i in skipped[:ENOUGH]
    )
    if len(skipped):
        return Clock(first)
    return _settled(first, second, form, rows, column)


def _skipped(local: Micros, turned: tuple[Change, ...]) -> NDArray[np.bool_]:
    gone = np.zeros(len(local), dtype=bool)
    for change in turned:
        gone |= (local >= change.at + change.before) & (local < change.at + change.after)
    return gone


def _settled(first: Micros, second: Micros, form: TimeForm, rows: NDArray[np.int64], column: str) -> Clock:
    """Which of the two passes through a repeated hour each row belongs to, from the order of the rows."""
    double = np.flatnonzero(second != first)
    if not len(double):
        return Clock(first)
    micros, certain = first.copy(), form.file_order_is_time_order
    remarks = []
    for run in np.split(double, np.flatnonzero(np.diff(double) != 1) + 1):
        back = run[1:][np.diff(first[run]) <= 0]
        where = f"rows {rows[run[0]]} to {rows[run[-1]]}"
        if len(back):
            micros[back[0] : run[-1] + 1] = second[back[0] : run[-1] + 1]
            # two equal stamps may also be one row written twice
            certain = certain and bool(first[back[0]] < first[back[0] - 1])
            by = (
                "by the order of the file"
                if certain
                else "as if the rows stood in the order of time, which is not sure"
            )
            what = f"the clock was put back: local times of {where} occur twice; settled {by}; second pass from here"
            remarks.append(Remark(what, int(rows[back[0]]), column))
        else:
            certain = False
            what = f"local times of {where} occurred twice; nothing shows which pass they belong to; read as the first"
            remarks.append(Remark(what, int(rows[run[0]]), column))
    return Clock(micros, certain, True, tuple(remarks))


def order_complaints(micros: Micros, rows: NDArray[np.int64], column: str, file: str) -> list[BadInput]:
    """A complaint for every row that does not stand after the row before it."""
    found = []
    for i in np.flatnonzero(np.diff(micros) <= 0)[:ENOUGH] + 1:
        same = micros[i] == micros[i - 1]
        what = f"has the same time as row {rows[i - 1]}" if same else f"stands before the time of row {rows[i - 1]}"
        found.append(
            BadInput(
                what,
                file=file,
                row=int(rows[i]),
                column=column,
                allowed="a time later than the row before",
                fix="take out the doubled row, or part the file where two logs were joined",
            )
        )
    return found


def utc(micros: int) -> datetime.datetime:
    """An instant in microseconds since 1970 as a datetime in UTC."""
    return EPOCH + micros * MICROSECOND
