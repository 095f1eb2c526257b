"""What SQLite and PostgreSQL do each in their own way, under the same names; everything else of the book knows neither.

A new kind of database is one more module with these functions, and one more line in ``_KINDS``.
"""

import contextlib
from collections.abc import Iterator
from enum import StrEnum
from pathlib import Path
from typing import Any, Final, Protocol

from django.db import connection

from bladewright.records.book import Book, Kept
from bladewright.records.databases import postgresql, sqlite

__all__ = ["Kind", "Meaning", "in_use", "kind_of", "meaning_of"]


class Meaning(StrEnum):
    """What a database's complaint comes down to."""

    BUSY = "busy"
    REFUSED = "refused"  # by the computer: a full disk, no right to write a file
    DENIED = "denied"  # by a server: no room, no right, too old
    AWAY = "away"  # a server does not answer
    DAMAGED = "damaged"


class Kind(Protocol):
    """What each module of this folder offers."""

    def settings(self, book: Book, *, write: bool, wait_seconds: float) -> dict[str, Any]:
        """Django's settings for the book's tables."""

    def begin(self, book: Book) -> None:
        """Make room for a new book's tables."""

    def abandon(self, book: Book) -> None:
        """Take away what ``begin`` made, when the book could not be finished."""

    def refuse_absent(self, book: Book) -> None:
        """``BookDamaged`` if the tables are gone."""

    def refuse_careless(self, book: Book) -> None:
        """``BadInput`` if what is acknowledged here might not survive a lost power supply."""

    def after_migrating(self) -> None:
        """Put every guard in place, exactly as it should be, and all else a migration may have dropped."""

    def missing_guards(self) -> tuple[str, ...]:
        """Names of guards that are not there, or not as they should be."""

    def torn(self) -> Iterator[tuple[str, str]]:
        """Where the tables do not hold together, and how."""

    def one_moment(self) -> contextlib.AbstractContextManager[None]:
        """Everything read is of one moment, while others go on writing."""

    def take_turn(self, book: Book) -> None:
        """Inside a transaction: from here to its end nobody else writes."""

    def copy(self, book: Book, to: Path) -> None:
        """All tables as they are, in a new SQLite file; half a copy is not left behind."""

    def meaning(self, error: BaseException | None) -> str:
        """What this database's own error means; empty if it is none of this database's."""


_KINDS: Final[dict[Kept, Kind]] = {Kept.SQLITE: sqlite, Kept.POSTGRESQL: postgresql}


def kind_of(book: Book) -> Kind:
    """The database a book is kept in."""
    return _KINDS[book.kept]


def in_use() -> Kind:
    """The database Django is pointed at."""
    return _KINDS[Kept(connection.vendor)]


def meaning_of(error: BaseException) -> Meaning:
    """What an error of either database comes down to; what nobody can place counts as damage."""
    for cause in (error, error.__cause__):
        for kind in _KINDS.values():
            if found := kind.meaning(cause):
                return Meaning(found)
    return Meaning.DAMAGED
