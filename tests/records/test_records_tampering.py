"""Edits made behind the program's back, by somebody with the database file and its guards at their mercy."""

import contextlib
import datetime
import json
import random
from pathlib import Path

import pytest

from bladewright.errors import BadInput, BookDamaged
from bladewright.figures import canonical
from bladewright.records import chain, guards, heads
from bladewright.records.book import Kept
from bladewright.records.checking import check
from bladewright.records.opening import Book, open_book, trust_head, upgrade_book
from bladewright.records.people import add_person
from bladewright.records.ready import models
from tests.records.by_hand import REFUSED, by_hand, kept_apart, put_in_place
from tests.records.cast import AT, OFFICE, by

EDITS = {Kept.SQLITE: 120, Kept.POSTGRESQL: 60}  # random cells changed here
pytestmark = pytest.mark.book
TABLES = tuple(model._meta.db_table for model in guards.tables())


def complaints(book: Book, **printed: str) -> str:
    """Everything a check of the reopened book finds, in one text."""
    open_book(book.folder, write=False)
    return "\n".join(f"{item.where}: {item.what}" for item in check(**printed).complaints)


def test_an_untouched_book_is_sound(full: Book) -> None:
    assert complaints(full) == ""
    for model in guards.tables():
        assert model._default_manager.exists(), model.__name__  # or the tests below would test nothing


@pytest.mark.parametrize("table", TABLES)
def test_the_database_itself_refuses_to_change_or_remove(full: Book, table: str) -> None:
    with by_hand(full, guarded=True) as db:
        key, *_, last = db.columns(table)
        statements = [f'UPDATE "{table}" SET "{last}" = "{last}"', f'DELETE FROM "{table}"']
        if full.kept is Kept.SQLITE:
            statements += [f'INSERT OR REPLACE INTO "{table}" SELECT * FROM "{table}" ORDER BY "{key}" LIMIT 1']
        else:
            statements += [
                f'TRUNCATE "{table}" CASCADE',
                f'SET session_replication_role = replica; DELETE FROM "{table}"',
                f'INSERT INTO "{table}" SELECT * FROM "{table}" ORDER BY "{key}" LIMIT 1 '
                f'ON CONFLICT ("{key}") DO UPDATE SET "{key}" = EXCLUDED."{key}"',
            ]
        for statement in statements:
            with pytest.raises(REFUSED, match=r"the book only grows|already written"):
                db.execute(statement)


def test_a_replacing_insert_with_a_new_key_is_refused_too(full: Book) -> None:
    replacing, instead = ("INSERT OR REPLACE", "")
    if full.kept is Kept.POSTGRESQL:
        replacing, instead = "INSERT", " ON CONFLICT (name) DO UPDATE SET id = EXCLUDED.id"
    row = "INTO owner (id, name, contact, event_id) SELECT 99, name, 'x', event_id FROM owner"
    with by_hand(full, guarded=True) as db, pytest.raises(REFUSED, match=r"the book only grows|already written"):
        db.execute(f"{replacing} {row}{instead}")


def _changed(value: object, chance: random.Random) -> object:
    if isinstance(value, int):
        return value + chance.choice([-1, 1])
    if isinstance(value, str) and value:
        place = chance.randrange(len(value))
        return value[:place] + chr((ord(value[place]) + 1) % 127 or 33) + value[place + 1 :]
    return "something"


def test_every_changed_cell_is_found(full: Book) -> None:
    chance = random.Random(20260323)
    places = []
    with by_hand(full) as db:
        for table in TABLES:
            key, *columns = db.columns(table)
            ids = [row[0] for row in db.execute(f'SELECT "{key}" FROM "{table}"')]
            places += [(table, key, column, number) for column in columns for number in ids]
    for table, key, column, number in chance.choices(places, k=EDITS[full.kept]):
        changed = 0
        with by_hand(full) as db:
            (before,) = db.execute(f'SELECT "{column}" FROM "{table}" WHERE "{key}" = ?', (number,)).fetchone()
            statement = f'UPDATE "{table}" SET "{column}" = ? WHERE "{key}" = ?'
            with contextlib.suppress(*REFUSED):  # the table's own rule may refuse it: then nothing changed
                changed = db.execute(statement, (_changed(before, chance), number)).rowcount
        assert (complaints(full) != "") == bool(changed), (table, column, number, before)
        with by_hand(full) as db:
            db.execute(statement, (before, number))
    assert complaints(full) == ""


