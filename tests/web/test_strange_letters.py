"""What people type and files are called may hold any letter: the page says what is wrong with it and never breaks."""

import pytest
from django.core.files.uploadedfile import SimpleUploadedFile
from django.forms import DateField
from django.forms.forms import BaseForm

from bladewright.records.lots import all_lots
from bladewright.records.opening import Book
from bladewright.web import urls as urls  # every form of the desk is defined once its views are
from tests.records.cast import INSPECTOR, MAKER, RECEIVER
from tests.web.conftest import Enter, sent
from tests.web.test_waiting import text_of

SHELF, KEEP = "/shelf/", "/shelf/keep/"
#: read as orders by whoever formats text with %, by a path, by a header, by a page
STRANGE = (
    "50% d",
    "%(error)s",
    "%d",
    "B/101",
    "B?101#x",
    'B"; x=".exe',
    "B'101",
    "B\\101",
    "<b>B</b>101",
    "Bé 101",
    "B~2F101",
)


def subclasses(kind: type) -> list[type]:
    """Every class made of one, and theirs."""
    return [found for one in kind.__subclasses__() for found in (one, *subclasses(one))]


@pytest.mark.parametrize("name", ["50% of it.toml", "%d.toml", "%(x)s.toml", "%00.toml"])
def test_a_percent_sign_in_what_is_refused_is_shown_as_it_is(shop_desk: Book, enter: Enter, name: str) -> None:
    file = SimpleUploadedFile(name, b"x = 1\n")
    answer = sent(enter(INSPECTOR), SHELF, KEEP, kind="gauge", described="", file=file)
    assert answer.status_code == 422
    assert name in text_of(answer.content.decode())


@pytest.mark.parametrize(
    "data", ["a." * 30 + "b = 1", "a." * 5000 + "b = 1", "a=" + "{a=" * 30 + "1" + "}" * 30, "a=" + "[" * 5000]
)
def test_tables_in_tables_without_end_are_refused(shop_desk: Book, enter: Enter, data: str) -> None:
    client = enter(INSPECTOR)
    file = SimpleUploadedFile("deep.toml", data.encode())
    assert sent(client, SHELF, KEEP, kind="gauge", described="", file=file).status_code == 422
    file.seek(0)
    assert client.post("/blades/B-0101/look/", {"handed": file}).status_code == 422


@pytest.mark.parametrize("serial", STRANGE)
def test_a_serial_of_strange_letters_has_its_page(shop_desk: Book, enter: Enter, serial: str) -> None:
    client = enter(MAKER)
    answer = sent(client, "/blades/new/", "/blades/new/start/", serial=serial, drawing="FM-31\tA")
    assert answer.status_code == 303
    place = answer.headers["Location"]
    assert place.count("/") == 3, "a name is one part of an address"
    for page in (place, f"{place}flight/", "/", "/blades/", "/sets/", "/coupons/"):
        assert client.get(page).status_code == 200, page
    found = client.get("/find/", {"text": serial})
    assert (found.status_code, found.headers["Location"]) == (302, place)


@pytest.mark.parametrize("day", ["05/06/2026", "05/28/2026", "28/05/2026", "05/28/26", "May 28 2026", "28 May 2026"])
def test_month_and_day_are_never_guessed(shop_desk: Book, enter: Enter, day: str) -> None:
    lot = {"lot": "F-70", "material": "film-epoxy", "maker": "Mill", "maker_lot": "L-900"}
    answer = sent(enter(RECEIVER), "/materials/receive/", "/materials/receive/enter/", **lot, expires_on=day)
    assert answer.status_code == 422
    assert all(line.lot != "F-70" for line in all_lots())


@pytest.mark.parametrize("form", [form for form in subclasses(BaseForm) if form.__module__.startswith("bladewright.")])
def test_no_form_reads_a_day_in_more_than_one_way(form: type[BaseForm]) -> None:
    for name, field in form.base_fields.items():
        if isinstance(field, DateField):
            assert list(field.input_formats) == ["%Y-%m-%d"], name
