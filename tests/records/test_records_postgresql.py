"""What only a server can do to a book: go away, refuse, be the wrong one, be older, order words by its own language."""

import os
import subprocess
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import psycopg
import pytest
from django.db import NotSupportedError, OperationalError, connection, connections, transaction
from typer.testing import CliRunner

from bladewright.cli.commands import app
from bladewright.errors import BadInput, BladewrightError, BookBusy, BookDamaged, ComputerRefused
from bladewright.records import heads, writing
from bladewright.records.book import Kept
from bladewright.records.checking import check
from bladewright.records.databases import Meaning, meaning_of, postgresql
from bladewright.records.databases.postgresql import ADDRESS
from bladewright.records.lots import all_lots, receive_lot
from bladewright.records.opening import Book, create_book, open_book
from bladewright.records.people import add_person, all_people
from bladewright.records.ready import models
from bladewright.records.writing import said
from tests import postgres
from tests.records.by_hand import another_writes
from tests.records.cast import AT, BEGUN, OFFICE, RECEIVER, by

pytestmark = pytest.mark.book("postgresql")
SECRET = "seven-grey-geese"


def name_of(book: Book) -> str:
    return postgres.note_of(book.folder).read_text(encoding="ascii")


@pytest.fixture(name="address")
def _address(monkeypatch: pytest.MonkeyPatch) -> Iterator[pytest.MonkeyPatch]:
    monkeypatch.setenv(ADDRESS, os.environ.get(ADDRESS, ""))
    yield monkeypatch
    connections.close_all()


@pytest.mark.parametrize(
    ("text", "what"),
    [
        ("", "is not set"),
        ("host=/run user=shop", "names no database"),
        (f"{SECRET}", "is not an address"),
        (f"postgresql://shop:{SECRET}@[bad", "is not an address"),
        (f"host=/nowhere/at/all dbname=shop password={SECRET}", "the server does not answer"),
        (f"host=localhost port=1 dbname=shop password={SECRET}", "the server does not answer"),
    ],
)
def test_an_address_that_leads_nowhere_is_said_without_its_password(
    book: Book, address: pytest.MonkeyPatch, text: str, what: str
) -> None:
    address.setenv(ADDRESS, text)
    with pytest.raises(BadInput) as caught:
        open_book(book.folder)
    assert what in caught.value.what
    assert ADDRESS in f"{caught.value.field} {caught.value.fix}"
    assert SECRET not in str(caught.value)
    assert not [path for path in book.folder.rglob("*.toml") if SECRET in path.read_text(encoding="utf-8")]


def test_a_database_that_is_not_there_is_said_and_one_without_the_book_is_damage(
    book: Book, address: pytest.MonkeyPatch
) -> None:
    address.setenv(ADDRESS, postgres.address("nobody_made_this"))
    with pytest.raises(ComputerRefused) as away:
        open_book(book.folder)
    assert "nobody_made_this" in away.value.what
    address.setenv(ADDRESS, postgres.address("postgres"))
    with pytest.raises(BookDamaged) as other:
        open_book(book.folder)
    assert other.value.file == f"PostgreSQL schema book_{book.id}"
    assert ADDRESS in str(other.value.fix)


def test_the_address_is_written_nowhere(book: Book) -> None:
    for path in (*book.folder.rglob("*"), heads.log_of(book.folder)):
        if path.is_file():
            assert name_of(book).encode() not in path.read_bytes()


def test_an_id_that_is_none_of_ours_becomes_no_statement(book: Book) -> None:
    card = book.folder / "book.toml"
    card.write_text(card.read_text(encoding="utf-8").replace(book.id, f"{book.id} -c x=y"), encoding="utf-8")
    with pytest.raises(BookDamaged) as caught:
        open_book(book.folder)
    assert (caught.value.file, caught.value.field) == (str(card), "id")


def test_the_commands_begin_such_a_book_and_go_on_with_it(tmp_path: Path, kept: Kept) -> None:  # noqa: ARG001
    book = tmp_path / "book"
    for arguments in (
        ["new-book", str(book), "--shop", "Fennmark", "--zone", "UTC", "--database", "postgresql"],
        ["add-person", OFFICE, "--by", OFFICE, "--book", str(book)],
        ["upgrade-book", "--book", str(book)],
        ["check-book", "--book", str(book)],
    ):
        done = CliRunner().invoke(app, arguments)
        assert done.exit_code == 0, (done.output, done.exception)
    assert not (book / "book.sqlite3").exists()
    assert 'database = "postgresql"' in (book / "book.toml").read_text(encoding="utf-8")
    wrong = ["new-book", str(tmp_path / "x"), "--shop", "F", "--zone", "UTC", "--database", "y"]
    refused = CliRunner().invoke(app, wrong)
    assert isinstance(refused.exception, BadInput)
    assert (refused.exception.field, refused.exception.allowed) == ("database", "sqlite, postgresql")