@pytest.mark.parametrize("table", [table for table in TABLES if table != "event"])
def test_every_removed_and_every_added_row_is_found(full: Book, table: str) -> None:
    with by_hand(full) as db:
        rows = db.execute(f'SELECT * FROM "{table}"').fetchall()
        db.execute(f'DELETE FROM "{table}" WHERE id = ?', (rows[-1][0],))
    assert f"table {table}: row {rows[-1][0]} is gone" in complaints(full)
    with by_hand(full) as db:
        marks = ", ".join("?" * len(rows[-1]))
        db.execute(f'INSERT INTO "{table}" VALUES ({marks})', rows[-1])
    assert complaints(full) == ""
    forged = rows[-1][0] + 1000
    fresh = [f"{value} forged" if isinstance(value, str) else value for value in rows[-1]]
    with by_hand(full) as db:
        try:
            db.execute(f'INSERT INTO "{table}" VALUES ({marks})', [forged, *fresh[1:]])
        except REFUSED:
            return  # such a row cannot be: the table's own rule refuses a second one
    assert f"row {forged} was never written by an event" in complaints(full)


def test_a_cut_tail_is_noticed_by_the_heads_kept_outside(full: Book) -> None:
    last = models.Event.objects.latest("number")
    with by_hand(full) as db:
        db.execute("DELETE FROM removal")
        db.execute("DELETE FROM event WHERE number = ?", (last.number,))
    assert complaints(full) == f"heads: event {last.number} was written and is gone: the end was cut off"
    with pytest.raises(BookDamaged) as caught:
        open_book(full.folder)
    assert (caught.value.field, caught.value.value) == ("event", last.number)


def test_a_cut_tail_is_noticed_by_a_paper_when_the_log_was_cut_as_well(full: Book) -> None:
    last = models.Event.objects.latest("number")
    with by_hand(full) as db:
        db.execute("DELETE FROM removal")
        db.execute("DELETE FROM event WHERE number = ?", (last.number,))
    log = heads.log_of(full.folder)
    log.write_text("".join(log.read_text(encoding="ascii").splitlines(keepends=True)[:-1]), encoding="ascii")
    assert complaints(full) == ""  # what is left agrees with itself: only something kept elsewhere can tell
    assert "of a paper is not in the chain" in complaints(full, printed_head=last.hash)


def test_a_chain_forged_to_its_end_is_noticed_by_the_heads(full: Book) -> None:
    """A reason rewritten, and every hash after it computed anew by the rule anybody can read."""
    rows = list(models.Event.objects.order_by("number"))
    target = next(row.number for row in rows if row.kind == "deviation accepted")
    with by_hand(full) as db:
        previous = chain.START
        for row in rows:
            if row.number == target:
                row.reason = "never said"
            record = {name: getattr(row, name) for name in ("number", "kind", "subject", "by", "at", "reason", "body")}
            row.previous, row.hash = previous, chain.link(previous, record)
            db.execute(
                "UPDATE event SET reason = ?, previous = ?, hash = ? WHERE number = ?",
                (row.reason, row.previous, row.hash, row.number),
            )
            previous = row.hash
    assert f"heads: event {target} is not the one that was written" in complaints(full)
    with pytest.raises(BookDamaged):
        open_book(full.folder)


def test_an_older_copy_put_in_place_is_noticed(full: Book, tmp_path: Path) -> None:
    kept_apart(full, tmp_path / "older")
    open_book(full.folder)
    add_person(by(OFFICE), "Tess New")
    put_in_place(full, tmp_path / "older")
    with pytest.raises(BookDamaged) as caught:
        open_book(full.folder)
    assert caught.value.field == "event"


