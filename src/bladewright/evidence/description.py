"""What a logger writes, as the shop declares it. Nothing about a file is guessed: what is not declared is refused."""

import zoneinfo
from pathlib import Path
from typing import Literal, Self

from pydantic import Field, field_validator, model_validator

from bladewright import units
from bladewright.errors import BadInput
from bladewright.evidence import stamps
from bladewright.evidence.records import Role
from bladewright.typed import Record, as_custom, toml_table, validated

#: zones that are not names of a place
OFFSET_IN_FILE = "offset in file"
ELAPSED = "elapsed"
NOT_A_PLACE = (OFFSET_IN_FILE, ELAPSED)

#: what a suggested description holds where the file does not tell; it is refused until a person enters what is true
OPEN = "?"
STILL_OPEN = "is still open: the file does not tell it, and nobody has entered it"

#: a column by its exact name in the names row, or by its number counted from 1
Column = str | int

#: what a channel of each role measures; "other" says it itself
KIND_OF_ROLE: dict[str, str] = {
    "mould": "temperature", "heater": "temperature", "air": "temperature", "pressure": "pressure",
    "bondline": "temperature", "power": "power",
}  # fmt: skip


def _known_unit(unit: str, kind: str) -> None:
    if kind not in units.KINDS:
        allowed = ", ".join(units.KINDS)
        raise as_custom(BadInput(f"{kind!r} is not a kind of value", value=kind, allowed=allowed, fix="name one"))
    try:
        units.scale_and_zero(unit, kind)
    except BadInput as error:
        raise as_custom(error) from error


class Form(Record):
    """Base of a description's tables: an entry a suggestion left open is refused by its own name."""

    @field_validator(
        "confirmed_by", "name", "encoding", "delimiter", "decimal_mark", "last_line_end", "first_row", "format",
        "file_order_is_time_order", "role", "unit", "kind", "zone", "side",
        mode="before", check_fields=False,
    )  # fmt: skip
    @classmethod
    def _entered(cls, value: object) -> object:
        if value == OPEN:
            raise as_custom(
                BadInput(
                    STILL_OPEN,
                    allowed="what is true of this logger",
                    fix="find out at the logger, and enter it",
                )
            )
        return value


class FileForm(Form):
    """How the bytes are to be read."""

    encoding: Literal["utf-8", "utf-8-sig", "utf-16", "windows-1252", "latin-1"]
    delimiter: Literal["comma", "tab", "semicolon"]
    decimal_mark: Literal["point", "comma"]
    last_line_end: bool = True  # False: this logger does not end its last line, so a cut last number cannot be noticed

    @model_validator(mode="after")
    def _marks_differ(self) -> Self:
        if self.delimiter == "comma" and self.decimal_mark == "comma":
            raise as_custom(
                BadInput(
                    "a comma cannot both part the cells and mark the decimals",
                    allowed='delimiter "semicolon" or "tab" with decimal_mark "comma"',
                    fix="look at the file in a plain editor and declare what it has",
                )
            )
        return self


class TableForm(Form):
    """Where the table stands; rows are counted from 1, as an editor counts lines."""

    names_row: int | None = Field(default=None, ge=1)
    units_row: int | None = Field(default=None, ge=1)
    first_row: int = Field(ge=1)
    ends_before: str | None = None  # how the first line after the table starts; "" is a blank line

    @model_validator(mode="after")
    def _in_order(self) -> Self:
        for row in (self.names_row, self.units_row):
            if row is not None and row >= self.first_row:
                raise as_custom(
                    BadInput(
                        f"row {row} is not above the first data row {self.first_row}",
                        allowed="names_row and units_row smaller than first_row",
                        fix="count the lines in a plain editor, from 1",
                    )
                )
        return self


