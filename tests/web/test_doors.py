"""Every address of the desk and who may come in or send there: one that is added is held to it without a new test."""

import re

import pytest
from django.test import Client
from django.urls import URLPattern

from bladewright.records.acts import Scope
from bladewright.records.opening import Book
from bladewright.web.doors import Door
from bladewright.web.urls import urlpatterns
from tests.records.cast import MAY, OFFICE, RECEIVER
from tests.web.conftest import Enter

PUBLIC = {"enter", "begin"}  # before anybody is known
#: in the full book the receiver's authorisation was withdrawn
CAST = {name: set(scopes) for name, scopes in MAY.items()} | {OFFICE: {Scope.ADMINISTER}, RECEIVER: set()}
EXAMPLE = {
    "serial": "B-0101",
    "name": "S-1",
    "revision": "A",
    "sha256": "0" * 64,
    "lot": "R-1",
    "number": "1",
    "kind": "oven",
}
PAGES = [pattern for pattern in urlpatterns if isinstance(pattern, URLPattern)]
SENT = [pattern for pattern in PAGES if getattr(pattern.callback, "door", Door()).writes]


def address(pattern: URLPattern) -> str:
    """An address of this pattern, with something in each of its places."""
    return "/" + re.sub(r"<(?:\w+:)?(\w+)>", lambda found: EXAMPLE.get(found[1], "1"), str(pattern.pattern))


@pytest.mark.parametrize("pattern", PAGES, ids=lambda pattern: pattern.name)
def test_every_address_says_who_may(pattern: URLPattern) -> None:
    door = getattr(pattern.callback, "door", None)
    assert isinstance(door, Door), f"{pattern.name} has no @door"
    assert door.public == (pattern.name in PUBLIC)


@pytest.mark.parametrize("pattern", [one for one in PAGES if one.name not in PUBLIC], ids=lambda pattern: pattern.name)
def test_a_stranger_sees_and_sends_nothing(full_desk: Book, pattern: URLPattern) -> None:
    for verb in ("get", "post"):
        answer = getattr(Client(), verb)(address(pattern))
        assert answer.status_code in (401, 405), (verb, address(pattern))
        assert "Fennmark" not in re.sub(r"<title>.*?</title>|<a class=\"shop\".*?</a>", "", answer.content.decode())


@pytest.mark.parametrize("pattern", SENT, ids=lambda pattern: pattern.name)
def test_only_who_is_authorised_sends(full_desk: Book, enter: Enter, pattern: URLPattern) -> None:
    wanted = set(pattern.callback.door.writes)  # type: ignore[attr-defined]
    for name, scopes in CAST.items():
        answer = enter(name).post(address(pattern), {})
        refused = answer.status_code == 403 and "authorised" in answer.content.decode()
        assert refused == (not scopes & wanted), (name, address(pattern), answer.status_code)
        assert answer.status_code < 500
