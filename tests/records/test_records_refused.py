"""A full disk, a folder that may not be written, a log that cannot be told: said as such, and nothing is lost.

These tests may run as root, whom no rights hold back, so the computer's answers are put in its mouth; those of the
database are its own, where it can be made to give them.
"""

import errno
import os
import sqlite3
from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest
from django.db import OperationalError, connection, connections

from bladewright.errors import BookDamaged, ComputerRefused, HeadNotKept
from bladewright.records import guards, heads
from bladewright.records.book import Kept
from bladewright.records.checking import check
from bladewright.records.lots import receive_lot
from bladewright.records.opening import Book, create_book, open_book, trust_head, upgrade_book
from bladewright.records.people import add_person, all_people
from bladewright.records.ready import models
from bladewright.records.writing import said
from tests.records.cast import AT, BEGUN, OFFICE, RECEIVER, by

FULL, MAY_NOT = errno.ENOSPC, errno.EROFS


def refusing(code: int, only: str = "") -> Callable[..., Any]:
    """A call of the computer that fails, for every file or for names with that end."""

    def refuse(path: object = "", *_: object, **__: object) -> None:
        if str(path).endswith(only):
            raise OSError(code, os.strerror(code), str(path))

    return refuse


def names() -> set[str]:
    return {line.name for line in all_people(AT.date())}


@pytest.mark.book
@pytest.mark.parametrize("code", [FULL, MAY_NOT])
def test_a_log_that_cannot_be_opened_is_known_before_the_act(
    book: Book, monkeypatch: pytest.MonkeyPatch, code: int
) -> None:
    log, real = heads.log_of(book.folder), os.open

    def opening(path: Any, *rest: Any, **more: Any) -> int:
        refusing(code, ".heads")(path)
        return real(path, *rest, **more)

    monkeypatch.setattr(os, "open", opening)
    before = models.Event.objects.count()
    with pytest.raises(ComputerRefused) as caught:
        add_person(by(OFFICE), "Tess New")
    assert (caught.value.file, caught.value.exit_code) == (str(log), 2)
    assert os.strerror(code) in caught.value.what
    assert models.Event.objects.count() == before
    monkeypatch.undo()
    assert check().sound


@pytest.mark.book
def test_a_disk_that_fills_between_the_act_and_its_head_loses_neither(
    book: Book, monkeypatch: pytest.MonkeyPatch
) -> None:
    log = heads.log_of(book.folder)
    before = log.read_bytes()

    def half(place: int, data: bytes) -> int:
        if len(data) > 40:
            return real(place, data[:40])
        raise OSError(FULL, os.strerror(FULL))

    real = os.write
    monkeypatch.setattr(os, "write", half)
    with pytest.raises(HeadNotKept) as caught:
        add_person(by(OFFICE), "Tess New")
    event = models.Event.objects.latest("number")
    assert (caught.value.file, caught.value.value, caught.value.exit_code) == (str(log), event.number, 2)
    assert log.read_bytes().startswith(before)
    with pytest.raises(ComputerRefused) as again:
        open_book(book.folder)
    assert again.value.file == str(log)
    monkeypatch.undo()
    open_book(book.folder)
    assert heads.logged(book.folder)[-1].hash == event.hash
    assert "Tess New" in names()
    assert check().sound


