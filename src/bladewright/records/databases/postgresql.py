"""The book's tables on a PostgreSQL server: one schema for each book, its address from the environment only.

Text is ordered by its bytes, as SQLite orders it, whatever language the server was set up in.
"""

import contextlib
import datetime
import os
import re
import sqlite3
from collections.abc import Iterator
from pathlib import Path
from typing import Any, Final

from django.db import NotSupportedError, connection, transaction

from bladewright.errors import BadInput, BookDamaged, ComputerRefused
from bladewright.records.book import Book
from bladewright.records.databases.tables import guarded

ADDRESS: Final = "BLADEWRIGHT_POSTGRES"
_LIKE: Final = 'a libpq address, like "host=/run/postgresql dbname=shop user=shop"'

_FUNCTION: Final = "the_book_only_grows"
_BODY: Final = (
    "BEGIN RAISE EXCEPTION 'the book only grows: %', TG_TABLE_NAME "
    "USING ERRCODE = 'integrity_constraint_violation'; END"
)
#: verb -> how the catalogue says "before that verb, once for each statement" (pg_trigger.tgtype)
_VERBS: Final = {"update": 2 + 16, "delete": 2 + 8, "truncate": 2 + 32}

#: classes and codes of SQLSTATE (PostgreSQL documentation, appendix A)
_MEANINGS: Final = {
    "busy": ("55P03", "40001", "40P01"),
    "away": ("08", "28", "3D", "57P", "53300"),
    "denied": ("53", "58", "57014", "25006", "42501", "0A"),
}


def settings(book: Book, *, write: bool, wait_seconds: float) -> dict[str, Any]:
    """What is acknowledged is on the server's disk; who reads only cannot write, whatever they send.

    Read committed: whoever waited for their turn must see what was written meanwhile.
    """
    from psycopg import IsolationLevel

    address = _address()
    told = {
        "search_path": _schema(book),
        "lock_timeout": str(max(1, round(wait_seconds * 1000))),  # [ms]
        "synchronous_commit": "on",
        "datestyle": "ISO",
    }
    told |= {} if write else {"default_transaction_read_only": "on"}
    options = " ".join([address.pop("options", ""), *(f"-c {name}={value}" for name, value in told.items())])
    return {
        "ENGINE": "django.db.backends.postgresql",
        "NAME": address.pop("dbname", ""),
        "CONN_MAX_AGE": 60,  # a desk asks often; each thread keeps its own connection for so long [s]
        "CONN_HEALTH_CHECKS": True,
        "OPTIONS": {
            "connect_timeout": "20",
            "application_name": "bladewright",
            **address,
            "options": options.strip(),
            "isolation_level": IsolationLevel.READ_COMMITTED,
        },
    }


def begin(book: Book) -> None:
    """A schema of the book's own; ``BadInput`` if one of that name is there, or the server cannot keep every letter."""
    with connection.cursor() as cursor:
        cursor.execute("SHOW server_encoding")
        (encoding,) = cursor.fetchone()
        if encoding != "UTF8":
            raise BadInput(
                "keeps text in an encoding that has not every letter",
                field=ADDRESS,
                value=encoding,
                allowed="UTF8",
                fix="make the database with: createdb --encoding=UTF8 --template=template0",
            )
        cursor.execute("SELECT count(*) FROM pg_namespace WHERE nspname = %s", [_schema(book)])
        if cursor.fetchone() != (0,):
            raise BadInput(
                "is there already", file=book.tables, allowed="a new schema", fix="begin the book again in a moment"
            )
        cursor.execute(f'CREATE SCHEMA "{_schema(book)}"')


def abandon(book: Book) -> None:
    """Drop the schema, if the server still answers."""
    connection.close()  # it may be in the middle of what failed
    with contextlib.suppress(Exception), connection.cursor() as cursor:  # the first error is the one to tell
        cursor.execute(f'DROP SCHEMA IF EXISTS "{_schema(book)}" CASCADE')


def refuse_absent(book: Book) -> None:
    """``BookDamaged`` if the schema is gone or empty: perhaps the address is that of another database."""
    with connection.cursor() as cursor:
        cursor.execute(
            "SELECT count(DISTINCT s.oid), count(t.oid) FROM pg_namespace s "
            "LEFT JOIN pg_class t ON t.relnamespace = s.oid AND t.relkind = 'r' WHERE s.nspname = %s",
            [_schema(book)],
        )
        schemas, tables = cursor.fetchone()
    if not tables:
        raise BookDamaged(
            "holds no tables" if schemas else "the tables are gone",
            file=book.tables,
            allowed=f"the database the book was begun in, named by {ADDRESS}",
            fix=f"check {ADDRESS}; if the tables are lost, put back a backup of the schema",
        )


