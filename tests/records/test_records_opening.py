"""Beginning, opening and upgrading a book; torn, locked and misplaced ones."""

import contextlib
import datetime
import sqlite3
from pathlib import Path

import pytest
from django.core.management import call_command
from django.db import DatabaseError, connection, connections
from django.db.migrations.recorder import MigrationRecorder

from bladewright.errors import BadInput, BookBusy, BookDamaged
from bladewright.records import guards, heads, opening, writing
from bladewright.records.book import Kept
from bladewright.records.checking import check
from bladewright.records.lots import all_lots, receive_lot
from bladewright.records.network import refuse_network_folder
from bladewright.records.opening import Book, create_book, open_book, upgrade_book
from bladewright.records.ready import models
from tests.records.by_hand import another_writes
from tests.records.cast import AT, BEGUN, RECEIVER, by


@pytest.mark.book
def test_a_new_book_is_open_sound_and_itself(tmp_path: Path, kept: Kept) -> None:
    book = create_book(tmp_path / "a" / "book", shop="Fennmark", zone="America/Detroit", kept=kept, at=BEGUN)
    assert (book.shop, book.zone, book.demo, book.writable) == ("Fennmark", "America/Detroit", False, True)
    assert book.kept is kept
    assert open_book(tmp_path / "a" / "book") == book
    assert check().sound
    assert [event.kind for event in models.Event.objects.all()] == ["book begun"]


def test_two_books_have_two_names(tmp_path: Path) -> None:
    ids = {
        create_book(tmp_path / name, shop=name, zone="Europe/London", at=BEGUN + seconds).id
        for seconds in (datetime.timedelta(0), datetime.timedelta(seconds=1))
        for name in (f"A{seconds.seconds}", f"B{seconds.seconds}")
    }
    assert len(ids) == 4


@pytest.mark.book
@pytest.mark.parametrize(
    ("entered", "field"),
    [({"shop": " "}, "shop"), ({"zone": "Fennmark"}, "zone"), ({"at": BEGUN.replace(tzinfo=None)}, "at")],
)
def test_what_a_book_needs_is_asked_for_and_nothing_is_left(
    tmp_path: Path, kept: Kept, entered: dict[str, object], field: str
) -> None:
    asked = {"shop": "Fennmark", "zone": "Europe/London", "kept": kept, "at": BEGUN} | entered
    with pytest.raises(BadInput) as caught:
        create_book(tmp_path / "book", **asked)  # type: ignore[arg-type]
    assert caught.value.field == field
    assert list(tmp_path.iterdir()) == []


@pytest.mark.book
def test_a_book_is_not_begun_over_something_else(tmp_path: Path, kept: Kept) -> None:
    (tmp_path / "book").mkdir()
    (tmp_path / "book" / "letter.txt").write_text("mine", encoding="utf-8")
    with pytest.raises(BadInput) as caught:
        create_book(tmp_path / "book", shop="Fennmark", zone="Europe/London", kept=kept, at=BEGUN)
    assert caught.value.file == str(tmp_path / "book")
    assert (tmp_path / "book" / "letter.txt").read_text(encoding="utf-8") == "mine"


@pytest.mark.book
def test_a_book_is_not_begun_where_another_was_cut_away(book: Book) -> None:
    connections.close_all()
    book.folder.rename(book.folder.with_name("moved"))
    with pytest.raises(BadInput) as caught:
        create_book(book.folder, shop="Fennmark", zone="Europe/London", kept=book.kept, at=BEGUN)
    assert caught.value.file == str(heads.log_of(book.folder))


def test_what_was_acknowledged_is_meant_to_survive_a_lost_supply(book: Book) -> None:
    """The settings SQLite documents as durable: a write-ahead log, synchronous FULL (2). Foreign keys are kept."""
    assert book.writable
    with connection.cursor() as cursor:
        found = {
            name: cursor.execute(f"PRAGMA {name}").fetchone()[0]
            for name in ("journal_mode", "synchronous", "foreign_keys", "recursive_triggers")
        }
    assert found == {"journal_mode": "wal", "synchronous": 2, "foreign_keys": 1, "recursive_triggers": 1}


@pytest.mark.book
def test_a_reader_cannot_write_even_by_hand(book: Book) -> None:
    open_book(book.folder, write=False)
    with connection.cursor() as cursor, pytest.raises(DatabaseError, match=r"read-?only"):
        cursor.execute("INSERT INTO person (name, event_id) VALUES ('x', 1)")