@pytest.mark.book
def test_a_full_disk_while_a_file_is_kept_writes_no_lot(
    book: Book, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    paper = tmp_path / "certificate.txt"
    paper.write_bytes(b"certificate of an invented mill")
    monkeypatch.setattr(os, "fsync", lambda _: refusing(FULL)())
    with pytest.raises(ComputerRefused) as caught:
        receive_lot(by(RECEIVER), "R-1", "film-epoxy", certificate=paper)
    assert str(book.folder / "files") in str(caught.value.file)
    monkeypatch.undo()
    assert not models.Lot.objects.exists()
    assert not [path for path in (book.folder / "files").rglob("*") if path.is_file()]
    assert check().sound


def test_tables_that_have_no_room_to_grow_lose_nothing(book: Book) -> None:
    """The database's own answer to a full disk: it may use no page more than it has."""
    reason = "because " * 2000
    with connection.cursor() as cursor:
        cursor.execute("PRAGMA page_count")
        cursor.execute(f"PRAGMA max_page_count = {cursor.fetchone()[0]}")
    before = models.Event.objects.count()
    with pytest.raises(ComputerRefused) as caught:
        add_person(by(OFFICE, reason), "Tess New")
    assert (caught.value.file, caught.value.exit_code) == (str(book.database), 2)
    assert "full" in caught.value.what
    assert models.Event.objects.count() == before
    connections.close_all()
    open_book(book.folder)
    assert not add_person(by(OFFICE), "Tess New").already
    assert check().sound


@pytest.mark.parametrize(
    ("code", "kind"),
    [
        (sqlite3.SQLITE_FULL, ComputerRefused),
        (sqlite3.SQLITE_READONLY, ComputerRefused),
        (sqlite3.SQLITE_READONLY_DIRECTORY, ComputerRefused),
        (sqlite3.SQLITE_CANTOPEN, ComputerRefused),
        (sqlite3.SQLITE_IOERR, ComputerRefused),
        (sqlite3.SQLITE_CORRUPT, BookDamaged),
    ],
)
def test_what_the_disk_refuses_is_not_called_damage(code: int, kind: type[Exception]) -> None:
    cause = sqlite3.OperationalError("as the database says it")
    cause.sqlite_errorcode = code
    error = OperationalError("as the database says it")
    error.__cause__ = cause
    assert type(said(error, "book.sqlite3")) is kind
    assert type(said(cause, "book.sqlite3")) is kind


@pytest.mark.book
@pytest.mark.parametrize("fails", ["write", "rename"])
def test_a_book_that_cannot_be_begun_leaves_nothing(
    tmp_path: Path, kept: Kept, monkeypatch: pytest.MonkeyPatch, fails: str
) -> None:
    home = tmp_path / "shop"
    monkeypatch.setattr(os, "write", lambda *_: refusing(FULL)())
    if fails == "rename":
        monkeypatch.undo()
        monkeypatch.setattr(Path, "rename", refusing(MAY_NOT))
    with pytest.raises((ComputerRefused, OSError)):
        create_book(home / "book", shop="Fennmark", zone="Europe/London", kept=kept, at=BEGUN)
    assert list(home.iterdir()) == []
    monkeypatch.undo()
    create_book(home / "book", shop="Fennmark", zone="Europe/London", kept=kept, at=BEGUN)
    assert check().sound


@pytest.mark.book
def test_an_upgrade_that_cannot_copy_the_tables_first_does_not_begin(
    book: Book, monkeypatch: pytest.MonkeyPatch
) -> None:
    untouched = guards.missing_guards, lambda: models.Event.objects.latest("number").hash
    before = [ask() for ask in untouched]
    monkeypatch.setattr(Path, "touch", refusing(MAY_NOT))
    with pytest.raises(ComputerRefused) as caught:
        upgrade_book(book.folder, at=AT)
    assert "before-upgrade-" in str(caught.value.file)
    assert [ask() for ask in untouched] == before


@pytest.mark.book
def test_a_copy_of_the_tables_is_not_written_over(book: Book) -> None:
    upgrade_book(book.folder, at=AT)
    (copy,) = book.folder.glob("before-upgrade-*")
    kept = copy.read_bytes()
    with pytest.raises(ComputerRefused) as caught:
        upgrade_book(book.folder, at=AT)
    assert caught.value.file == str(copy)
    assert copy.read_bytes() == kept


@pytest.mark.book
def test_a_log_that_cannot_be_begun_again_is_kept(book: Book, monkeypatch: pytest.MonkeyPatch) -> None:
    log = heads.log_of(book.folder)
    before = log.read_bytes()
    head = models.Event.objects.latest("number").hash
    monkeypatch.setattr(os, "fsync", lambda _: refusing(FULL)())
    with pytest.raises(ComputerRefused):
        trust_head(book.folder, head)
    assert log.read_bytes() == before
