"""An invented book of 100,000 blades, most of them signed out long ago, for timing the pages of the desk.

People, the drawing and the shop's own files are entered by the services; blades and what hangs on them are put in by
the thousand, without an event for each: the book's history is not what is measured with it.
"""

import contextlib
import datetime
import sqlite3
from collections.abc import Iterable, Iterator
from pathlib import Path
from typing import Final

from django.db import connections

from bladewright.figures import canonical
from bladewright.proof.records import Verdict, Word
from bladewright.records.acts import Act, Scope
from bladewright.records.blades import start_blade
from bladewright.records.drawings import approve_drawing, file_drawing
from bladewright.records.lots import receive_lot
from bladewright.records.opening import create_book, open_book
from bladewright.records.people import add_person, authorise
from bladewright.records.secrets import set_secret
from bladewright.records.shop_files import keep_shop_file
from examples.fennmark import shelf

BLADES: Final = 100_000
OPEN: Final = 600  # of them in no signed-out set, the newest
OF_ONE_LOT: Final = 500
LOTS: Final = BLADES // OF_ONE_LOT
NOW: Final = datetime.datetime(2026, 4, 21, 7, 0, tzinfo=datetime.UTC)
BEGUN: Final = datetime.datetime(2025, 11, 17, 7, 0, tzinfo=datetime.UTC)
OFFICE, SECOND, SECRET = "Office One", "Office Two", "a lantern under seven bridges"
LOT: Final = "R-100"
ONE: Final = "C-000001"
DRAWING: Final = Path(__file__).resolve().parents[1] / "examples" / "fennmark" / "fm31.toml"
#: signed records of a finished blade, and the rest of its evidence
PROOFS: Final = (
    *(("signed record", proof) for proof in ("material lots", "adhesive out-time", "surface treatment", "lay-up")),
    *(("signed record", proof) for proof in ("retained coupon", "void map", "hole positions", "final inspection")),
    *((kind, "") for kind in ("cure", "coupon", "dimensions", "weighing")),
)
#: of a blade signed out long ago as few as make the tables as deep as they would be
OLD_PROOFS: Final = PROOFS[-4:]
#: what the open blades came to, in turn; "": not judged, and short of its last proofs
WORDS: Final = ("", "held", "rejected", "accepted", "incomplete", "")


def serial_of(number: int) -> str:
    """The serial of a blade by its number."""
    return f"B-{number:06d}"


def filled(folder: Path) -> Path:
    """The book, everybody in it, and its rows."""
    book = create_book(folder, shop="Benchmark", zone="Europe/London", demo=True, at=BEGUN)
    _people(folder.parent)
    connections.close_all()
    with contextlib.closing(sqlite3.connect(book.database)) as db, db:
        first = {table: _last(db, table) + 1 for table in ("stored_file", "lot", "evidence", "evidence_of", "event")}
        for table, rows in _rows(first).items():
            marks = ", ".join("?" * (table.count(",") + 1))
            db.executemany(f"INSERT INTO {table} VALUES ({marks})", rows)  # names written below
        db.execute("ANALYZE")
    open_book(folder)
    start_blade(Act(OFFICE, NOW), ONE, "FM-31", "A")  # the files of the others are names only
    return folder


def _people(home: Path) -> None:
    office, second = Act(OFFICE, BEGUN), Act(SECOND, BEGUN)
    add_person(office, OFFICE)
    add_person(office, SECOND)
    for scope in Scope:
        for name in (OFFICE, SECOND):
            authorise(office, name, scope, BEGUN.date())
    set_secret(office, OFFICE, SECRET)
    file_drawing(office, DRAWING, "A")
    approve_drawing(second, "FM-31", "A")
    for roll in shelf.ROLLS:
        at = datetime.datetime.combine(roll.received_on, datetime.time(9), datetime.UTC)
        receive_lot(
            Act(OFFICE, at), roll.lot, roll.material, maker=roll.maker, maker_lot=roll.maker_lot,
            expires_on=roll.expires_on,
        )  # fmt: skip
    for kept in shelf.write_shelf(home / "shop"):
        keep_shop_file(Act(OFFICE, NOW), kept.kind, kept.path, kept.beside)


