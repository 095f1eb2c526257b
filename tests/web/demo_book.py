"""The demo's book, built once for all workers of a run: it takes a quarter of a minute."""

import datetime
import time
from pathlib import Path

import pytest
from django.db import connections

from bladewright.records.opening import create_book
from examples.fennmark import diary
from examples.fennmark.evidence import write_evidence

WAIT = 240.0  # [s]


def built_once(factory: pytest.TempPathFactory) -> Path:
    """The shop's folder; the first worker builds it, the others wait until it stands."""
    base = factory.getbasetemp()
    shop = (base.parent if "popen" in base.name else base) / "demo-shop"
    try:
        shop.mkdir()
    except FileExistsError:
        until = time.monotonic() + WAIT
        while not (shop / "done").exists():
            assert time.monotonic() < until, "another worker began the demo's book and did not finish it"
            time.sleep(0.2)
        return shop
    files = write_evidence(shop / "from-the-floor")
    begun = datetime.datetime.combine(diary.BEGUN, datetime.time(7), datetime.UTC)
    create_book(shop / "book", shop="Fennmark Rotor Shop (invented)", zone=diary.ZONE, demo=True, at=begun)
    for page in diary.pages(files):
        page.does(page.act)
    connections.close_all()
    (shop / "done").touch()
    return shop
