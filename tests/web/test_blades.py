"""Every serial by the page, found by a part of its name."""

import pytest

from bladewright.records.opening import Book
from tests.records.cast import INSPECTOR, OFFICE
from tests.records.conftest import SERIALS
from tests.web.conftest import Enter
from tests.web.test_waiting import text_of


@pytest.mark.usefixtures("shop_desk")
def test_anybody_signed_in_looks_serials_up(enter: Enter) -> None:
    for name in (INSPECTOR, OFFICE):
        told = text_of(enter(name).get("/blades/").content.decode())
        assert all(serial in told for serial in SERIALS)
        assert told.count("not judged") == len(SERIALS)
    one = text_of(enter(OFFICE).get("/blades/?text=0103").content.decode())
    assert SERIALS[2] in one
    assert SERIALS[0] not in one
    none = text_of(enter(OFFICE).get("/blades/?text=x&after=zzz").content.decode())
    assert "No serial of this book holds “x”" in none


@pytest.mark.usefixtures("full_desk")
def test_only_open_serials_where_that_is_asked(enter: Enter) -> None:
    client = enter(OFFICE)
    everything = text_of(client.get("/blades/").content.decode())
    assert everything.count("signed out") >= 2
    still_open = text_of(client.get("/blades/?which=open").content.decode())
    assert SERIALS[0] not in still_open
    assert SERIALS[2] in still_open


def test_the_page_after_the_last_serial_teaches_nothing_wrong(full_desk: Book, enter: Enter) -> None:
    assert enter(OFFICE).get("/blades/?after=~~~~").status_code == 200
    assert enter(OFFICE).get("/materials/?before=x&text=%F0%9F%94%A7").status_code == 200