def _last(db: sqlite3.Connection, table: str) -> int:
    column = "number" if table == "event" else "id"
    return int(db.execute(f"SELECT max({column}) FROM {table}").fetchone()[0] or 0)


def _rows(first: dict[str, int]) -> dict[str, Iterable[tuple[object, ...]]]:
    """Every table's rows. Blade n has the verdicts 2n and 2n + 1, and is in set (n + 1) // 2."""
    blades = range(1, BLADES + 1)
    sets = range(1, (BLADES - OPEN) // 2 + 1 + 20)  # the last 20 are formed and not signed out
    out = range(1, (BLADES - OPEN) // 2 + 1)
    lot, file, event = first["lot"], first["stored_file"], first["event"]
    verdict = Verdict("", Word.HELD, (), ("weighing",), (), "A reason. " * 2000, "A step.", "0", (), "1")
    body = canonical(verdict).decode()  # about as long as a real one
    at = "2026-04-20T08:00:00.000000Z"
    return {
        "event (number, kind, subject, by, at, reason, body, previous, hash)": (
            (event + n, "blade judged", serial_of(n), OFFICE, at, "", "{}", "", f"h{n}") for n in blades
        ),
        "stored_file (id, event_id, sha256, name, size)": (
            (file + n, 1, f"{n:064x}", f"file-{n}.toml", 1) for n in range(len(list(_evidence())))
        ),
        "lot (id, event_id, lot, material, maker, maker_lot, received_on)": (
            (lot + n, 1, f"R-{1000 + n}" if f"R-{n}" != LOT else LOT, "film-epoxy", "Maker", f"M-{n}", "2026-01-05")
            for n in range(LOTS)
        ),
        "blade (id, event_id, serial, drawing_id)": ((n, event + n, serial_of(n), 1) for n in blades),
        "lot_use (id, event_id, blade_id, lot_id, part)": (
            (n, event + n, n, lot + n % LOTS, "adhesive") for n in blades
        ),
        "evidence (id, event_id, kind, file_id, pull_id, about)": (
            (first["evidence"] + n, event + blade, kind, file + n, file + n if kind == "coupon" else None, about)
            for n, (blade, kind, about) in enumerate(_evidence())
        ),
        "evidence_of (id, event_id, evidence_id, blade_id)": (
            (first["evidence_of"] + n, event + blade, first["evidence"] + n, blade)
            for n, (blade, _, _) in enumerate(_evidence())
        ),
        "verdict (id, event_id, blade_id, word, inputs_sha256, engine_version, body, sha256)": (
            (2 * n + k, event + n, n, word, str(k), "1", body if _is_open(n) else "{}", "0")
            for n in blades
            for k, word in enumerate(("held", _word(n)))
            if word
        ),
        "blade_set (id, event_id, name, match, method)": ((n, 1, f"S-{n}", '{"trim": []}', "") for n in sets),
        "set_blade (id, event_id, set_id, blade_id, verdict_id)": (
            (n, 1, (n + 1) // 2, n, 2 * n) for n in range(1, 2 * len(sets) + 1)
        ),
        "sign_out (id, event_id, set_id, match, verdicts)": ((n, 1, n, "{}", "{}") for n in out),
        "owner (id, event_id, name, contact)": ((n, 1, f"owner {n}", f"telephone {n}") for n in range(1, 1001)),
        "aircraft (id, event_id, mark)": ((n, 1, f"X-{n}") for n in out if n % 2),
        "ownership (id, event_id, aircraft_id, owner_id)": ((n, 1, n, 1 + n % 1000) for n in out if n % 2),
        'installation (id, event_id, set_id, aircraft_id, "on")': ((n, 1, n, n, "2026-02-01") for n in out if n % 2),
    }


def _is_open(number: int) -> bool:
    return number > BLADES - OPEN


def _word(number: int) -> str:
    in_open_set = BLADES - OPEN < number <= BLADES - OPEN + 40
    return "accepted" if in_open_set or not _is_open(number) else WORDS[number % len(WORDS)]


def _evidence() -> Iterator[tuple[int, str, str]]:
    """Blade, kind and what it is about; an open blade that was not judged lacks the last three."""
    for number in range(1, BLADES + 1):
        proofs = OLD_PROOFS if not _is_open(number) else PROOFS if _word(number) else PROOFS[:-3]
        for kind, about in proofs:
            yield number, kind, about
