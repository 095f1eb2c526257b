"""The demo's books, each built once for all workers of a run: living through a batch takes a quarter of a minute."""

import datetime
import shutil
import time
from collections.abc import Callable
from pathlib import Path

import pytest
from django.db import connections

from bladewright.records.heads import log_of
from bladewright.records.opening import create_book, open_book
from examples.fennmark import diary, second_batch
from examples.fennmark.evidence import write_evidence

WAIT = 280.0  # [s]


def first_batch(factory: pytest.TempPathFactory) -> Path:
    """The shop's folder after its first batch: from-the-floor, book, book.heads."""
    return _built_once(factory, "first-batch", _live_the_first)


def two_batches(factory: pytest.TempPathFactory) -> Path:
    """The same on the morning the desk is opened on, with eleven finished blades and three in work."""
    first = first_batch(factory)
    return _built_once(factory, "two-batches", lambda shop: _live_the_second(first, shop))


def _built_once(factory: pytest.TempPathFactory, name: str, build: Callable[[Path], None]) -> Path:
    """The first worker builds it, the others wait until it stands."""
    base = factory.getbasetemp()
    shop = (base.parent if base.name.startswith("popen") else base) / name
    try:
        shop.mkdir()
    except FileExistsError:
        until = time.monotonic() + WAIT
        while not (shop / "done").exists():
            assert time.monotonic() < until, "another worker began the demo's book and did not finish it"
            time.sleep(0.2)
        return shop
    build(shop)
    connections.close_all()
    (shop / "done").touch()
    return shop


def _live_the_first(shop: Path) -> None:
    files = write_evidence(shop / "from-the-floor")
    begun = datetime.datetime.combine(diary.BEGUN, datetime.time(7), datetime.UTC)
    create_book(shop / "book", shop="Fennmark Rotor Shop (invented)", zone=diary.ZONE, demo=True, at=begun)
    for page in diary.pages(files):
        page.does(page.act)


def _live_the_second(first: Path, shop: Path) -> None:
    files = write_evidence(shop / "from-the-floor")
    second = second_batch.write_second_batch(shop / "from-the-floor", files)
    shutil.copytree(first / "book", shop / "book")
    shutil.copyfile(log_of(first / "book"), log_of(shop / "book"))
    open_book(shop / "book")
    for page in second_batch.second_pages(second):
        page.does(page.act)