def test_two_books_in_one_database_know_nothing_of_each_other(tmp_path: Path, kept: Kept) -> None:
    folders = [tmp_path / "one", tmp_path / "two"]
    for folder in folders:
        create_book(folder, shop=folder.name, zone="UTC", kept=kept, at=BEGUN)
        add_person(by(OFFICE), OFFICE)
        add_person(by(OFFICE), f"Tess {folder.name}")
    for folder in folders:
        open_book(folder)
        assert [line.name for line in all_people(AT.date())] == [OFFICE, f"Tess {folder.name}"]
        assert check().sound


def test_a_database_that_has_not_every_letter_is_refused(
    tmp_path: Path, kept: Kept, address: pytest.MonkeyPatch
) -> None:
    name = "letters_" + str(os.getpid())
    with postgres.connected() as server:
        server.execute(f"CREATE DATABASE {name} ENCODING 'LATIN1' LOCALE 'C' TEMPLATE template0".encode())
    address.setenv(ADDRESS, postgres.address(name))
    with pytest.raises(BadInput) as caught:
        create_book(tmp_path / "book", shop="Fennmark", zone="UTC", kept=kept, at=BEGUN)
    assert (caught.value.field, caught.value.value) == (ADDRESS, "LATIN1")
    assert list(tmp_path.iterdir()) == []
    connections.close_all()
    with postgres.connected() as server:
        server.execute(f"DROP DATABASE {name}".encode())


def test_who_may_make_no_schema_is_told_and_nothing_is_left(
    tmp_path: Path, kept: Kept, address: pytest.MonkeyPatch
) -> None:
    who = f"clerk_{os.getpid()}"
    with postgres.connected() as server:
        server.execute(f"CREATE ROLE {who} LOGIN".encode())
    address.setenv(ADDRESS, os.environ[ADDRESS].replace(f"user={postgres.USER}", f"user={who}"))
    with pytest.raises(ComputerRefused) as caught:
        create_book(tmp_path / "book", shop="Fennmark", zone="UTC", kept=kept, at=BEGUN)
    assert "permission denied" in caught.value.what
    assert "schema" in str(caught.value.allowed)
    assert list(tmp_path.iterdir()) == []
    connections.close_all()
    with postgres.connected() as server:
        server.execute(f"DROP ROLE {who}".encode())


@pytest.mark.parametrize("name", ["fsync", "full_page_writes"])
def test_a_server_that_does_not_wait_for_its_disk_is_not_written_to(book: Book, name: str) -> None:
    """The settings the PostgreSQL documentation names as unsafe when the power fails ("Write Ahead Log", 20.5)."""

    def careless(run: Any, statement: str, *rest: Any) -> Any:
        return run("SELECT 'off'" if statement == f"SHOW {name}" else statement, *rest)

    postgresql.refuse_careless(book)
    with connection.execute_wrapper(careless), pytest.raises(BadInput) as caught:
        postgresql.refuse_careless(book)
    assert (caught.value.field, caught.value.value, caught.value.allowed) == (name, "off", "on")


def test_how_a_book_is_written_does_not_hang_on_the_servers_own_settings(book: Book) -> None:
    theirs = {
        "synchronous_commit": "off",
        "default_transaction_isolation": "serializable",
        "datestyle": "SQL, DMY",
        "search_path": "public",
        "lock_timeout": "1",
        "timezone": "Asia/Tokyo",
    }
    with postgres.connected(name_of(book)) as server:
        for name, value in theirs.items():
            server.execute(f"ALTER DATABASE \"{name_of(book)}\" SET {name} = '{value}'".encode())
    open_book(book.folder)
    with transaction.atomic(), connection.cursor() as cursor:
        for name, ours in {"synchronous_commit": "on", "transaction_isolation": "read committed"}.items():
            cursor.execute(f"SHOW {name}")
            assert cursor.fetchone() == (ours,)
    receive_lot(by(RECEIVER), "S-1", "skin-sheet")
    assert check().sound


def test_text_is_ordered_by_its_bytes_in_whatever_language_the_server_was_set_up(book: Book) -> None:
    names = ["Zed Last", "abel small", "Ábel Accent", "Abel Large", "Beth Under_score", "Beth Underscore"]
    for name in names:
        add_person(by(OFFICE), name)
    found = [line.name for line in all_people(AT.date())]
    assert found == sorted(found)
    assert set(names) < set(found)
    with postgres.connected(name_of(book)) as server:
        row = server.execute("SELECT 'a' < 'B', current_setting('server_version_num')::int").fetchone()
    assert row
    assert row[0] or int(str(row[1])) < 150000, "the server orders by bytes itself: nothing was tested"


def ended(book: Book) -> None:
    """The server ends every connection the program has, as at a restart."""
    with postgres.connected(name_of(book)) as server:
        server.execute(
            "SELECT pg_terminate_backend(pid, 5000) FROM pg_stat_activity "
            "WHERE datname = current_database() AND application_name = 'bladewright'"
        )


def test_a_server_that_goes_away_in_the_middle_of_an_act_leaves_no_trace(
    book: Book, monkeypatch: pytest.MonkeyPatch
) -> None:
    before = models.Event.objects.count(), heads.logged(book.folder)
    monkeypatch.setattr(heads, "refuse_unwritable", lambda _: ended(book))
    with pytest.raises(ComputerRefused) as caught:
        receive_lot(by(RECEIVER), "S-1", "skin-sheet")
    assert "nothing was changed" in caught.value.what
    monkeypatch.undo()
    connections.close_all()
    assert (models.Event.objects.count(), heads.logged(book.folder)) == before
    assert not receive_lot(by(RECEIVER), "S-1", "skin-sheet").already
    assert check().sound