@pytest.mark.book
def test_a_locked_book_says_who_may_wait(book: Book, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(opening, "WAIT_SECONDS", 0.05)
    open_book(book.folder)
    with another_writes(book):
        with pytest.raises(BookBusy) as caught:
            receive_lot(by(RECEIVER), "S-1", "skin-sheet")
        assert caught.value.file == book.tables
        assert all_lots() == ()  # reading goes on
    assert not receive_lot(by(RECEIVER), "S-1", "skin-sheet").already


def _opened_and_checked(folder: Path) -> None:
    open_book(folder)
    check()


@pytest.mark.parametrize("keep", [0, 50, 4096])
def test_a_torn_database_is_said_to_be_damaged(full: Book, keep: int) -> None:
    connections.close_all()
    full.database.write_bytes(full.database.read_bytes()[:keep])
    with pytest.raises(BookDamaged) as caught:
        _opened_and_checked(full.folder)
    assert caught.value.file == str(full.database)
    assert caught.value.fix


def test_a_page_overwritten_in_the_middle_is_found(full: Book) -> None:
    connections.close_all()
    data = bytearray(full.database.read_bytes())
    data[len(data) // 2 : len(data) // 2 + 4096] = b"\xa5" * 4096
    full.database.write_bytes(bytes(data))
    with contextlib.suppress(BookDamaged):
        open_book(full.folder, write=False)
        assert not check().sound


def test_lost_tables_and_a_lost_card_are_named(book: Book) -> None:
    connections.close_all()
    book.database.rename(book.folder / "elsewhere")
    with pytest.raises(BookDamaged) as gone:
        open_book(book.folder)
    assert gone.value.file == str(book.database)
    (book.folder / "elsewhere").rename(book.database)
    card = book.folder / "book.toml"
    for text, kind in (("format = 1\n", BookDamaged), ("no toml", BookDamaged), ("format = 9\n", BadInput)):
        card.write_text(text, encoding="utf-8")
        with pytest.raises(kind) as caught:
            open_book(book.folder)
        assert caught.value.file == str(card)


@pytest.mark.book
def test_an_older_book_is_read_but_not_written_until_it_is_upgraded(book: Book) -> None:
    MigrationRecorder(connection).migration_qs.filter(app="records").delete()  # as if a newer program had one more
    with pytest.raises(BadInput) as caught:
        open_book(book.folder)
    assert caught.value.fix == "upgrade the book; it is copied first"
    assert not open_book(book.folder, write=False).writable


@pytest.mark.book
def test_upgrading_copies_first_and_puts_back_guards(book: Book) -> None:
    receive_lot(by(RECEIVER), "S-1", "skin-sheet")
    with connection.cursor() as cursor:
        on = "" if book.kept is Kept.SQLITE else ' ON "lot"'
        cursor.execute(f'DROP TRIGGER "keep_lot_delete"{on}')
    upgrade_book(book.folder, at=AT)
    assert [lot.lot for lot in all_lots()] == ["S-1"]
    (copy,) = book.folder.glob("before-upgrade-*.sqlite3")
    with contextlib.closing(sqlite3.connect(copy)) as old:
        assert old.execute("SELECT lot FROM lot").fetchall() == [("S-1",)]
        hashes = [row[0] for row in old.execute("SELECT hash FROM event ORDER BY number")]
    assert hashes == list(models.Event.objects.order_by("number").values_list("hash", flat=True))


@pytest.mark.book
def test_a_book_without_the_newest_tables_gets_them_with_their_guards(book: Book) -> None:
    call_command("migrate", "records", "0001", verbosity=0)
    with pytest.raises(BadInput):
        open_book(book.folder)
    upgrade_book(book.folder, at=AT)
    assert guards.missing_guards() == ()
    assert check().sound
    assert not receive_lot(by(RECEIVER), "S-1", "skin-sheet").already


@pytest.mark.book
def test_a_failed_act_leaves_no_trace(book: Book, monkeypatch: pytest.MonkeyPatch) -> None:
    """Something breaks after the row and before the event: neither is there."""
    before = models.Event.objects.count(), heads.logged(book.folder)
    monkeypatch.setattr(writing.chain, "link", lambda *_: (_ for _ in ()).throw(RuntimeError("broken")))
    with pytest.raises(RuntimeError):
        receive_lot(by(RECEIVER), "S-1", "skin-sheet")
    assert all_lots() == ()
    assert (models.Event.objects.count(), heads.logged(book.folder)) == before


@pytest.mark.parametrize(("system", "refused"), [("nfs4", True), ("cifs", True), ("ext4", False), ("fuse.sshfs", True)])
def test_network_folders_are_refused(tmp_path: Path, system: str, refused: bool) -> None:
    """By the table of mounts as Linux writes it (proc(5)): device, place, file system, options; blanks as \\040."""
    shop = tmp_path / "the shop"
    shop.mkdir()
    mounts = tmp_path / "mounts"
    place = str(shop).replace(" ", "\\040")
    mounts.write_text(f"/dev/sda1 / ext4 rw 0 0\nserver:/x {place} {system} rw 0 0\n", encoding="utf-8")
    if not refused:
        refuse_network_folder(shop / "book", mounts)
        return
    with pytest.raises(BadInput) as caught:
        refuse_network_folder(shop / "book", mounts)
    assert (caught.value.field, caught.value.value) == ("folder", system)
    refuse_network_folder(tmp_path, mounts)
