"""The desk with its cast: each test has a book of its own, and people who sign in by the secret everybody has here.

``enter(name)`` gives a client of the desk in this process; ``served`` is the real command on a port, for a browser.
"""

import datetime
import os
import re
import subprocess
import sys
import time
from collections.abc import Callable, Iterator
from pathlib import Path
from typing import Any

import pytest
from django.db import connections
from django.test import Client
from playwright.sync_api import Browser, BrowserContext, Page, ViewportSize, expect, sync_playwright

from bladewright.records.acts import Act
from bladewright.records.heads import log_of
from bladewright.records.opening import Book, open_book
from bladewright.records.people import all_people
from bladewright.records.secrets import set_secret
from bladewright.web import clock
from examples.fennmark import second_batch
from tests.conftest import ROOT, Require
from tests.records.cast import AT, MAY, OFFICE, by
from tests.records.conftest import (
    _batch_folder,
    _files,
    _findings_are,
    _first_book,
    _full_folder,
    _nothing_stays_open,
    _real_database,
    _shop_folder,
    copied,
)
from tests.web.demo_book import first_batch, two_batches

__all__ = [
    "_batch_folder", "_files", "_findings_are", "_first_book", "_full_folder", "_nothing_stays_open", "_real_database",
    "_shop_folder",
]  # fmt: skip

os.environ["DJANGO_ALLOW_ASYNC_UNSAFE"] = "true"  # the browser's driver keeps a loop of its own in this thread

#: everybody's here; the desk would refuse to hand one out itself
SECRET = "a lantern under seven bridges"
CHROMIUM = Path("/usr/bin/chromium")
FAST = "django.contrib.auth.hashers.MD5PasswordHasher"
VIEW: ViewportSize = {"width": 1280, "height": 900}
expect.set_options(timeout=60_000)  # how long a page may take is for the benchmarks
Enter = Callable[[str], Client]


@pytest.fixture(autouse=True)
def _fast_secrets(settings: Any) -> None:
    """The slow hash is Django's to test."""
    settings.PASSWORD_HASHERS = [FAST, "django.contrib.auth.hashers.PBKDF2PasswordHasher"]


@pytest.fixture(autouse=True)
def _the_clock_of_the_cast() -> Iterator[None]:
    clock.begin_at(AT)
    yield
    clock.begin_at(None)


def with_secrets(folder: Path, at: datetime.datetime = AT) -> None:
    """Everybody in a book chooses the same secret."""
    book = open_book(folder)
    for line in all_people(book.day(at)):
        set_secret(by(line.name, at=at), line.name, SECRET)
    connections.close_all()


@pytest.fixture(name="desk_of")
def _desk_of(tmp_path: Path) -> Callable[[Path], Book]:
    """Opens a copy of a book at the desk, everybody with a secret."""

    def desk_of(folder: Path) -> Book:
        copy = copied(folder, tmp_path / "desk" / "book")
        with_secrets(copy)
        return open_book(copy)

    return desk_of


@pytest.fixture(name="shop_desk")
def _shop_desk(desk_of: Callable[[Path], Book], batch_folder: Path) -> Book:
    """An approved drawing, six serials started, the whole cast."""
    return desk_of(batch_folder)


@pytest.fixture(name="full_desk")
def _full_desk(desk_of: Callable[[Path], Book], full_folder: Path) -> Book:
    """A book with a row at least in every table."""
    return desk_of(full_folder)


@pytest.fixture(scope="session", name="demo_shop")
def _demo_shop(tmp_path_factory: pytest.TempPathFactory, real_database: None) -> Path:
    """The invented shop after its first batch: its folder, with the book in it. Only read; copy it to write."""
    return first_batch(tmp_path_factory)


@pytest.fixture(scope="session", name="season_shop")
def _season_shop(tmp_path_factory: pytest.TempPathFactory, real_database: None) -> Path:
    """The same after most of the second batch, as ``make desk`` shows it."""
    return two_batches(tmp_path_factory)


@pytest.fixture(name="demo_desk")
def _demo_desk(desk_of: Callable[[Path], Book], demo_shop: Path) -> Book:
    """The invented shop's whole season at the desk."""
    return desk_of(demo_shop / "book")


@pytest.fixture(name="enter")
def _enter() -> Enter:
    """Signs somebody in."""

    def enter(name: str) -> Client:
        client = Client()
        answer = client.post("/enter/", {"name": name, "secret": SECRET})
        assert answer.status_code == 302, answer.content.decode()
        return client

    return enter


