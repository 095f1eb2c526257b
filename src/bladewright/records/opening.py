"""Begins, opens and upgrades a book. The one place that chooses the database."""

import contextlib
import dataclasses
import datetime
import shutil
from collections.abc import Iterator
from pathlib import Path
from typing import Final

from django.core.management import call_command
from django.db import Error, connection
from django.db.migrations.executor import MigrationExecutor

from bladewright.errors import BadInput, BookDamaged, ComputerRefused
from bladewright.figures import canonical, digest
from bladewright.records import chain, databases, guards, heads
from bladewright.records.acts import Act
from bladewright.records.book import Book, Kept, check_zone, opened, read_card, set_open, write_card
from bladewright.records.naming import refuse_name
from bladewright.records.network import refuse_network_folder
from bladewright.records.ready import connect, models
from bladewright.records.writing import first_event, record_of, said

__all__ = ["Book", "create_book", "open_book", "opened", "trust_head", "upgrade_book"]

#: how long a write waits for another to finish [s]
WAIT_SECONDS: Final = 20.0
_PROGRAM: Final = "bladewright"


def create_book(
    folder: Path, *, shop: str, zone: str, demo: bool = False, kept: Kept = Kept.SQLITE, at: datetime.datetime
) -> Book:
    """Begin a book in a new or empty folder, and open it. Nothing is left behind if it cannot be finished."""
    refuse_name(shop, "shop")
    check_zone(zone)
    act = Act(_PROGRAM, at)
    folder = folder.absolute()
    if folder.exists() and (not folder.is_dir() or any(folder.iterdir())):
        raise BadInput("is there already", file=str(folder), allowed="a new folder", fix="choose another name")
    if heads.log_of(folder).exists():
        raise BadInput(
            "there is a log of another book's chain heads",
            file=str(heads.log_of(folder)),
            allowed="no such file",
            fix="that book was here before: put it back, or choose another name",
        )
    folder.parent.mkdir(parents=True, exist_ok=True)
    refuse_network_folder(folder.parent)
    book_id = digest(f"{shop}\n{zone}\n{chain.utc_text(at)}".encode())[:12]
    building = folder.parent / f".new-{book_id}"
    book = Book(building, book_id, shop, zone, demo, kept=kept)
    _connect(book, write=True)
    with _damage_said(book):
        databases.kind_of(book).refuse_careless(book)
        databases.kind_of(book).begin(book)
    try:
        building.mkdir()
        with _damage_said(book):
            call_command("migrate", verbosity=0, interactive=False)
            guards.install_guards()
            head = first_event(act, book.card())
        for part in ("files", "papers"):
            (building / part).mkdir()
        write_card(book)
        connection.close()
        heads.append(folder, [head])
        if folder.exists():
            folder.rmdir()
        building.rename(folder)
    except BaseException:
        databases.kind_of(book).abandon(book)
        connection.close()
        shutil.rmtree(building, ignore_errors=True)
        heads.log_of(folder).unlink(missing_ok=True)  # there was none when this began
        raise
    return open_book(folder)


def open_book(folder: Path, *, write: bool = True) -> Book:
    """Open a book. For writing, its guards must stand and its chain must reach the newest head kept beside it."""
    folder = folder.absolute()
    book = dataclasses.replace(read_card(folder), writable=write)
    refuse_network_folder(folder)
    _connect(book, write=write)
    with _damage_said(book):
        databases.kind_of(book).refuse_absent(book)
        if write:
            databases.kind_of(book).refuse_careless(book)
            _refuse_old(book)
            _refuse_unguarded(book)
            _refuse_other_card(book)
            _refuse_cut_tail(book)
    set_open(book)
    return book


def upgrade_book(folder: Path, *, at: datetime.datetime) -> Book:
    """Bring an older book's tables up to this program, after copying them. Put back guards a rebuild has dropped."""
    folder = folder.absolute()
    book = read_card(folder)
    refuse_network_folder(folder)
    _connect(book, write=True)
    with _damage_said(book):
        databases.kind_of(book).refuse_absent(book)
        _copy(book, folder / f"before-upgrade-{chain.utc_text(at)[:19].replace(':', '')}.sqlite3")
        call_command("migrate", verbosity=0, interactive=False)
        guards.install_guards()
    return open_book(folder)


