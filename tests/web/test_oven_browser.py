"""The oven's pages in a real browser: answers in three clicks, from a finding to its place and back, live, and loud.

Held to the same rules as every page: axe, any width, keys alone, nothing from elsewhere, no style or script in a page.
"""

import datetime
import re
import threading
from collections.abc import Iterator
from pathlib import Path

import pytest
from axe_playwright_python.sync_playwright import Axe
from playwright.sync_api import BrowserContext, Page, expect

from examples.fennmark.logging_run import HEAD, NAME, a_run, log_run
from examples.fennmark.people import MAKER
from tests.web.conftest import SECRET, Served, copied, with_secrets
from tests.web.test_every_page import RULES, SERIOUS, WIDTHS, ask, wait_for_pictures

#: the demo's clock stands on this morning; the run began an hour and a half before
BEGAN = datetime.datetime(2026, 4, 21, 6, 25)  # noqa: DTZ001 - by the wall's clock, as the logger stamps it
LINES = a_run(BEGAN)


class Oven:
    """A served desk and the folder its logger writes in."""

    def __init__(self, desk: Served, logs: Path) -> None:
        self.desk, self.logs = desk, logs

    def write(self, rows: int) -> None:
        """The log as it is after so many rows."""
        log_run(self.logs, LINES[: HEAD + rows], rows, 1.0, threading.Event())

    def append(self, first: int, last: int) -> None:
        """Some rows more."""
        with (self.logs / NAME).open("a", encoding="utf-8") as log:
            log.writelines(LINES[HEAD + first : HEAD + last])


@pytest.fixture(scope="module", name="oven")
def _oven(demo_shop: Path, tmp_path_factory: pytest.TempPathFactory) -> Iterator[Oven]:
    home = tmp_path_factory.mktemp("oven")
    folder = copied(demo_shop / "book", home / "book")
    with_secrets(folder)
    logs = home / "logger"
    logs.mkdir()
    desk = Served(folder, "--logs", str(logs))
    yield Oven(desk, logs)
    desk.stop()


@pytest.fixture(name="page")
def _page(oven: Oven, tablet: BrowserContext) -> Iterator[Page]:
    """The first page of the desk, somebody who makes blades signed in; nothing may leave the machine or break."""
    oven.write(80)
    wrong: list[str] = []
    page = tablet.new_page()
    inside = (oven.desk.address, "data:", "blob:")
    page.on("request", lambda asked: None if asked.url.startswith(inside) else wrong.append(asked.url))
    page.on("pageerror", lambda error: wrong.append(str(error)))
    page.on("console", lambda said: wrong.append(said.text) if "Content Security Policy" in said.text else None)
    page.goto(f"{oven.desk.address}/enter/")
    page.get_by_label("Your name").fill(MAKER)
    page.get_by_label("Your secret").fill(SECRET)
    page.get_by_role("button", name="Sign in").click()
    page.wait_for_url(f"{oven.desk.address}/")
    yield page
    assert wrong == []


def to_the_lost_zone(page: Page) -> None:
    page.get_by_role("link", name="Oven", exact=True).click()
    page.get_by_role("link", name="run-072.csv").click()


def test_zone_4_died_is_the_blade_cured_in_three_clicks(page: Page) -> None:
    to_the_lost_zone(page)
    page.get_by_role("link", name="Is the blade cured, and what would settle it?").click()
    expect(page.get_by_role("heading", name="What would settle it")).to_be_visible(timeout=60_000)
    expect(page.get_by_text("Who decides:")).to_be_visible()
    expect(page.get_by_text("No inspection method measures bond strength.")).to_be_visible()


def test_a_thermocouple_reads_4_c_off_in_three_clicks(page: Page) -> None:
    page.get_by_role("link", name="Oven", exact=True).click()
    page.get_by_role("link", name="A sensor was found off").click()
    page.get_by_label("Which sensor").fill("Mould 2")
    page.get_by_label("It read too much by").fill("4 degC")
    page.get_by_label("Last known good on").fill("2026-03-25")
    page.get_by_role("button", name="Look through the cures on file").click()
    expect(page.get_by_role("heading", name="may have been judged by it")).to_be_visible(timeout=60_000)
    expect(page.get_by_text("None gets better by this")).to_be_visible()
    expect(page.locator("tr.loud").first).to_contain_text("fail")


