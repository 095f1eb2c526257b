"""Tracing one lot of 500 blades in a book of 100,000, against the SQL a person would write for it by hand.

The rows are put in by the thousand, without an event for each: the book's history is not what is measured here.
"""

import contextlib
import datetime
import sqlite3
import tempfile
from collections.abc import Iterator
from pathlib import Path

from django.db import connections

from benchmarks.side_by_side import Line, best_of, line
from bladewright.records.opening import create_book, open_book
from bladewright.records.trace import Traced, where_lot
from bladewright.records.tracing import senses, trace

BLADES = 100_000
OF_ONE_LOT = 500
ROUNDS = 15
LOT = "R-100"
BEGUN = datetime.datetime(2026, 1, 5, 8, 0, tzinfo=datetime.UTC)

BY_HAND = """
SELECT blade.serial, lot_use.part, lot.lot,
       coalesce((SELECT word FROM verdict WHERE verdict.blade_id = blade.id ORDER BY verdict.id DESC LIMIT 1), ''),
       coalesce(blade_set.name, ''), sign_out.id IS NOT NULL, coalesce(aircraft.mark, ''),
       coalesce(owner.name, ''), coalesce(owner.contact, '')
FROM lot
JOIN lot_use ON lot_use.lot_id = lot.id
JOIN blade ON blade.id = lot_use.blade_id
LEFT JOIN set_blade ON set_blade.blade_id = blade.id
LEFT JOIN blade_set ON blade_set.id = set_blade.set_id
LEFT JOIN sign_out ON sign_out.set_id = blade_set.id
LEFT JOIN installation ON installation.set_id = blade_set.id
    AND NOT EXISTS (SELECT 1 FROM removal WHERE removal.installation_id = installation.id)
LEFT JOIN aircraft ON aircraft.id = installation.aircraft_id
LEFT JOIN ownership ON ownership.id = (SELECT max(id) FROM ownership AS o WHERE o.aircraft_id = aircraft.id)
LEFT JOIN owner ON owner.id = ownership.owner_id
WHERE lot.lot = ? OR lot.maker_lot = ?
ORDER BY blade.serial, lot_use.part, lot.lot
"""


def filled(folder: Path) -> Path:
    """A book of blades in signed-out pairs, two verdicts for each blade, every second pair on an aircraft."""
    book = create_book(folder, shop="Benchmark", zone="UTC", at=BEGUN)
    connections.close_all()
    blades, sets = range(1, BLADES + 1), range(1, BLADES // 2 + 1)
    lots = range(1, BLADES // OF_ONE_LOT + 1)
    rows: dict[str, Iterator[tuple[object, ...]]] = {
        "stored_file (id, event_id, sha256, name, size)": iter([(1, 1, "0", "drawing", 1)]),
        "drawing (id, event_id, file_id, name, revision)": iter([(1, 1, 1, "FM-31", "A")]),
        "lot (id, event_id, lot, material, maker, maker_lot, received_on)": (
            (n, 1, f"R-{n}", "film-epoxy", "", f"M-{n}", "2026-01-05") for n in lots
        ),
        "blade (id, event_id, serial, drawing_id)": ((n, 1, f"B-{n:06d}", 1) for n in blades),
        "lot_use (id, event_id, blade_id, lot_id, part)": ((n, 1, n, 1 + n % len(lots), "adhesive") for n in blades),
        "verdict (id, event_id, blade_id, word, inputs_sha256, engine_version, body, sha256)": (
            (2 * n + k, 1, n, ("held", "accepted")[k], str(k), "1", "{}", "0") for n in blades for k in (0, 1)
        ),
        "blade_set (id, event_id, name, match, method)": ((n, 1, f"S-{n}", "{}", "") for n in sets),
        "set_blade (id, event_id, set_id, blade_id, verdict_id)": ((n, 1, (n + 1) // 2, n, 2 * n + 1) for n in blades),
        "sign_out (id, event_id, set_id, match, verdicts)": ((n, 1, n, "{}", "{}") for n in sets),
        "owner (id, event_id, name, contact)": ((n, 1, f"owner {n}", f"telephone {n}") for n in range(1, 1001)),
        "aircraft (id, event_id, mark)": ((n, 1, f"X-{n}") for n in sets if n % 2),
        "ownership (id, event_id, aircraft_id, owner_id)": ((n, 1, n, 1 + n % 1000) for n in sets if n % 2),
        'installation (id, event_id, set_id, aircraft_id, "on")': ((n, 1, n, n, "2026-02-01") for n in sets if n % 2),
    }
    with contextlib.closing(sqlite3.connect(book.database)) as db, db:
        for table, values in rows.items():
            marks = ", ".join("?" * (table.count(",") + 1))
            db.executemany(f"INSERT INTO {table} VALUES ({marks})", values)  # names written above
    return folder


def by_hand(db: sqlite3.Connection) -> tuple[Traced, ...]:
    """The same records by one query."""
    rows = db.execute(BY_HAND, (LOT, LOT)).fetchall()
    return tuple(Traced(*row[:5], bool(row[5]), *row[6:]) for row in rows)


def run() -> list[Line]:
    """Two lines; all give the same records before anything is timed."""
    with tempfile.TemporaryDirectory() as home:
        book = open_book(filled(Path(home) / "book"), write=False)
        with contextlib.closing(sqlite3.connect(book.database)) as db:
            found = where_lot(LOT).places
            assert found == by_hand(db)
            assert len(found) == OF_ONE_LOT
            timed = best_of(ROUNDS, lambda: where_lot(LOT), lambda: by_hand(db))
            assert trace(LOT, "lot").places == found
            shown = best_of(ROUNDS, lambda: (senses(LOT), trace(LOT, "lot")), lambda: by_hand(db))
        connections.close_all()
    what = f"{OF_ONE_LOT} blades among {BLADES:,}, against SQL by hand"
    return [
        line(f"trace a lot of {what}", *timed, "<= 3"),
        line(f"the trace page's answer, owners and all a name stands for, of {what}", *shown, "<= 3"),
    ]


if __name__ == "__main__":
    print(run())
