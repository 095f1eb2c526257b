"""Where a roll of film adhesive was: the freezer log as the shop keeps it, each time with its offset from UTC."""

import datetime
from dataclasses import dataclass
from pathlib import Path
from typing import Annotated, Literal

from pydantic import BeforeValidator, Field

from bladewright.errors import BadInput
from bladewright.evidence.acceptance_test import AcceptanceEntry, AcceptanceTest
from bladewright.evidence.dates import Date
from bladewright.evidence.files import opened
from bladewright.evidence.records import Source
from bladewright.evidence.shop_file import Words
from bladewright.typed import Record, as_custom, of_kind, toml_table, validated

Move = Literal["out", "in"]


@dataclass(frozen=True, slots=True)
class FreezerEntry:
    """One line of the freezer log: the roll went out or came back."""

    move: Move
    at: datetime.datetime
    by: str = ""
    warmest: float | None = None  # [K] of the room meanwhile, entered with "in"


@dataclass(frozen=True, slots=True)
class Unlogged:
    """A stretch in which nobody can say where the roll was, or the freezer was too warm."""

    start: datetime.datetime
    end: datetime.datetime
    why: str


@dataclass(frozen=True, slots=True)
class Roll:
    """One roll with everything on file about where it was."""

    number: str
    lot: str
    received: datetime.datetime  # into the freezer
    entries: tuple[FreezerEntry, ...] = ()
    unlogged: tuple[Unlogged, ...] = ()
    before_receipt: float | None = 0.0  # [s] out with the maker and the carrier; None: nobody knows
    expires: datetime.date | None = None  # shelf life in the freezer, last day it may be used
    first_used: datetime.date | None = None  # when the lot was first laid up; None: not yet
    acceptance: tuple[AcceptanceTest, ...] = ()
    source: Source | None = None
    used_up: datetime.date | None = None  # when the last of it was built in or thrown away; None: there is some left


def _moment(value: object) -> datetime.datetime:
    """A time with its offset; TOML has its own form for one, and a text in ISO 8601 is taken too."""
    wrong = BadInput(
        f"{value} is not a time with its offset from UTC",
        value=str(value),
        allowed="a time like 2026-06-03T08:00:00-04:00",
        fix="write the offset the clock on the wall had that day",
    )
    if isinstance(value, str):
        try:
            value = datetime.datetime.fromisoformat(value)
        except ValueError as error:
            raise as_custom(wrong) from error
    if not isinstance(value, datetime.datetime) or value.tzinfo is None:
        raise as_custom(wrong)
    return value


Moment = Annotated[datetime.datetime, BeforeValidator(_moment)]


class _Entry(Record):
    move: Move
    at: Moment
    by: Words
    warmest: Annotated[float, *of_kind("temperature")] | None = None


class _Unlogged(Record):
    start: Moment
    end: Moment
    why: Words


class _RollFile(Record):
    format: int = Field(ge=1, le=1)
    roll: Words
    lot: Words
    received: Moment
    before_receipt: Annotated[float, *of_kind("time"), Field(ge=0.0)] | None = None
    expires: Date | None = None
    first_used: Date | None = None
    used_up: Date | None = None
    acceptance: tuple[AcceptanceEntry, ...] = ()
    entries: tuple[_Entry, ...] = ()
    unlogged: tuple[_Unlogged, ...] = ()


def read_freezer_log(log: Path | bytes, file: str = "") -> Roll:
    """The roll; ``SeveralBadInputs`` names everything wrong. The order of its entries is asked for when counting."""
    data, source = opened(log, file)
    entered = validated(_RollFile, toml_table(data, source.file), source.file, "a freezer log")
    return Roll(
        number=entered.roll,
        lot=entered.lot,
        received=entered.received,
        entries=tuple(FreezerEntry(one.move, one.at, one.by, one.warmest) for one in entered.entries),
        unlogged=tuple(Unlogged(one.start, one.end, one.why) for one in entered.unlogged),
        before_receipt=entered.before_receipt,
        expires=entered.expires,
        first_used=entered.first_used,
        acceptance=tuple(one.test() for one in entered.acceptance),
        source=source,
        used_up=entered.used_up,
    )