def refuse_careless(book: Book) -> None:
    """``BadInput`` if the server was told not to wait for its disk."""
    with connection.cursor() as cursor:
        for name in ("fsync", "full_page_writes"):
            cursor.execute(f"SHOW {name}")
            if cursor.fetchone() != ("on",):
                raise BadInput(
                    "may lose what it acknowledged when its power fails",
                    file=book.tables,
                    field=name,
                    value="off",
                    allowed="on",
                    fix=f"set {name} = on in the server's postgresql.conf; until then the book is for reading only",
                )


def after_migrating() -> None:
    """Order all text by its bytes, then put every guard in place; all of it or nothing."""
    missing = missing_guards()
    with transaction.atomic(), connection.cursor() as cursor:
        for table, column in _not_by_bytes():
            cursor.execute(f'ALTER TABLE "{table}" ALTER COLUMN "{column}" TYPE text COLLATE "C"')
        if missing:
            cursor.execute(f"CREATE OR REPLACE FUNCTION {_FUNCTION}() RETURNS trigger LANGUAGE plpgsql AS $${_BODY}$$")
        for name, table, verb in _guards_wanted():
            if name in missing:
                cursor.execute(f'DROP TRIGGER IF EXISTS "{name}" ON "{table}"')
                cursor.execute(
                    f'CREATE TRIGGER "{name}" BEFORE {verb.upper()} ON "{table}" '
                    f"FOR EACH STATEMENT EXECUTE FUNCTION {_FUNCTION}()"
                )
                # ALWAYS: also in a session that says it only replays another server's changes
                cursor.execute(f'ALTER TABLE "{table}" ENABLE ALWAYS TRIGGER "{name}"')


def missing_guards() -> tuple[str, ...]:
    """By what the catalogue says each does: one switched off, with a condition, or with another function is gone."""
    with connection.cursor() as cursor:
        cursor.execute(
            "SELECT g.tgname, t.relname, g.tgtype FROM pg_trigger g "
            "JOIN pg_class t ON t.oid = g.tgrelid JOIN pg_proc f ON f.oid = g.tgfoid "
            "JOIN pg_language l ON l.oid = f.prolang "
            "WHERE t.relnamespace = current_schema()::regnamespace AND f.pronamespace = t.relnamespace "
            "AND NOT g.tgisinternal AND g.tgenabled = 'A' AND g.tgqual IS NULL AND g.tgnargs = 0 "
            "AND cardinality(g.tgattr::int2[]) = 0 "
            "AND f.proname = %s AND f.prosrc = %s AND f.proconfig IS NULL AND l.lanname = 'plpgsql'",
            [_FUNCTION, _BODY],
        )
        found = set(cursor.fetchall())
    return tuple(sorted(name for name, table, verb in _guards_wanted() if (name, table, _VERBS[verb]) not in found))


def torn() -> Iterator[tuple[str, str]]:
    """Rows that name a row that is gone, as they can be left by somebody who switched the server's own rule off."""
    for table, column in _not_by_bytes():
        yield f"table {table}", f"{column} is not ordered by its bytes"
    yield from _foreign()
    with connection.cursor() as cursor:
        for model in guarded():
            table, key = model._meta.db_table, model._meta.pk.column
            for field in model._meta.local_concrete_fields:
                if field.related_model is None:
                    continue
                named = field.related_model._meta  # type: ignore[union-attr]
                cursor.execute(
                    f'SELECT a."{key}" FROM "{table}" a WHERE a."{field.column}" IS NOT NULL AND NOT EXISTS '
                    f'(SELECT 1 FROM "{named.db_table}" b WHERE b."{named.pk.column}" = a."{field.column}")'
                )
                for (number,) in cursor.fetchall():
                    yield f"table {table}", f"row {number} names a row that is gone"


@contextlib.contextmanager
def one_moment() -> Iterator[None]:
    """A transaction that reads one snapshot and may not write."""
    with connection.cursor() as cursor:
        cursor.execute("BEGIN ISOLATION LEVEL REPEATABLE READ READ ONLY")
        try:
            yield
        finally:
            cursor.execute("ROLLBACK")


def take_turn(book: Book) -> None:
    """One writer at a time, so that event numbers follow each other: a lock of this book's own, held to the end.

    Not a lock on a table: the server's own tidying would have to stand in the same line.
    """
    with connection.cursor() as cursor:
        cursor.execute("SELECT pg_advisory_xact_lock(%s)", [int(_checked(book), 16)])


