"""Programs at the desk: a key for each thing, the same refusals as on the pages, and nothing written twice."""

import datetime
from pathlib import Path
from typing import Any

import pytest
from django.core.files.uploadedfile import SimpleUploadedFile
from django.test import Client

from bladewright.records.opening import Book
from bladewright.records.ready import models
from bladewright.records.tokens import May, make_token, withdraw_token
from examples.fennmark.evidence import Evidence
from tests.records.cast import INSPECTOR, MAKER, by
from tests.web.conftest import Enter

pytestmark = pytest.mark.book

LAST = datetime.date(2026, 12, 31)
READS = {
    "/programs/1/blades": May.READ,
    "/programs/1/verdict?serial=B-0101": May.READ,
    "/programs/1/trace?lot=R-1": May.TRACE,
}


def program(*may: May, person: str = MAKER) -> Client:
    """A client with a key of that person's."""
    _, key = make_token(by(person), f"program that may {' and '.join(may)}", person, may, LAST)
    return Client(headers={"Authorization": f"Bearer {key}"})


def weighing(files: Evidence, serial: str) -> dict[str, Any]:
    found = next(blade.weighing for blade in files.blades if blade.weighing)
    text = found.read_text().replace(found.stem, serial)
    return {"weighing": SimpleUploadedFile(f"{serial}.toml", text.encode())}


@pytest.mark.parametrize(("address", "may"), READS.items())
def test_a_key_opens_what_it_was_made_for_and_nothing_else(full_desk: Book, address: str, may: May) -> None:
    assert program(may).get(address).status_code == 200
    others = tuple(other for other in May if other != may)
    answer = program(*others).get(address)
    assert answer.status_code == 403
    assert answer.json()["errors"][0]["allowed"] == f'a key that may "{may}"'


@pytest.mark.parametrize("address", READS)
@pytest.mark.parametrize("header", ["", "Bearer nothing", "Basic abc"])
def test_nobody_comes_in_without_a_key(full_desk: Book, address: str, header: str) -> None:
    answer = Client(headers={"Authorization": header} if header else {}).get(address)
    assert answer.status_code in (401, 403)
    assert answer.json()["errors"][0]["what"]


def test_a_withdrawn_key_says_by_whom(full_desk: Book) -> None:
    reading = program(May.READ)
    withdraw_token(by(MAKER), "program that may read")
    (error,) = reading.get("/programs/1/blades").json()["errors"]
    assert MAKER in str(error)


def test_serials_come_in_order_page_by_page(full_desk: Book) -> None:
    reading = program(May.READ)
    first = reading.get("/programs/1/blades?most=4").json()
    rest = reading.get("/programs/1/blades", {"most": 4, "after": first["next"]}).json()
    serials = [line["serial"] for line in (*first["blades"], *rest["blades"])]
    assert serials == [f"B-010{number}" for number in range(1, 7)]
    assert rest["next"] == ""


def test_evidence_is_handed_in_once(shop_desk: Book, files: Evidence) -> None:
    adding = program(May.ADD)
    before = models.Event.objects.count()
    sent = adding.post("/programs/1/evidence/weighing", weighing(files, "B-0101"), headers={"Once": "w-1"})
    assert (sent.status_code, sent.json()["serials"]) == (200, ["B-0101"])
    again = adding.post("/programs/1/evidence/weighing", weighing(files, "B-0101"), headers={"Once": "w-1"})
    assert (again.status_code, again.json()["errors"][0]["field"]) == (409, "once")
    known = adding.post("/programs/1/evidence/weighing", weighing(files, "B-0101"), headers={"Once": "w-2"})
    assert (known.status_code, known.json()["already"]) == (200, True)
    assert models.Event.objects.count() == before + 1
    event = models.Event.objects.latest("number")
    assert (event.by, "program that may add evidence" in event.reason) == (MAKER, True)


def test_a_key_may_no_more_than_its_person(shop_desk: Book, files: Evidence) -> None:
    adding = program(May.ADD)
    data = files.blades[0].dimensions.read_bytes().replace(b"FM31-0107", b"B-0101")
    sheet = {"sheet": SimpleUploadedFile("d.csv", data)}
    answer = adding.post("/programs/1/evidence/dimensions", sheet, headers={"Once": "d-1"})
    assert (answer.status_code, answer.json()["errors"][0]["value"]) == (403, MAKER)


def test_a_bad_file_is_refused_in_fields_and_nothing_is_kept(shop_desk: Book) -> None:
    adding = program(May.ADD, person=INSPECTOR)
    before = models.Event.objects.count(), len(list(shop_desk.folder.rglob("*")))
    bad = SimpleUploadedFile("b.toml", b'format = 1\nserial = "B-0101"\n')
    answer = adding.post("/programs/1/evidence/weighing", {"weighing": bad}, headers={"Once": "b-1"})
    assert answer.status_code == 422
    assert {error["file"] for error in answer.json()["errors"]} == {"b.toml"}
    assert (models.Event.objects.count(), len(list(shop_desk.folder.rglob("*")))) == before


@pytest.mark.parametrize("begins", [b"\x7fELF", b"MZ\x90", b"<html><script>", b"#!/bin/sh"])
def test_what_begins_like_a_program_is_not_taken(shop_desk: Book, begins: bytes) -> None:
    adding = program(May.ADD)
    answer = adding.post(
        "/programs/1/evidence/weighing", {"weighing": SimpleUploadedFile("w.toml", begins)}, headers={"Once": "p"}
    )
    assert (answer.status_code, answer.json()["errors"][0]["field"]) == (422, "weighing")


def test_the_page_tells_every_address(shop_desk: Book, enter: Enter) -> None:
    client = enter(MAKER)
    told = client.get("/programs/1/openapi.json").json()
    shown = client.get("/programs/1/").content.decode()
    assert len(told["paths"]) == 7
    assert all(address in shown for address in told["paths"])


def test_a_log_goes_in_whole(shop_desk: Book, files: Evidence) -> None:
    adding = program(May.ADD)
    blade = files.blades[0]
    handed = {
        "serials": ["B-0101", "B-0102"],
        "log": SimpleUploadedFile(blade.cure.name, blade.cure.read_bytes()),
        "description": SimpleUploadedFile("logger.toml", files.logger.read_bytes()),
    }
    answer = adding.post("/programs/1/evidence/cure", handed, headers={"Once": "c-1"})
    assert answer.status_code == 200, answer.json()
    kept = Path(shop_desk.folder, "files", answer.json()["sha256"][:2], answer.json()["sha256"])
    assert kept.read_bytes() == blade.cure.read_bytes()
