"""The book's tables in one file of its folder: SQLite, with a write-ahead log."""

import contextlib
import sqlite3
from collections.abc import Iterator
from pathlib import Path
from typing import Any, Final

from django.db import connection
from django.db.models import Model, UniqueConstraint

from bladewright.errors import BookDamaged, ComputerRefused
from bladewright.records.book import Book
from bladewright.records.databases.tables import guarded

#: WAL lets people read while one writes; FULL: what was acknowledged survives a lost power supply
_WRITING: Final = "PRAGMA journal_mode=WAL; PRAGMA synchronous=FULL; PRAGMA recursive_triggers=ON;"
_READING: Final = "PRAGMA query_only=ON;"
#: what the disk or the system would not do; the book itself is as it was
_REFUSED: Final = (
    *(sqlite3.SQLITE_FULL, sqlite3.SQLITE_READONLY, sqlite3.SQLITE_CANTOPEN),
    *(sqlite3.SQLITE_PERM, sqlite3.SQLITE_IOERR),
)
_BUSY: Final = (sqlite3.SQLITE_BUSY, sqlite3.SQLITE_LOCKED)


def settings(book: Book, *, write: bool, wait_seconds: float) -> dict[str, Any]:
    """IMMEDIATE: a transaction waits for its turn when it begins, not when it first writes."""
    return {
        "ENGINE": "django.db.backends.sqlite3",
        "NAME": str(book.database),
        "OPTIONS": {
            "timeout": wait_seconds,
            "transaction_mode": "IMMEDIATE",
            "init_command": _WRITING if write else _READING,
        },
    }


def begin(book: Book) -> None:
    """Nothing to be done: the file is made when it is first written to."""


def abandon(book: Book) -> None:
    """Nothing to be done: the file goes with its folder."""


def refuse_absent(book: Book) -> None:
    """``BookDamaged`` if the file is gone or empty."""
    fix = "put back a backup of the whole folder"
    if not book.database.is_file():
        raise BookDamaged("the tables are gone", file=book.tables, fix=fix)
    with connection.cursor() as cursor:
        cursor.execute("SELECT count(*) FROM sqlite_master")
        if cursor.fetchone() == (0,):
            raise BookDamaged("holds no tables", file=book.tables, fix=fix)


def refuse_careless(book: Book) -> None:
    """Nothing to be asked: how carefully this file is written we say ourselves."""


def after_migrating() -> None:
    """Put every guard in place. A migration that rebuilds a table drops its triggers without a word."""
    found = _guards_found()
    with connection.cursor() as cursor:
        for name, statement in _guards_wanted().items():
            if found.get(name) == statement:
                continue
            if name in found:
                cursor.execute(f'DROP TRIGGER "{name}"')
            cursor.execute(statement)


def missing_guards() -> tuple[str, ...]:
    """By the whole text of each: a guard made harmless counts as gone."""
    found = _guards_found()
    return tuple(sorted(name for name, statement in _guards_wanted().items() if found.get(name) != statement))


def torn() -> Iterator[tuple[str, str]]:
    """By SQLite's own checks of its pages and of what names what."""
    with connection.cursor() as cursor:
        cursor.execute("PRAGMA integrity_check(5)")
        yield from (("tables", str(row[0])) for row in cursor.fetchall() if row[0] != "ok")
        cursor.execute("PRAGMA foreign_key_check")
        yield from ((f"table {row[0]}", f"row {row[1]} names a row that is gone") for row in cursor.fetchall())


@contextlib.contextmanager
def one_moment() -> Iterator[None]:
    """A plain transaction reads what stood when it began."""
    with connection.cursor() as cursor:
        cursor.execute("BEGIN")
        try:
            yield
        finally:
            cursor.execute("ROLLBACK")


def take_turn(book: Book) -> None:
    """Nothing to be done: a transaction begins IMMEDIATE."""


def copy(book: Book, to: Path) -> None:
    """By SQLite's own way to copy a file that others may be reading."""
    try:
        with (
            contextlib.closing(sqlite3.connect(book.database)) as old,
            contextlib.closing(sqlite3.connect(to)) as new,
        ):
            old.backup(new)
    except sqlite3.Error as error:
        raise ComputerRefused.because(OSError(f"{error}; nothing was changed"), to) from error


def meaning(error: BaseException | None) -> str:
    """By SQLite's primary result code."""
    if not isinstance(error, sqlite3.Error):
        return ""
    code = getattr(error, "sqlite_errorcode", 0) & 0xFF
    return "busy" if code in _BUSY else "refused" if code in _REFUSED else "damaged"


def _guards_wanted() -> dict[str, str]:
    """Trigger name -> statement. A replacing insert counts as a removal and is refused as well."""
    wanted = {}
    for model in guarded():
        table = model._meta.db_table
        for verb in ("update", "delete"):
            name = f"keep_{table}_{verb}"
            wanted[name] = (
                f'CREATE TRIGGER "{name}" BEFORE {verb.upper()} ON "{table}" '
                f"BEGIN SELECT RAISE(ABORT, 'the book only grows: {table}'); END"
            )
        name = f"keep_{table}_replace"
        same = " OR ".join(
            "(" + " AND ".join(f'"{column}" = NEW."{column}"' for column in columns) + ")" for columns in _unique(model)
        )
        wanted[name] = (
            f'CREATE TRIGGER "{name}" BEFORE INSERT ON "{table}" WHEN EXISTS (SELECT 1 FROM "{table}" WHERE {same}) '
            f"BEGIN SELECT RAISE(ABORT, 'already written: {table}'); END"
        )
    return wanted


def _unique(model: type[Model]) -> list[tuple[str, ...]]:
    """The columns no two rows may share."""
    single = [(field.column,) for field in model._meta.local_concrete_fields if field.unique]
    together = [
        tuple(str(model._meta.get_field(name).column) for name in rule.fields)  # type: ignore[union-attr]
        for rule in model._meta.constraints
        if isinstance(rule, UniqueConstraint)
    ]
    return single + together


def _guards_found() -> dict[str, str]:
    with connection.cursor() as cursor:
        cursor.execute("SELECT name, sql FROM sqlite_master WHERE type = 'trigger'")
        return dict(cursor.fetchall())