def test_from_a_finding_to_its_place_and_back_by_keys_alone(page: Page) -> None:
    to_the_lost_zone(page)
    page.wait_for_selector(".log .js-plotly-plot")
    whole = page.evaluate("document.querySelector('.log .plot').layout.xaxis.range")
    place = page.get_by_role("link", name="Show 2 on the chart")
    place.focus()
    page.keyboard.press("Enter")
    page.wait_for_function("() => document.querySelector('.log .plot').layout.xaxis.range[0] > 80")
    close = page.evaluate("document.querySelector('.log .plot').layout.xaxis.range")
    assert close == [91.0, 194.0]
    assert close != whole
    expect(page.locator("#finding-2")).to_have_class(re.compile("shown"))
    page.keyboard.press("Escape")
    assert page.evaluate("document.activeElement.dataset.show") == "2"


def test_a_mark_on_the_chart_leads_to_its_finding_even_among_those_that_pass(page: Page) -> None:
    to_the_lost_zone(page)
    page.wait_for_selector(".log .js-plotly-plot")
    assert not page.locator("#passed").evaluate("folded => folded.open")
    page.evaluate("document.querySelector('.log .plot').emit('plotly_click', {points: [{customdata: 10}]})")
    assert page.locator("#passed").evaluate("folded => folded.open")
    assert page.evaluate("document.activeElement.id") == "finding-10"


def test_without_a_script_the_same_link_shows_the_place(oven: Oven, chromium: object) -> None:
    context = chromium.new_context(java_script_enabled=False)  # type: ignore[attr-defined]
    page = context.new_page()
    page.goto(f"{oven.desk.address}/enter/")
    page.get_by_label("Your name").fill(MAKER)
    page.get_by_label("Your secret").fill(SECRET)
    page.get_by_role("button", name="Sign in").click()
    to_the_lost_zone(page)
    expect(page.get_by_role("img", name="Cure log over")).to_be_visible()
    page.goto(f"{oven.desk.address}/oven/growing/{NAME}/")
    expect(page.get_by_role("heading", name="Clocks")).to_be_visible()
    expect(page.get_by_role("img", name="The log so far")).to_be_visible()
    context.close()


def test_the_page_of_what_runs_goes_on_by_itself_and_is_loud_when_it_cannot(page: Page, oven: Oven) -> None:
    page.goto(f"{oven.desk.address}/oven/growing/{NAME}/")
    expect(page.get_by_role("heading", name="In the dwell")).to_be_visible()
    page.wait_for_selector(".log .js-plotly-plot")
    oven.append(80, 120)
    expect(page.get_by_role("heading", name="Dwell broken off")).to_be_visible(timeout=60_000)
    expect(page.locator("#zones")).to_contain_text("no reading since")
    first = "document.querySelector('.log .plot').data.find((one) => one.name === 'Mould 1')"
    page.wait_for_function(f"() => {first}.x.length === 120")
    page.context.set_offline(True)
    expect(page.get_by_text("nobody is watching the oven through this page now")).to_be_visible(timeout=30_000)
    page.context.set_offline(False)
    expect(page.locator("#stale")).to_be_hidden(timeout=30_000)
    page.context.clear_cookies()
    expect(page.get_by_text("You are no longer signed in")).to_be_visible(timeout=30_000)


def test_the_oven_s_pages_are_held_to_what_every_page_is(page: Page, oven: Oven) -> None:
    to_the_lost_zone(page)
    run = page.url
    addresses = [f"{oven.desk.address}{part}" for part in ("/oven/", "/oven/sensor/", f"/oven/growing/{NAME}/")]
    addresses += [run, f"{run}cost/", f"{oven.desk.address}/oven/fault/?zone=4&dead_after=40+min"]
    for address in addresses:
        page.goto(address)
        wait_for_pictures_but_not_for_ever(page)
        found = [one for one in Axe().run(page, options=RULES).response["violations"] if one["impact"] in SERIOUS]
        assert [(one["id"], [node["html"][:160] for node in one["nodes"]][:3]) for one in found] == [], address
        assert ask(page, "tooSmall") == [], address
        for width in WIDTHS:
            page.set_viewport_size({"width": width, "height": 900})
            assert ask(page, "tooWide") <= 0, (address, width)
        page.set_viewport_size({"width": 1280, "height": 900})


def wait_for_pictures_but_not_for_ever(page: Page) -> None:
    """A page that asks again every few seconds is never quite still."""
    if "/growing/" in page.url:
        page.wait_for_selector(".log .js-plotly-plot")
    else:
        page.wait_for_function("() => !document.querySelector('#answer[hx-get], #plan[hx-get]')", timeout=60_000)
        wait_for_pictures(page)