@pytest.mark.parametrize("table", ["event", "verdict", "deviation"])
def test_a_book_without_a_guard_is_not_written_in(full: Book, table: str) -> None:
    with by_hand(full, guarded=True) as db:
        db.drop_guard(f"keep_{table}_update", table)
    with pytest.raises(BookDamaged) as caught:
        open_book(full.folder)
    assert caught.value.field == f"keep_{table}_update"
    assert f"guards: keep_{table}_update is gone" in complaints(full)
    upgrade_book(full.folder, at=AT)
    assert check().sound
    assert any(path.name.startswith("before-upgrade-") for path in full.folder.iterdir())


def test_guards_that_are_gone_are_one_line_for_a_person_and_each_named_for_a_program(full: Book) -> None:
    for dropped, over in ((("event", "owner"), "event, owner"), (TABLES, "every table")):
        with by_hand(full, guarded=True) as db:
            for name, table in db.guards():
                if table in dropped:
                    db.drop_guard(name, table)
        open_book(full.folder, write=False)
        found = check()
        (line,) = found.condensed()
        assert line.what.startswith(f"{3 * len(dropped)} are gone, over {over}")
        assert len(found.complaints) == 3 * len(dropped)


ON_EVENT = 'TRIGGER "keep_event_update" BEFORE UPDATE'
HARMLESS = {
    Kept.SQLITE: {
        "doing nothing": [f'CREATE {ON_EVENT} ON "event" BEGIN SELECT 1; END'],
        "only sometimes": [f"CREATE {ON_EVENT} ON \"event\" WHEN 1 = 2 BEGIN SELECT RAISE(ABORT, 'no'); END"],
    },
    Kept.POSTGRESQL: {
        "switched off": [
            f'CREATE {ON_EVENT} ON "event" EXECUTE FUNCTION the_book_only_grows()',
            'ALTER TABLE "event" DISABLE TRIGGER "keep_event_update"',
        ],
        "not for a replica": [f'CREATE {ON_EVENT} ON "event" EXECUTE FUNCTION the_book_only_grows()'],
        "only sometimes": [
            f'CREATE {ON_EVENT} ON "event" WHEN (1 = 2) EXECUTE FUNCTION the_book_only_grows()',
            'ALTER TABLE "event" ENABLE ALWAYS TRIGGER "keep_event_update"',
        ],
        "only one column": [
            f'CREATE {ON_EVENT} OF "kind" ON "event" EXECUTE FUNCTION the_book_only_grows()',
            'ALTER TABLE "event" ENABLE ALWAYS TRIGGER "keep_event_update"',
        ],
        "on another table": [
            f'CREATE {ON_EVENT} ON "django_migrations" EXECUTE FUNCTION the_book_only_grows()',
            'ALTER TABLE "django_migrations" ENABLE ALWAYS TRIGGER "keep_event_update"',
        ],
        "another function": [
            "CREATE FUNCTION other() RETURNS trigger LANGUAGE plpgsql AS 'BEGIN RETURN NULL; END'",
            f'CREATE {ON_EVENT} ON "event" EXECUTE FUNCTION other()',
            'ALTER TABLE "event" ENABLE ALWAYS TRIGGER "keep_event_update"',
        ],
        "a function made harmless": [
            f'CREATE {ON_EVENT} ON "event" EXECUTE FUNCTION the_book_only_grows()',
            'ALTER TABLE "event" ENABLE ALWAYS TRIGGER "keep_event_update"',
            "CREATE OR REPLACE FUNCTION the_book_only_grows() RETURNS trigger LANGUAGE plpgsql "
            "AS 'BEGIN RETURN NULL; END'",
        ],
    },
}