def trust_head(folder: Path, head: str) -> Book:
    """Begin the log of heads again from a head a person read from a paper, when the log was lost or left behind."""
    folder = folder.absolute()
    book = read_card(folder)
    _connect(book, write=False)
    with _damage_said(book):
        databases.kind_of(book).refuse_absent(book)
        known = [heads.Head(*pair) for pair in models.Event.objects.order_by("number").values_list("number", "hash")]
    if head not in {item.hash for item in known}:
        raise BookDamaged(
            "the chain does not hold this head",
            file=book.tables,
            field="head",
            value=head,
            allowed="the head printed on the newest paper, all 64 characters",
            fix="the book was cut or changed since that paper: put back a backup that holds it",
        )
    heads.begin_again(folder, known)
    return open_book(folder)


def _connect(book: Book, *, write: bool) -> None:
    connect(databases.kind_of(book).settings(book, write=write, wait_seconds=WAIT_SECONDS))


def _copy(book: Book, copy: Path) -> None:
    """The tables as they are, in a new file; half a copy is not left behind."""
    try:
        copy.touch(exist_ok=False)
    except OSError as error:
        raise ComputerRefused.because(error, copy) from error
    try:
        databases.kind_of(book).copy(book, copy)
    except BaseException:
        copy.unlink()
        raise


@contextlib.contextmanager
def _damage_said(book: Book) -> Iterator[None]:
    try:
        yield
    except Error as error:
        raise said(error, book.tables) from error
    except (TypeError, ValueError) as error:  # a number that is none, a day that is none: not written by this program
        raise BookDamaged(
            f"holds what was never written: {error}",
            file=book.tables,
            fix="check the book; put back the newest backup",
        ) from error


def _refuse_old(book: Book) -> None:
    executor = MigrationExecutor(connection)
    if executor.migration_plan(executor.loader.graph.leaf_nodes()):
        raise BadInput(
            "was written by an older program and is open for reading only",
            file=str(book.folder),
            allowed="a book with this program's tables",
            fix="upgrade the book; it is copied first",
        )


def _refuse_unguarded(book: Book) -> None:
    missing = guards.missing_guards()
    if missing:
        raise BookDamaged(
            "guards against changing what was written are gone",
            file=book.tables,
            field=missing[0],
            value=", ".join(missing),
            allowed="every guard in place",
            fix="check the book, then upgrade it, which puts them back",
        )


def _refuse_other_card(book: Book) -> None:
    begun = models.Event.objects.filter(number=1).first()
    if begun is None or begun.body != canonical({"book": book.card()}).decode():
        raise BookDamaged(
            "does not say what the first event says",
            file=str(book.folder / "book.toml"),
            fix="put book.toml back as it was; a book is not renamed",
        )


def _refuse_cut_tail(book: Book) -> None:
    """The newest head kept outside must be in the chain. Heads a crash kept from the log are added now."""
    kept = heads.logged(book.folder)
    if not kept:
        raise BookDamaged(
            "the log of chain heads is gone",
            file=str(heads.log_of(book.folder)),
            allowed="the log that was kept beside the book",
            fix="put it back, or give the chain head printed on the newest paper",
        )
    last = max(kept, key=lambda head: head.number)
    event = models.Event.objects.filter(number=last.number).first()
    if event is None or event.hash != last.hash or chain.link(event.previous, record_of(event)) != event.hash:
        raise BookDamaged(
            f"event {last.number} was in the book and is not, or not as it was",
            file=book.tables,
            field="event",
            value=last.number,
            allowed=f"an event with the hash {last.hash}",
            fix="the book was cut, changed or replaced by an older copy: put back the newest backup",
        )
    later = models.Event.objects.filter(number__gt=last.number).order_by("number").values_list("number", "hash")
    heads.append(book.folder, [heads.Head(*pair) for pair in later])