def copy(book: Book, to: Path) -> None:
    """Every table of the schema as it stood at one moment, in a SQLite file: any tool reads it, with no server."""
    try:
        with contextlib.closing(sqlite3.connect(to)) as new, one_moment(), connection.cursor() as cursor:
            cursor.execute("SELECT tablename FROM pg_tables WHERE schemaname = %s ORDER BY 1", [_schema(book)])
            for (table,) in cursor.fetchall():
                cursor.execute(f'SELECT * FROM "{table}"')
                names = [column.name for column in cursor.description or ()]
                columns = ", ".join(f'"{name}"' for name in names)
                marks = ", ".join("?" * len(names))
                new.execute(f'CREATE TABLE "{table}" ({columns})')
                new.executemany(
                    f'INSERT INTO "{table}" VALUES ({marks})', ([_plain(value) for value in row] for row in cursor)
                )
            new.commit()
    except sqlite3.Error as error:
        raise ComputerRefused.because(OSError(f"{error}; nothing was changed"), to) from error


def meaning(error: BaseException | None) -> str:
    """By SQLSTATE; without one the server was not reached at all."""
    if isinstance(error, NotSupportedError) and error.__cause__ is None:
        return "denied"  # a server that is too old, as Django says it
    if error is None or not hasattr(error, "sqlstate"):
        return ""
    from psycopg import InterfaceError, OperationalError

    code = error.sqlstate or ("08" if isinstance(error, InterfaceError | OperationalError) else "")
    return next((word for word, codes in _MEANINGS.items() if code.startswith(codes)), "damaged")


def _address() -> dict[str, Any]:
    """The parts of the address. What is wrong with it is said without repeating it: it may hold a password."""
    from psycopg import ProgrammingError
    from psycopg.conninfo import conninfo_to_dict

    text = os.environ.get(ADDRESS, "").strip()
    wrong = BadInput(
        "names no database" if text else "is not set",
        field=ADDRESS,
        allowed=_LIKE,
        fix=f"set {ADDRESS} in the environment of whoever starts the program",
    )
    try:
        parts = conninfo_to_dict(text)
    except ProgrammingError:
        wrong.what = "is not an address"
        raise wrong from None
    if not (parts.get("dbname") or parts.get("service")):
        raise wrong
    return dict(parts)


def _checked(book: Book) -> str:
    """The book's id, if it is one of ours: it becomes part of statements."""
    if not re.fullmatch(r"[0-9a-f]{12}", book.id):
        raise BookDamaged(
            "is not the id of a book",
            file=str(book.folder / "book.toml"),
            field="id",
            value=book.id,
            allowed="12 letters of 0-9 and a-f",
            fix="put book.toml back as it was",
        )
    return book.id


def _schema(book: Book) -> str:
    return f"book_{_checked(book)}"


def _guards_wanted() -> Iterator[tuple[str, str, str]]:
    """Name, table and verb. An insert that would replace a row counts as an update here, so it needs no guard."""
    for model in guarded():
        for verb in _VERBS:
            yield f"keep_{model._meta.db_table}_{verb}", model._meta.db_table, verb


def _not_by_bytes() -> list[tuple[str, str]]:
    """Table and column of every text that is ordered otherwise."""
    with connection.cursor() as cursor:
        cursor.execute(
            "SELECT t.relname, a.attname FROM pg_attribute a JOIN pg_class t ON t.oid = a.attrelid "
            "JOIN pg_collation c ON c.oid = a.attcollation "
            "WHERE t.relnamespace = current_schema()::regnamespace AND t.relkind = 'r' AND a.attnum > 0 "
            "AND a.atttypid = 'text'::regtype AND c.collname <> 'C' ORDER BY 1, 2"
        )
        return [(table, column) for table, column in cursor.fetchall()]


def _foreign() -> Iterator[tuple[str, str]]:
    """What this program never lays over a table, and what could make an acknowledged row vanish or read otherwise."""
    ours = "t.relnamespace = current_schema()::regnamespace AND t.relkind = 'r'"
    asked = {
        "has a rule": f"SELECT t.relname, rulename FROM pg_rewrite JOIN pg_class t ON t.oid = ev_class WHERE {ours}",
        "has a trigger of somebody's": "SELECT t.relname, tgname FROM pg_trigger JOIN pg_class t ON t.oid = tgrelid "
        f"WHERE {ours} AND NOT tgisinternal AND tgname <> ALL (%s)",
        "hides rows": f"SELECT t.relname, 'row security' FROM pg_class t WHERE {ours} AND t.relrowsecurity",
        "shows another table's rows": "SELECT t.relname, inhrelid::regclass::text FROM pg_inherits "
        f"JOIN pg_class t ON t.oid = inhparent WHERE {ours}",
    }
    guards = [name for name, _, _ in _guards_wanted()]
    with connection.cursor() as cursor:
        for what, statement in asked.items():
            cursor.execute(statement, [guards] if "%s" in statement else None)
            yield from ((f"table {table}", f"{what}: {name}") for table, name in cursor.fetchall())


def _plain(value: object) -> object:
    """A day or a moment as text; everything else SQLite keeps as it is."""
    return value.isoformat() if isinstance(value, datetime.date) else value
