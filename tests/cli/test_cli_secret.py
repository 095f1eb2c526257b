"""A secret set from the machine that holds the book: asked for twice, never shown, told in the history."""

from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest
from typer.testing import CliRunner

from bladewright.cli.commands import app
from bladewright.records import secrets
from bladewright.records.acts import Act
from bladewright.records.opening import create_book, open_book
from bladewright.records.people import add_person
from bladewright.records.ready import models
from tests.records.cast import BEGUN

OWN = "seven grey geese"


@pytest.fixture(name="book")
def _book(tmp_path: Path, django_db_blocker: Any) -> Iterator[Path]:
    with django_db_blocker.unblock():
        book = create_book(tmp_path / "book", shop="Fennmark", zone="Europe/London", at=BEGUN)
        add_person(Act("Una", BEGUN), "Una")
        yield book.folder


def set_secret(book: Path, typed: str) -> Any:
    command = ["set-secret", "Una", "--by", "Una", "--reason", "forgotten", "--book", str(book)]
    return CliRunner().invoke(app, command, typed)


def test_a_forgotten_secret_is_set_and_the_history_says_why(book: Path) -> None:
    done = set_secret(book, f"{OWN}\n{OWN}\n")
    assert done.exit_code == 0, done.output
    assert OWN not in done.output
    open_book(book)
    assert secrets.prove("Una", OWN)
    event = models.Event.objects.latest("number")
    assert (event.kind, event.by, event.reason) == ("secret set", "Una", "forgotten")


def test_a_weak_one_is_refused_and_nothing_is_set(book: Path) -> None:
    done = set_secret(book, "geese\ngeese\n")
    assert done.exit_code != 0
    open_book(book)
    assert not secrets.has_secret("Una")
