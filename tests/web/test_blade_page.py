"""The page of one serial: everybody may look, the next action stands on top and says who may take it."""

import time
from pathlib import Path
from typing import Any

import pytest
from django.db import connection
from django.test.utils import CaptureQueriesContext

from bladewright.records.blade_page import blade_page
from bladewright.records.blades import start_blade
from bladewright.records.evidence import file_coupon, file_cure, file_dimensions, file_weighing
from bladewright.records.job import Way
from bladewright.records.opening import Book
from examples.fennmark.evidence import BladeFiles, Evidence
from tests.records.cast import INSPECTOR, MAKER, MAY, OFFICE, by
from tests.web.conftest import Enter

SERIAL = "B-0101"


def _eventually(client: Any, address: str) -> str:
    """A page whose answer is worked out aside, once it is there."""
    until = time.monotonic() + 200.0
    while "Being worked out" in (text := client.get(address).content.decode()):
        assert time.monotonic() < until
        time.sleep(0.5)
    return str(text)


@pytest.mark.parametrize("who", [*MAY, OFFICE])
def test_everybody_signed_in_may_look(shop_desk: Book, enter: Enter, who: str) -> None:
    assert enter(who).get(f"/blades/{SERIAL}/").status_code == 200


def test_nobody_else_may(shop_desk: Book, client: Any) -> None:
    for address in ("", "void-map/", "flight/", "record.pdf"):
        assert client.get(f"/blades/{SERIAL}/{address}").status_code == 401


def test_a_serial_nobody_started_says_so(shop_desk: Book, enter: Enter) -> None:
    answer = enter(MAKER).get("/blades/B-9999/")
    assert answer.status_code == 404
    assert "start the blade first" in answer.content.decode()


def test_the_first_missing_proof_is_next_and_the_page_says_who_may(
    shop_desk: Book,
    enter: Enter,
) -> None:
    found = blade_page(SERIAL)
    assert (found.next.way, found.next.about) == (Way.SIGN, "material lots")
    text = enter(OFFICE).get(f"/blades/{SERIAL}/").content.decode()
    assert "Next: Sign the material lots." in text
    assert f"Who may: {MAKER}" in text or f"Who may: {INSPECTOR}" in text
    assert "You may." not in text
    assert "You may." in enter(INSPECTOR).get(f"/blades/{SERIAL}/").content.decode()


def test_an_empty_page_teaches(shop_desk: Book, enter: Enter) -> None:
    text = enter(OFFICE).get(f"/blades/{SERIAL}/").content.decode()
    assert "Nothing is on file yet" in text
    assert "Not judged yet" in text
    assert "No lot is entered yet" in text
    for form in ("sign/", "judge/", "look/", "lot/", "deviation/"):
        assert f'action="/blades/{SERIAL}/{form}"' not in text, "who may not is offered nothing"


def test_a_blade_of_the_season_is_whole_on_its_page(demo_desk: Book, enter: Enter) -> None:
    text = enter("Wenda Harkthwaite").get("/blades/FM31-0110/").content.decode()
    assert "accepted under deviation" in text
    assert "D-1" in text
    assert "Only with FM31-0115." in text
    assert "the finding stays" in text
    assert "In flight" in text


def test_what_its_dimensions_do_in_flight_is_worked_out_once_and_kept(demo_desk: Book, enter: Enter) -> None:
    client = enter("Ansel Vorrimoor")
    text = _eventually(client, "/blades/FM31-0110/flight/")
    assert "handle force, hover, this blade&#x27;s share" in text
    assert "flight effect of length root to tip: waits for a model of what it does" in text
    chart = client.get("/blades/FM31-0110/flight/handle/").json()
    words, values = chart["data"][0]["y"], chart["data"][0]["x"]
    assert words[-1] == "all together"
    assert words[0].startswith("reflex of the finished blade")
    assert values[0] < 0.0, "reflex up lightens the lever"
    assert client.get("/blades/FM31-0110/flight/colour/").status_code == 404


def test_a_blade_nobody_measured_says_so(shop_desk: Book, enter: Enter) -> None:
    client = enter(OFFICE)
    assert "nothing can be said" in client.get(f"/blades/{SERIAL}/flight/").content.decode()
    assert client.get(f"/blades/{SERIAL}/flight/handle/").status_code == 404


def test_the_paper_is_a_pdf_and_needs_a_verdict(demo_desk: Book, enter: Enter) -> None:
    answer = enter("Brona Lindlesk").get("/blades/FM31-0107/record.pdf")
    assert answer.content.startswith(b"%PDF")
    assert answer.headers["Content-Type"] == "application/pdf"


def test_a_paper_of_a_blade_nobody_judged_is_refused(shop_desk: Book, enter: Enter) -> None:
    assert enter(OFFICE).get(f"/blades/{SERIAL}/record.pdf").status_code == 422


def _queries(serial: str) -> int:
    with CaptureQueriesContext(connection) as seen:
        blade_page(serial)
    return len(seen)


def test_more_on_file_asks_the_book_no_more_often(shop_desk: Book, files: Evidence) -> None:
    blade: BladeFiles = files.blades[1]
    start_blade(by(MAKER), blade.serial, "FM-31", "A")
    file_dimensions(by(INSPECTOR), blade.dimensions)
    few = _queries(blade.serial)
    file_cure(by(MAKER), [blade.serial], blade.cure, files.logger)
    file_coupon(by(INSPECTOR), blade.coupon, blade.pull_curve, files.pull)
    assert isinstance(blade.weighing, Path)
    file_weighing(by(INSPECTOR), blade.weighing)
    assert _queries(blade.serial) == few
