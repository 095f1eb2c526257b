"""Each page of the desk in a real browser: nothing serious for axe, nothing cut off from 320 px to 4K, keys alone.

The rules are those of axe-core tagged WCAG 2.1 A and AA; a page is held to them in light and in dark.
"""

import re
from collections.abc import Callable
from pathlib import Path
from typing import Any, Literal

import pytest
from axe_playwright_python.sync_playwright import Axe
from playwright.sync_api import Page

from examples.fennmark.people import OFFICE
from tests.web.conftest import Served

SignIn = Callable[[str], Page]
Light = Literal["light", "dark"]
#: every kind of page once; what is in a name comes from the invented season
PAGES = ("/", "/find/", "/find/?text=FM31", "/nowhere/", "/programs/1/")
WIDTHS = (320, 768, 1280, 3840)
SERIOUS = ("serious", "critical")
LOOKING = Path(__file__).with_name("looking.js").read_text(encoding="utf-8").split("\n", 1)[1].strip()
RULES = {"runOnly": ["wcag2a", "wcag2aa", "wcag21a", "wcag21aa"]}


def wait_for_pictures(page: Page) -> None:
    """Charts are drawn after the page stands."""
    page.wait_for_load_state("networkidle")


def ask(page: Page, question: str) -> Any:
    """One of the questions of looking.js, asked of the page."""
    return page.evaluate(f"({LOOKING}).{question}()")


@pytest.mark.parametrize("address", PAGES)
@pytest.mark.parametrize("light", ["light", "dark"])
def test_axe_finds_nothing_serious(
    sign_in: SignIn, served: Served, address: str, light: Literal["light", "dark"]
) -> None:
    page = sign_in(OFFICE)
    page.emulate_media(color_scheme=light)
    page.goto(served.address + address)
    wait_for_pictures(page)
    found = [one for one in Axe().run(page, options=RULES).response["violations"] if one["impact"] in SERIOUS]
    assert [(one["id"], one["help"], [node["html"][:160] for node in one["nodes"]][:3]) for one in found] == []


@pytest.mark.parametrize("address", PAGES)
def test_nothing_is_cut_off_at_any_width(sign_in: SignIn, served: Served, address: str) -> None:
    page = sign_in(OFFICE)
    for width in WIDTHS:
        page.set_viewport_size({"width": width, "height": 900})
        page.goto(served.address + address)
        wait_for_pictures(page)
        over = ask(page, "tooWide")
        assert over <= 0, f"{address} is {over} px too wide at {width} px"


@pytest.mark.parametrize("address", PAGES)
def test_what_is_touched_is_big_enough(sign_in: SignIn, served: Served, address: str) -> None:
    """44 px, as WCAG 2.1 asks of targets at level AAA (2.5.5, from memory); links in running text are excepted."""
    page = sign_in(OFFICE)
    page.goto(served.address + address)
    assert ask(page, "tooSmall") == []


@pytest.mark.parametrize("address", PAGES)
def test_keys_alone_reach_everything_and_show_where_they_are(sign_in: SignIn, served: Served, address: str) -> None:
    page = sign_in(OFFICE)
    page.goto(served.address + address)
    wait_for_pictures(page)
    wanted = ask(page, "toReach")
    reached = set()
    for _ in range(wanted + 15):
        page.keyboard.press("Tab")
        name, ring, told = ask(page, "where")
        if name is not None:
            reached.add(name)
            assert ring, f"no ring around {told}"
    assert len(reached) == wanted, f"{wanted - len(reached)} of {wanted} cannot be reached by Tab on {address}"


def test_each_page_prints_without_buttons(sign_in: SignIn, served: Served) -> None:
    page = sign_in(OFFICE)
    page.emulate_media(media="print")
    for address in PAGES:
        page.goto(served.address + address)
        assert ask(page, "onPaper") == 0, address


def test_no_page_has_script_or_style_in_it(sign_in: SignIn, served: Served) -> None:
    page = sign_in(OFFICE)
    for address in PAGES:
        text = page.request.get(served.address + address).text()
        assert not re.search(r"<script(?![^>]*\bsrc=)[^>]*>|<style|\sstyle=|\son\w+=", text), address
