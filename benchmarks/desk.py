"""The pages of the desk on a book of 100,000 blades: against 150 ms, and against the same questions asked bare.

A page is timed as the server sees it, from request to answer, through everything that stands around it. The other
side is a page of the desk with nothing on it, plus the very statements the page asks of the tables with their rows
fetched and nothing done to them. The first answer of each page is left out: it reads what is then kept, like the
drawing, the shop's own files and which blades are open.
"""

import contextlib
import os
import sqlite3
import tempfile
from collections.abc import Callable
from pathlib import Path

os.environ.setdefault("DJANGO_SETTINGS_MODULE", "bladewright.web.settings")  # before anything makes Django ready

from django.db import connection, connections
from django.test import Client
from django.test.utils import CaptureQueriesContext
from django.urls import Resolver404, resolve

from benchmarks import big_book
from benchmarks.side_by_side import Line, best_of, line
from bladewright.records.opening import open_book
from bladewright.web import clock

ROUNDS = 15
LIMIT = 0.150  # [s] of server time
EMPTY = "/find/"  # signed in, the frame around nothing
PAGES = {
    "waiting work": "/",
    "blade list": "/blades/",
    "blade list, from the middle": f"/blades/?after={big_book.serial_of(big_book.BLADES // 2)}",
    "blade list, searched": "/blades/?text=0777",
    "materials": "/materials/",
    "one lot of 500 blades": f"/materials/lots/{big_book.LOT}/",
    "gauges and files": "/shelf/",
    "one blade": f"/blades/{big_book.ONE}/",
    "trace of a lot of 500 blades": f"/trace/?of={big_book.LOT}",
    "oven": "/oven/",
    "coupons": "/coupons/",
    "drawings": "/drawings/",
    "people": "/people/",
}


def run() -> list[Line]:
    """Two lines for each page that is there."""
    with tempfile.TemporaryDirectory() as home:
        book = open_book(big_book.filled(Path(home) / "book"))
        clock.begin_at(big_book.NOW)
        client = Client()
        entered = client.post("/enter/", {"name": big_book.OFFICE, "secret": big_book.SECRET})
        assert entered.status_code == 302, entered.content
        with contextlib.closing(sqlite3.connect(book.database)) as db:
            lines = [
                found
                for words, address in PAGES.items()
                if _there(address)
                for found in _timed(words, address, client, db)
            ]
        clock.begin_at(None)
        connections.close_all()
    return lines


def _there(address: str) -> bool:
    try:
        resolve(address.partition("?")[0])
    except Resolver404:
        return False
    return True


def _timed(words: str, address: str, client: Client, db: sqlite3.Connection) -> list[Line]:
    def page() -> bytes:
        answer = client.get(address)
        assert answer.status_code == 200, (address, answer.status_code)
        return bytes(answer.content)

    page()
    with CaptureQueriesContext(connection) as asked:
        page()
    statements = [one["sql"] for one in asked.captured_queries]
    bare = _bare(db, statements)

    def other() -> int:
        client.get(EMPTY)
        return bare()

    ours, others = best_of(ROUNDS, page, other)
    return [
        line(f"page: {words}, against {1000 * LIMIT:.0f} ms of server time", ours, LIMIT, "<= 1"),
        line(f"page: {words}, against an empty page and its {len(statements)} statements bare", ours, others, "<= 3"),
    ]


def _bare(db: sqlite3.Connection, statements: list[str]) -> Callable[[], int]:
    """Only what reads; the same rows, fetched and left as they are."""
    reads = [one for one in statements if one.lstrip().upper().startswith("SELECT")]
    return lambda: sum(len(db.execute(one).fetchall()) for one in reads)


if __name__ == "__main__":
    for measured in run():
        print(measured)
