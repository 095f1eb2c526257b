"""Coming in at the desk: nobody without a secret, nothing typed is lost, and the first start makes the first person."""

import re
from pathlib import Path

import pytest
from django.test import Client

from bladewright.records.opening import Book, create_book
from bladewright.records.people import all_people
from bladewright.web.entering import start_code
from tests.records.cast import AT, BEGUN, MAKER, OFFICE, STRANGER
from tests.web.conftest import SECRET, Enter

pytestmark = pytest.mark.book


def test_a_page_sends_a_stranger_to_the_door(shop_desk: Book) -> None:
    answer = Client().get("/find/?text=B-0101")
    assert answer.status_code == 401
    assert 'value="/find/?text=B-0101"' in answer.content.decode()


def test_a_secret_lets_in_and_leaving_ends_it(shop_desk: Book, enter: Enter) -> None:
    client = enter(MAKER)
    assert client.get("/find/").status_code == 200
    client.post("/leave/")
    assert client.get("/find/").status_code == 401


def test_a_wrong_secret_and_an_unknown_name_read_alike(shop_desk: Book) -> None:
    said = set()
    for name in (MAKER, STRANGER):
        answer = Client().post("/enter/", {"name": name, "secret": "not the one at all"})
        assert answer.status_code == 403
        said.add(re.sub(r"value=\"[^\"]*\"", "", answer.content.decode()))
    assert len(said) == 1


def test_what_was_typed_before_coming_in_is_sent_after(shop_desk: Book) -> None:
    client = Client()
    typed = {"system": "inch", "theme": "dark", "back": "/find/", "secret": "not kept"}
    answer = client.post("/preferences/", typed)
    assert answer.status_code == 401
    kept = re.search(r'name="typed" value="([^"]+)"', answer.content.decode())
    assert kept is not None
    again = client.post("/enter/", {"name": MAKER, "secret": SECRET, "typed": kept.group(1)}).content.decode()
    assert 'action="/preferences/"' in again
    assert 'name="system" value="inch"' in again
    assert "not kept" not in again
    assert client.post("/preferences/", typed).status_code == 302
    assert 'data-theme="dark"' in client.get("/find/").content.decode()


def test_the_first_start_makes_the_first_administrator(tmp_path: Path) -> None:
    book = create_book(tmp_path / "book", shop="Fennmark Rotor Shop", zone="Europe/London", at=BEGUN)
    client = Client()
    assert client.get("/find/").headers["Location"] == "/begin/"
    told = {"name": OFFICE, "secret": SECRET, "secret_again": SECRET, "code": "not the code"}
    assert "not the code of this start" in client.post("/begin/", told).content.decode()
    assert all_people(book.day(AT)) == ()
    assert client.post("/begin/", told | {"code": start_code[0]}).status_code == 302
    assert [(line.name, len(line.scopes)) for line in all_people(book.day(AT))] == [(OFFICE, 1)]
    assert Client().get("/begin/").headers["Location"] == "/enter/"


def test_every_answer_forbids_what_stands_in_a_page(shop_desk: Book) -> None:
    for address in ("/enter/", "/nowhere/", "/static/desk/desk.css"):
        answer = Client().get(address)
        answer.close()
        policy = answer.headers["Content-Security-Policy"]
        assert "default-src 'none'" in policy
        assert "unsafe" not in policy


def test_a_copied_cookie_opens_nothing_once_its_person_has_left(shop_desk: Book, enter: Enter) -> None:
    client, copy = enter(MAKER), Client()
    copy.cookies["desk"] = client.cookies["desk"].value
    assert copy.get("/find/").status_code == 200
    client.post("/leave/")
    assert copy.get("/find/").status_code == 401


def test_a_letter_that_is_none_is_not_looked_up(shop_desk: Book, enter: Enter) -> None:
    assert enter(MAKER).get("/find/?text=%00").status_code == 400
