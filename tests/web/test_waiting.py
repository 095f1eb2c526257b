"""The first page: what waits, for whom, and where each line leads; no script is needed to read it."""

import re
from collections.abc import Callable

import pytest
from axe_playwright_python.sync_playwright import Axe
from playwright.sync_api import Page

from bladewright.records.opening import Book
from tests.records.cast import ENGINEER, INSPECTOR, MAKER, OFFICE, RECEIVER
from tests.records.conftest import SERIALS
from tests.web.conftest import Enter

SignIn = Callable[[str], Page]


def text_of(page: str) -> str:
    """What a page says, without its marks."""
    return " ".join(re.sub(r"<[^>]+>", " ", page).split())


@pytest.mark.usefixtures("shop_desk")
def test_everybody_who_is_signed_in_sees_all_that_waits(enter: Enter) -> None:
    for name in (MAKER, INSPECTOR, ENGINEER, OFFICE):
        told = text_of(enter(name).get("/").content.decode())
        assert "Blades short of a proof (6)" in told
        assert all(serial in told for serial in SERIALS)


@pytest.mark.usefixtures("shop_desk")
def test_each_sees_first_what_they_may_do(enter: Enter) -> None:
    maker = text_of(enter(MAKER).get("/").content.decode())
    assert "First for you: File the material lots" in maker
    engineer = text_of(enter(ENGINEER).get("/").content.decode())
    assert "First for you" not in engineer
    nothing = text_of(enter(ENGINEER).get("/?for=me").content.decode())
    assert "Nothing waits for you" in nothing
    assert not any(serial in nothing for serial in SERIALS)


@pytest.mark.usefixtures("shop_desk")
def test_what_the_shop_has_not_on_file_is_said(enter: Enter) -> None:
    told = text_of(enter(RECEIVER).get("/").content.decode())
    assert "Not on file yet: oven, calibration, counting rule, adhesive roll, gauge." in told


def test_a_file_that_cannot_be_read_does_not_take_the_page_away(full_desk: Book, enter: Enter) -> None:
    for address in ("/", "/shelf/", "/materials/", "/blades/", "/materials/lots/R-1/"):
        answer = enter(MAKER).get(address)
        assert answer.status_code == 200, address
    assert "Files nobody can read any more" in enter(MAKER).get("/").content.decode()


def test_lines_lead_to_what_they_are_about(sign_in: SignIn) -> None:
    page = sign_in("Wenda Harkthwaite")
    page.get_by_role("link", name="caliper C-9").click()
    page.wait_for_url("**/shelf/")
    page.goto(page.url.replace("/shelf/", "/?for=me"))
    assert page.get_by_role("heading", name="Gauges not to be used").is_visible()


@pytest.mark.parametrize(
    "address", ["/", "/blades/", "/materials/", "/materials/lots/R-124/", "/materials/receive/", "/shelf/"]
)
def test_nobody_is_shut_out_of_the_pages(sign_in: SignIn, address: str) -> None:
    page = sign_in("Osbrey Quillinder")
    home = page.url.rstrip("/")
    page.goto(home + address)
    found = Axe().run(page)
    serious = [one["id"] for one in found.response["violations"] if one["impact"] in ("serious", "critical")]
    assert not serious
    page.set_viewport_size({"width": 320, "height": 640})
    assert page.evaluate("document.documentElement.scrollWidth") <= 320
    page.keyboard.press("Tab")
    assert page.evaluate("document.activeElement.textContent") == "To the page itself"