def sent(client: Client, page: str, action: str, **entries: Any) -> Any:
    """Send the form of a page as a browser would: with its hidden entries, and what is typed over them."""
    text = client.get(page).content.decode()
    forms = re.findall(r'<form[^>]*action="([^"]*)"[^>]*>(.*?)</form>', text, re.S)
    inside = next((held for where, held in forms if where == action), None)
    assert inside is not None, f"no form for {action} on {page}; there are {[where for where, _ in forms]}"
    hidden = dict(re.findall(r'<input type="hidden" name="([^"]+)" value="([^"]*)"', inside))
    return client.post(action, hidden | entries)


class Served:
    """A desk in a process of its own."""

    def __init__(self, book: Path, *options: str, at: str = "2026-04-21T08:00+01:00") -> None:
        self.book = book
        command = [sys.executable, "-m", "bladewright", "desk", "--book", str(book), "--port", "0", "--clock", at]
        env = os.environ | {"PYTHONPATH": f"{ROOT / 'src'}{os.pathsep}{ROOT}", "PYTHONUNBUFFERED": "1"}
        self.process = subprocess.Popen(
            [*command, *options], env=env, stdout=subprocess.PIPE, stderr=subprocess.STDOUT, text=True, cwd=ROOT
        )
        self.address = self._where()

    def _where(self) -> str:
        assert self.process.stdout is not None
        told = ""
        until = time.monotonic() + 60.0
        while time.monotonic() < until:
            line = self.process.stdout.readline()
            told += line
            if found := re.search(r"http://[\d.]+:\d+", line):
                return found.group()
            if not line:
                break
        raise AssertionError(f"the desk did not start: {told}")

    def stop(self) -> None:
        """End it as Ctrl-C would."""
        self.process.terminate()
        self.process.wait(20)
        assert self.process.stdout is not None
        self.process.stdout.close()


@pytest.fixture(scope="module", name="served")
def _served(season_shop: Path, tmp_path_factory: pytest.TempPathFactory) -> Iterator[Served]:
    """The demo's season, served; one for each file of tests, so what is written there is seen by the tests after."""
    folder = copied(season_shop / "book", tmp_path_factory.mktemp("served") / "book")
    with_secrets(folder, second_batch.MORNING)
    desk = Served(folder, at=second_batch.MORNING.isoformat())
    yield desk
    desk.stop()


@pytest.fixture(scope="session", name="chromium")
def _chromium(require: Require) -> Iterator[Browser]:
    require("chromium", CHROMIUM.is_file(), "sudo apt-get install chromium")
    with sync_playwright() as driver:
        options = ("--no-sandbox", "--disable-gpu", "--disable-background-networking", "--disable-component-update")
        browser = driver.chromium.launch(executable_path=str(CHROMIUM), args=options)
        yield browser
        browser.close()


@pytest.fixture(name="tablet")
def _tablet(chromium: Browser) -> Iterator[BrowserContext]:
    """A browser that notes what leaves the machine, what the policy blocked, what scripts threw."""
    context = chromium.new_context(viewport=VIEW)
    yield context
    context.close()


@pytest.fixture(name="sign_in")
def _sign_in(served: Served, tablet: BrowserContext, chromium: Browser) -> Iterator[Callable[[str], Page]]:
    """Opens the served desk as somebody; each person holds a tablet of their own, the first the one of the test."""
    wrong: list[str] = []
    tablets: dict[str, BrowserContext] = {}

    def sign_in(name: str) -> Page:
        if name not in tablets:
            tablets[name] = chromium.new_context(viewport=VIEW) if tablets else tablet
        page = tablets[name].new_page()
        page.on("request", lambda asked: wrong.append(f"left: {asked.url}") if left(asked.url) else None)
        page.on("pageerror", lambda error: wrong.append(f"script: {error}"))
        page.on("console", lambda said: wrong.append(said.text) if "Content Security Policy" in said.text else None)
        page.goto(f"{served.address}/enter/")
        page.get_by_label("Your name").fill(name)
        page.get_by_label("Your secret").fill(SECRET)
        page.get_by_role("button", name="Sign in").click()
        page.wait_for_url(f"{served.address}/")
        return page

    def left(url: str) -> bool:
        return not url.startswith((served.address, "data:", "blob:"))

    yield sign_in
    for context in tablets.values():
        context.close()
    assert not wrong


__all__ += ["MAY", "OFFICE", "SECRET", "Act", "Enter", "Served", "log_of", "sent"]
