"""The open book, and the small file that says which book a folder is."""

import datetime
import tomllib
import zoneinfo
from dataclasses import dataclass
from enum import StrEnum
from pathlib import Path
from typing import Final

import tomlkit

from bladewright.errors import BadInput, BookDamaged
from bladewright.records.placing import put

FORMAT: Final = 1
_FILE: Final = "book.toml"


class Kept(StrEnum):
    """Where the tables of a book are kept. The words are Django's own for them as well."""

    SQLITE = "sqlite"
    POSTGRESQL = "postgresql"


@dataclass(frozen=True, slots=True)
class Book:
    """One shop's record book: a folder."""

    folder: Path
    id: str
    shop: str
    zone: str  # IANA name: whose day it is when something happens
    demo: bool = False
    writable: bool = True
    kept: Kept = Kept.SQLITE

    @property
    def database(self) -> Path:
        """The file of the tables, where they are kept in one."""
        return self.folder / "book.sqlite3"

    @property
    def tables(self) -> str:
        """Where the tables are, as an error tells a person; never the address of a server."""
        return str(self.database) if self.kept is Kept.SQLITE else f"PostgreSQL schema book_{self.id}"

    def day(self, at: datetime.datetime) -> datetime.date:
        """The shop's calendar day at a moment."""
        return self.clock(at).date()

    def clock(self, at: datetime.datetime) -> datetime.datetime:
        """A moment by the shop's own clock."""
        return at.astimezone(zoneinfo.ZoneInfo(self.zone))

    def on_wall(self, wall: datetime.datetime) -> datetime.datetime:
        """The moment the shop's clock showed this; of an hour it showed twice or never, the earlier one."""
        zone = zoneinfo.ZoneInfo(self.zone)
        return min(wall.replace(tzinfo=zone, fold=fold).astimezone(datetime.UTC) for fold in (0, 1))

    def midnight_after(self, day: datetime.date) -> datetime.datetime:
        """When a calendar day of the shop ends."""
        return datetime.datetime.combine(
            day + datetime.timedelta(days=1), datetime.time(), zoneinfo.ZoneInfo(self.zone)
        )

    def card(self) -> dict[str, object]:
        """What is written in ``book.toml`` and in the first event. A file in the folder goes without saying."""
        card = {"format": FORMAT, "id": self.id, "shop": self.shop, "zone": self.zone, "demo": self.demo}
        return card if self.kept is Kept.SQLITE else card | {"database": self.kept.value}


_open: list[Book] = []


def opened() -> Book:
    """The book that is open; there is one at a time."""
    if not _open:
        raise BadInput("no book is open", field="book", fix="open the book first")
    return _open[0]


def set_open(book: Book) -> None:
    """Make this the open book. Only ``opening`` does that."""
    _open[:] = [book]


def write_card(book: Book) -> None:
    """Write ``book.toml``."""
    head = "# Which record book this folder is. Changing it is noticed: the book's first event says the same.\n"
    put(book.folder / _FILE, (head + tomlkit.dumps(book.card())).encode("utf-8"))


def read_card(folder: Path) -> Book:
    """The book a folder says it is; nothing is opened yet."""
    path = folder / _FILE
    try:
        card = tomllib.loads(path.read_text(encoding="utf-8"))
    except FileNotFoundError as error:
        raise BadInput(
            "is not a record book", file=str(folder), allowed=f"a folder with {_FILE}", fix="check the folder's name"
        ) from error
    except (OSError, tomllib.TOMLDecodeError, UnicodeDecodeError) as error:
        raise BookDamaged(f"cannot be read: {error}", file=str(path), fix="put it back from a backup") from error
    found = {name: card.get(name) for name in ("format", "id", "shop", "zone", "demo")}
    if found["format"] != FORMAT:
        raise BadInput(
            "is a book of another format",
            file=str(path),
            field="format",
            value=found["format"],
            allowed=str(FORMAT),
            fix="use the version of the program the book was written with",
        )
    if not all(isinstance(found[name], str) for name in ("id", "shop", "zone")):
        raise BookDamaged(
            "has lost an entry", file=str(path), allowed="id, shop, zone", fix="put it back from a backup"
        )
    zone = check_zone(str(found["zone"]))
    kept = kept_in(card.get("database", Kept.SQLITE))
    return Book(folder, str(found["id"]), str(found["shop"]), zone, found["demo"] is True, kept=kept)


def kept_in(word: object) -> Kept:
    """The kind of database of that name."""
    try:
        return Kept(str(word))
    except ValueError:
        raise BadInput(
            "is not a database a book is kept in",
            field="database",
            value=str(word),
            allowed=", ".join(Kept),
            fix="choose one of these",
        ) from None


def check_zone(zone: str) -> str:
    """The zone, if the time zone database knows it."""
    if zone not in zoneinfo.available_timezones():
        raise BadInput(
            "is not a time zone",
            field="zone",
            value=zone,
            allowed='an IANA name like "Europe/London"',
            fix="enter the shop's zone",
        )
    return zone
