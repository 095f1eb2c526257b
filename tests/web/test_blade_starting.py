"""Starting a serial: who makes may, to an approved revision only, each serial once."""

import pytest

from bladewright.records.blades import all_blades
from bladewright.records.opening import Book
from tests.records.cast import INSPECTOR, MAKER, OFFICE, everybody_but
from tests.web.conftest import Enter, sent

PAGE, SEND = "/blades/new/", "/blades/new/start/"
ENTRIES = {"serial": "B-0107", "drawing": "FM-31\tA"}


def serials() -> list[str]:
    return [line.serial for line in all_blades()]


def test_a_maker_starts_a_blade_and_lands_on_its_page(shop_desk: Book, enter: Enter) -> None:
    answer = sent(enter(MAKER), PAGE, SEND, **ENTRIES)
    assert (answer.status_code, answer.headers["Location"]) == (303, "/blades/B-0107/")
    assert "B-0107" in serials()


@pytest.mark.parametrize("who", [name for name in everybody_but(MAKER) if name != "Nobody Known"])
def test_nobody_else_starts_one(shop_desk: Book, enter: Enter, who: str) -> None:
    client = enter(who)
    assert "Start this blade" not in client.get(PAGE).content.decode()
    assert MAKER in client.get(PAGE).content.decode(), "the page says whom to ask"
    assert client.post(SEND, ENTRIES | {"once": "x"}).status_code == 403
    assert "B-0107" not in serials()


def test_a_serial_that_is_taken_is_refused_beside_its_entry(shop_desk: Book, enter: Enter) -> None:
    answer = sent(enter(MAKER), PAGE, SEND, **ENTRIES | {"serial": "b-0101"})
    assert answer.status_code == 422
    text = answer.content.decode()
    assert 'id="id_serial_error"' in text
    assert 'value="b-0101"' in text, "what was typed stays"


def test_a_revision_nobody_approved_cannot_be_chosen(shop_desk: Book, enter: Enter) -> None:
    answer = sent(enter(MAKER), PAGE, SEND, **ENTRIES | {"drawing": "FM-31\tZ"})
    assert answer.status_code == 422
    assert "B-0107" not in serials()


def test_the_form_sent_twice_starts_one_blade(shop_desk: Book, enter: Enter) -> None:
    client = enter(MAKER)
    told = ENTRIES | {"once": "the same token"}
    first, second = client.post(SEND, told), client.post(SEND, told)
    assert first.headers["Location"] == second.headers["Location"]
    assert serials().count("B-0107") == 1


def test_looking_at_the_address_that_takes_the_form_changes_nothing(
    shop_desk: Book,
    enter: Enter,
) -> None:
    assert enter(MAKER).get(SEND).status_code == 405
    assert enter(OFFICE).get(PAGE).status_code == 200
    assert enter(INSPECTOR).get(PAGE).status_code == 200
