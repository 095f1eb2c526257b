"""The tables of a book as another program reaches them, with every right: a file opened, or a server's superuser."""

import contextlib
import sqlite3
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from pathlib import Path
from typing import Any

import psycopg
from django.db import connections

from bladewright.records.book import Kept
from bladewright.records.opening import Book
from tests import postgres

#: what the tables' own rules refuse
REFUSED = (sqlite3.IntegrityError, psycopg.IntegrityError, psycopg.DataError)


@dataclass(frozen=True, slots=True)
class Hand:
    """A connection of our own: statements in the words both databases know, with ``?`` for a value."""

    kept: Kept
    db: Any

    def execute(self, statement: str, values: Sequence[object] = ()) -> Any:
        """What the statement found."""
        if self.kept is Kept.SQLITE:
            return self.db.execute(statement, values)
        return self.db.execute(statement.replace("?", "%s") if values else statement, values or None)

    def columns(self, table: str) -> list[str]:
        """The columns of a table, its key first."""
        return [column[0] for column in self.execute(f'SELECT * FROM "{table}" LIMIT 0').description]

    def guards(self) -> list[tuple[str, str]]:
        """Name and table of every guard."""
        found: list[tuple[str, str]] = self.execute(
            "SELECT name, tbl_name FROM sqlite_master WHERE type = 'trigger'"
            if self.kept is Kept.SQLITE
            else "SELECT tgname, relname FROM pg_trigger JOIN pg_class t ON t.oid = tgrelid WHERE NOT tgisinternal"
        ).fetchall()
        return found

    def drop_guard(self, name: str, table: str) -> None:
        """Take one guard off."""
        self.execute(f'DROP TRIGGER "{name}"' + ("" if self.kept is Kept.SQLITE else f' ON "{table}"'))


@contextlib.contextmanager
def by_hand(book: Book, *, guarded: bool = False) -> Iterator[Hand]:
    """Not guarded: guards and the database's own rules are out of the way, and put back as they were."""
    connections.close_all()
    with _file(book, guarded) if book.kept is Kept.SQLITE else _server(book, guarded) as hand:
        yield hand


@contextlib.contextmanager
def _file(book: Book, guarded: bool) -> Iterator[Hand]:
    with contextlib.closing(sqlite3.connect(book.database)) as db:
        db.execute("PRAGMA synchronous = OFF")
        triggers = db.execute("SELECT name, sql FROM sqlite_master WHERE type = 'trigger'").fetchall()
        if not guarded:
            for name, _ in triggers:
                db.execute(f'DROP TRIGGER "{name}"')
        yield Hand(book.kept, db)
        if not guarded:
            for _, statement in triggers:
                db.execute(statement)
        db.commit()


@contextlib.contextmanager
def _server(book: Book, guarded: bool) -> Iterator[Hand]:
    name = postgres.note_of(book.folder).read_text(encoding="ascii")
    with postgres.connected(name) as db:
        db.execute(f'SET search_path = "book_{book.id}"'.encode())
        hand = Hand(book.kept, db)
        guards = hand.guards()
        tables = sorted({table for _, table in guards})
        if not guarded:
            db.execute("; ".join(f'ALTER TABLE "{table}" DISABLE TRIGGER ALL' for table in tables).encode())
        yield hand
        if not guarded:
            back = [f'ALTER TABLE "{table}" ENABLE TRIGGER ALL' for table in tables]
            back += [f'ALTER TABLE "{table}" ENABLE ALWAYS TRIGGER "{guard}"' for guard, table in guards]
            db.execute("; ".join(back).encode())


@contextlib.contextmanager
def another_writes(book: Book) -> Iterator[None]:
    """Another program is in the middle of an act."""
    if book.kept is Kept.SQLITE:
        with contextlib.closing(sqlite3.connect(book.database, isolation_level=None)) as other:
            other.execute("BEGIN IMMEDIATE")
            yield
            other.execute("ROLLBACK")
    else:
        name = postgres.note_of(book.folder).read_text(encoding="ascii")
        with postgres.connected(name) as server, server.transaction():
            server.execute("SELECT pg_advisory_xact_lock(%s)", [int(book.id, 16)])
            yield


def kept_apart(book: Book, to: Path) -> None:
    """A copy of the tables as they are now."""
    connections.close_all()
    if book.kept is Kept.SQLITE:
        to.write_bytes(book.database.read_bytes())
    else:
        postgres.copied(book.folder, to)
        postgres.point_at(book.folder)


def put_in_place(book: Book, older: Path) -> None:
    """The tables of that copy instead of the book's."""
    connections.close_all()
    if book.kept is Kept.SQLITE:
        book.database.write_bytes(older.read_bytes())
    else:
        note = postgres.note_of(book.folder)
        note.write_bytes(postgres.note_of(older).read_bytes())
        postgres.point_at(book.folder)