class TimeForm(Form):
    """Where the time stands and what it means."""

    columns: tuple[Column, ...] = Field(min_length=1, max_length=2)
    zone: str  # an IANA zone like "America/Detroit", or "offset in file", or "elapsed"
    format: str | None = None  # for stamps; like "%Y-%m-%d %H:%M:%S"; two columns are joined by one blank
    unit: str | None = None  # for elapsed time; like "s"
    file_order_is_time_order: bool

    @model_validator(mode="after")
    def _whole(self) -> Self:
        if self.zone == ELAPSED:
            wrong = self.unit is None or self.format is not None or len(self.columns) != 1
            allowed = 'one column, its unit (like "s") and no format'
        else:
            wrong = self.format is None or self.unit is not None
            allowed = "a format and no unit"
        if wrong:
            what = f"does not fit the zone {self.zone!r}"
            raise as_custom(BadInput(what, value=self.zone, allowed=allowed, fix="complete the time table"))
        if self.unit is not None:
            _known_unit(self.unit, "time")
        if self.format is not None:
            try:
                stamps.check_format(self.format, offset=self.zone == OFFSET_IN_FILE)
            except BadInput as error:
                raise as_custom(error) from error
        return self

    @field_validator("columns", mode="before")
    @classmethod
    def _found(cls, columns: object) -> object:
        return cls._entered(OPEN) if columns == [OPEN] else columns

    @field_validator("zone")
    @classmethod
    def _known_zone(cls, zone: str) -> str:
        if zone not in NOT_A_PLACE:
            try:
                zoneinfo.ZoneInfo(zone)
            except (zoneinfo.ZoneInfoNotFoundError, ValueError, OSError) as error:
                raise as_custom(
                    BadInput(
                        f"{zone!r} is not a time zone",
                        value=zone,
                        allowed=f'an IANA name like "America/Detroit", "{OFFSET_IN_FILE}" or "{ELAPSED}"',
                        fix="name the zone the logger's clock was set to",
                    )
                ) from error
        return zone


class ChannelForm(Form):
    """One column and what it measures. Pressures are gauge pressures."""

    column: Column
    role: Role
    unit: str
    kind: str = ""  # needed for the role "other"
    name: str = ""  # shown instead of the column's name
    zone: str = ""
    side: Literal["top", "bottom", ""] = ""
    unit_label: str | None = None  # what the units row says, where that is not a unit's usual spelling
    unit_column: Column | None = None  # a column that repeats the unit in every row

    @model_validator(mode="after")
    def _measures_something(self) -> Self:
        expected = KIND_OF_ROLE.get(self.role)
        if not self.kind and expected is None:
            example = 'kind = "temperature"'
            what = 'a column of the role "other" needs a kind'
            raise as_custom(BadInput(what, value=self.role, allowed=example, fix="say what it measures"))
        if self.kind and expected is not None and self.kind != expected:
            what = f"a column of the role {self.role} cannot measure {self.kind}"
            raise as_custom(BadInput(what, value=self.kind, allowed=expected, fix="leave kind out, or mend the role"))
        _known_unit(self.unit, self.measures)
        return self

    @property
    def measures(self) -> str:
        """The kind of value, see ``bladewright.units``."""
        return self.kind or KIND_OF_ROLE[self.role]


class QuantityForm(Record):
    """A column of a pull curve and its unit."""

    column: Column
    unit: str
    unit_label: str | None = None
    sign: Literal["as written", "reversed"] = "as written"  # reversed: the machine writes a pull as negative


class Description(Form):
    """What every table from the floor needs to have declared."""

    format: int = Field(ge=1, le=1)
    name: str = Field(min_length=1)
    confirmed_by: str | None = Field(default=None, min_length=1)  # who looked at every guess of a suggested description
    file: FileForm
    table: TableForm
    missing: tuple[str, ...] = ()  # words, or numbers, a cell holds where there is no reading
    ignore_other_columns: bool = False


class LoggerDescription(Description):
    """How one logger writes a cure."""

    time: TimeForm
    columns: tuple[ChannelForm, ...] = Field(min_length=1)


class PullDescription(Description):
    """How one test machine writes a pull curve."""

    travel: QuantityForm
    force: QuantityForm

    @model_validator(mode="after")
    def _units(self) -> Self:
        _known_unit(self.travel.unit, "length")
        _known_unit(self.force.unit, "force")
        return self


def parse_logger_description(data: bytes, file: str) -> LoggerDescription:
    """The logger description in the bytes of a TOML file."""
    return validated(LoggerDescription, toml_table(data, file), file, "a logger description")


def read_logger_description(path: Path) -> LoggerDescription:
    """The logger description in a TOML file."""
    return parse_logger_description(path.read_bytes(), path.name)


def parse_pull_description(data: bytes, file: str) -> PullDescription:
    """The pull description in the bytes of a TOML file."""
    return validated(PullDescription, toml_table(data, file), file, "a pull description")


def read_pull_description(path: Path) -> PullDescription:
    """The pull description in a TOML file."""
    return parse_pull_description(path.read_bytes(), path.name)