def broken_off(commits: bool, book: Book) -> Any:
    """A commit whose answer never comes: done by the server or not."""

    def commit() -> None:
        if commits:
            connection.connection.commit()
        ended(book)
        raise OperationalError("the connection is lost") from psycopg.OperationalError("the connection is lost")

    return commit


@pytest.mark.parametrize("commits", [True, False])
def test_whether_an_act_was_finished_is_asked_when_the_answer_was_lost(
    book: Book, monkeypatch: pytest.MonkeyPatch, commits: bool
) -> None:
    before = models.Event.objects.count()
    monkeypatch.setattr(connection, "_commit", broken_off(commits, book))
    real = writing.databases.meaning_of

    def then_it_answers(error: BaseException) -> Meaning:
        monkeypatch.undo()
        return real(error)

    monkeypatch.setattr(writing.databases, "meaning_of", then_it_answers)
    if commits:
        assert not receive_lot(by(RECEIVER), "S-1", "skin-sheet").already
    else:
        with pytest.raises(ComputerRefused) as caught:
            receive_lot(by(RECEIVER), "S-1", "skin-sheet")
        assert "nothing was changed" in caught.value.what
    assert models.Event.objects.count() == before + commits
    assert len(all_lots()) == commits
    assert heads.logged(book.folder)[-1].number == before + commits
    assert check().sound


def test_when_even_that_cannot_be_asked_it_says_so(book: Book, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(connection, "_commit", broken_off(True, book))
    with pytest.raises(ComputerRefused) as caught:
        receive_lot(by(RECEIVER), "S-1", "skin-sheet")
    assert "cannot be told" in caught.value.what
    assert "nothing was changed" not in str(caught.value)
    monkeypatch.undo()
    connections.close_all()
    open_book(book.folder)  # which adds the head the log lacks
    assert check().sound
    assert [lot.lot for lot in all_lots()] == ["S-1"]


def test_who_waits_for_a_writer_does_not_hinder_readers_or_another_book(book: Book) -> None:
    with another_writes(book):
        assert check().sound


@pytest.mark.parametrize(
    ("code", "kind"),
    [
        ("55P03", BookBusy),  # lock not available
        ("40P01", BookBusy),  # deadlock detected
        ("53100", ComputerRefused),  # disk full
        ("53200", ComputerRefused),  # out of memory
        ("25006", ComputerRefused),  # read only transaction: a standby
        ("42501", ComputerRefused),  # no privilege
        ("58030", ComputerRefused),  # input or output error
        ("53300", ComputerRefused),  # too many connections
        ("57P01", ComputerRefused),  # shut down by an administrator
        ("28P01", ComputerRefused),  # wrong password
        ("3D000", ComputerRefused),  # no such database
        ("08006", ComputerRefused),  # connection failure
        ("23505", BookDamaged),  # unique violation: cannot be, by this program alone
        ("XX001", BookDamaged),  # data corrupted
        ("42P01", BookDamaged),  # undefined table
    ],
)
def test_what_a_server_says_by_its_codes(code: str, kind: type[BladewrightError]) -> None:
    """PostgreSQL documentation, appendix A, "PostgreSQL Error Codes"; the classes of errors are psycopg's own."""
    cause = psycopg.errors.lookup(code)("as the server says it")
    error = OperationalError("as the server says it")
    error.__cause__ = cause
    assert type(said(error, "a schema")) is kind
    assert type(said(cause, "a schema")) is kind


def test_a_server_that_is_too_old_is_no_damage() -> None:
    assert meaning_of(NotSupportedError("PostgreSQL 14 or later is required (found 11.2).")) is Meaning.DENIED


def test_a_dump_put_back_in_another_database_is_the_same_book(full: Book, tmp_path: Path) -> None:
    """As the page on the book says it: ``pg_dump`` of the schema, the folder and the log of heads."""
    head = check().head
    connections.close_all()
    tools = postgres.binaries()
    assert tools
    dump = tmp_path / "schema.dump"
    schema = f"book_{full.id}"
    here, there = postgres.address(name_of(full)), f"restored_{os.getpid()}"
    with postgres.connected() as server:
        server.execute(f"CREATE DATABASE {there} TEMPLATE template0".encode())
    subprocess.run([tools / "pg_dump", "-Fc", f"--schema={schema}", f"--file={dump}", here], check=True)
    subprocess.run([tools / "pg_restore", "--exit-on-error", "-d", postgres.address(there), dump], check=True)
    os.environ[ADDRESS] = postgres.address(there)
    open_book(full.folder)
    assert check().sound
    assert check().head == head
    assert not add_person(by(OFFICE), "Tess New").already
    connections.close_all()
    with postgres.connected() as server:
        server.execute(f"DROP DATABASE {there} WITH (FORCE)".encode())