def test_a_guard_made_harmless_counts_as_gone_and_is_put_back(full: Book) -> None:
    for day, (how, statements) in enumerate(HARMLESS[full.kept].items()):
        with by_hand(full, guarded=True) as db:
            db.drop_guard("keep_event_update", "event")
            for statement in statements:
                db.execute(statement)
        with pytest.raises(BookDamaged):
            open_book(full.folder)
        assert "guards: keep_event_update is gone" in complaints(full), how
        upgrade_book(full.folder, at=AT + datetime.timedelta(days=day))
        assert check().sound, how


FOREIGN = {
    "has a rule: swallow": ['CREATE RULE swallow AS ON INSERT TO "lot" DO INSTEAD NOTHING'],
    "has a trigger of somebody's: swallow": [
        "CREATE FUNCTION swallow() RETURNS trigger LANGUAGE plpgsql AS 'BEGIN RETURN NULL; END'",
        'CREATE TRIGGER swallow BEFORE INSERT ON "lot" FOR EACH ROW EXECUTE FUNCTION swallow()',
    ],
    "hides rows: row security": ['ALTER TABLE "lot" ENABLE ROW LEVEL SECURITY'],
    "shows another table's rows: more": ['CREATE TABLE more () INHERITS ("lot")'],
}


@pytest.mark.book("postgresql")
@pytest.mark.parametrize("found", FOREIGN)
def test_what_a_server_could_lay_over_a_table_is_found(full: Book, found: str) -> None:
    with by_hand(full, guarded=True) as db:
        for statement in FOREIGN[found]:
            db.execute(statement)
    assert complaints(full) == f"table lot: {found}"


def test_changed_and_lost_files_are_found(full: Book) -> None:
    stored = list(models.StoredFile.objects.order_by("id"))
    paths = [full.folder / "files" / row.sha256[:2] / row.sha256 for row in stored]
    before = [path.read_bytes() for path in paths]
    for row, path, data in zip(stored, paths, before, strict=True):
        path.write_bytes(data + b" ")
        assert complaints(full) == f"file {row.name}: was changed after it was filed"
        path.unlink()
        assert complaints(full) == f"file {row.name}: is gone"
        path.write_bytes(data)
    assert complaints(full) == ""


def test_a_book_is_not_renamed(full: Book) -> None:
    card = full.folder / "book.toml"
    card.write_text(card.read_text(encoding="utf-8").replace("demo = true", "demo = false"), encoding="utf-8")
    with pytest.raises(BookDamaged) as caught:
        open_book(full.folder)
    assert caught.value.file == str(card)
    assert "book.toml: does not say what the first event says" in complaints(full)


def test_without_its_log_of_heads_a_book_wants_a_head_from_a_paper(full: Book) -> None:
    head = models.Event.objects.latest("number").hash
    heads.log_of(full.folder).unlink()
    with pytest.raises(BookDamaged) as caught:
        open_book(full.folder)
    assert caught.value.file == str(heads.log_of(full.folder))
    with pytest.raises(BookDamaged) as wrong:
        trust_head(full.folder, "0" * 64)
    assert wrong.value.field == "head"
    trust_head(full.folder, head)
    assert check().sound


def test_a_line_of_the_log_torn_by_a_crash_is_passed_over_and_made_good(full: Book) -> None:
    log = heads.log_of(full.folder)
    last = log.read_text(encoding="ascii").splitlines()[-1]
    log.write_text(log.read_text(encoding="ascii")[:-20], encoding="ascii")
    open_book(full.folder)
    assert last in log.read_text(encoding="ascii").splitlines()
    assert check().sound


def test_an_event_with_something_else_in_it_is_a_complaint_not_a_crash(full: Book) -> None:
    with by_hand(full) as db:
        db.execute("UPDATE event SET body = 'not json' WHERE number = 3")
    assert "event 3: cannot be read" in complaints(full)


def test_a_folder_that_is_no_book_says_so(tmp_path: Path) -> None:
    with pytest.raises(BadInput) as caught:
        open_book(tmp_path)
    assert caught.value.file == str(tmp_path)


def test_the_bodies_are_canonical(full: Book) -> None:  # noqa: ARG001
    for event in models.Event.objects.all():
        assert canonical(json.loads(event.body)).decode("utf-8") == event.body
