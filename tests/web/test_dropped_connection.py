"""A tablet that loses its connection: nothing typed is lost, nothing entered twice, and nobody signs from afar."""

from collections.abc import Callable

import pytest
from django.db import connections
from playwright.sync_api import Page, Route, expect

from bladewright.records.opening import open_book
from bladewright.records.ready import models
from examples.fennmark.people import INSPECTOR, RECEIVER
from tests.web.conftest import SECRET, Served

SignIn = Callable[[str], Page]
RECEIVE = "/materials/receive/"


@pytest.fixture(name="received")
def _received(served: Served) -> Callable[[str], int]:
    """How often a lot of this name was entered."""

    def received(lot: str) -> int:
        open_book(served.book, write=False)
        try:
            return models.Event.objects.filter(kind="lot received", subject=lot).count()
        finally:
            connections.close_all()

    return received


def fill(page: Page, served: Served, lot: str) -> None:
    page.goto(served.address + RECEIVE)
    page.get_by_label("The shop's name for it").fill(lot)
    page.get_by_label("Material, as the drawing calls it").fill("film-epoxy")


def test_an_entry_made_without_a_connection_is_entered_once_it_is_back(
    sign_in: SignIn, served: Served, received: Callable[[str], int]
) -> None:
    page = sign_in(RECEIVER)
    fill(page, served, "OFF-1")
    page.context.set_offline(True)
    page.locator("form.entry button").click()
    banner = page.locator("#line")
    expect(banner).to_contain_text("cannot be reached")
    expect(banner).to_contain_text("not in the book yet")
    assert received("OFF-1") == 0
    page.context.set_offline(False)
    expect(page.get_by_role("heading", level=1)).to_contain_text("OFF-1", timeout=15_000)
    expect(banner).to_be_hidden()
    assert received("OFF-1") == 1


def test_an_answer_lost_on_the_way_enters_nothing_twice(
    sign_in: SignIn, served: Served, received: Callable[[str], int]
) -> None:
    page = sign_in(RECEIVER)
    fill(page, served, "OFF-2")

    def written_but_not_answered(route: Route) -> None:
        route.fetch()
        route.abort()

    page.route("**/receive/enter/", written_but_not_answered, times=1)
    page.locator("form.entry button").click()
    expect(page.locator("#line")).to_contain_text("not in the book yet")
    assert received("OFF-2") == 1
    page.get_by_role("button", name="Send it now").click()
    expect(page.get_by_role("status").filter(has_text="entered twice")).to_be_visible()
    assert received("OFF-2") == 1


def test_signing_waits_for_its_person(sign_in: SignIn, served: Served) -> None:
    page = sign_in(INSPECTOR)
    page.goto(f"{served.address}/blades/FM31-0130/")
    button = page.get_by_role("button", name="Sign it")
    expect(button).to_be_enabled()
    page.context.set_offline(True)
    expect(button).to_be_disabled()
    expect(page.locator("#line")).to_contain_text("signing has to wait")
    page.context.set_offline(False)
    expect(button).to_be_enabled()


def test_a_session_that_ends_keeps_what_was_typed(
    sign_in: SignIn, served: Served, received: Callable[[str], int]
) -> None:
    page = sign_in(RECEIVER)
    fill(page, served, "OFF-3")
    page.context.clear_cookies(name="desk")
    page.locator("form.entry button").click()
    expect(page.get_by_text("What you typed is kept")).to_be_visible()
    page.get_by_label("Your name").fill(RECEIVER)
    page.get_by_label("Your secret").fill(SECRET)
    page.get_by_role("button", name="Sign in").click()
    expect(page.get_by_role("heading", name="Send what was typed before?")).to_be_visible()
    page.get_by_role("button", name="Send it").click()
    expect(page.get_by_role("heading", level=1)).to_contain_text("OFF-3")
    assert received("OFF-3") == 1


def test_a_page_loaded_again_gives_back_what_was_typed_in_it(sign_in: SignIn, served: Served) -> None:
    page = sign_in(RECEIVER)
    fill(page, served, "OFF-4")
    page.reload()
    expect(page.get_by_label("The shop's name for it")).to_have_value("OFF-4")
    expect(page.get_by_text("is back; it has not been entered")).to_be_visible()


def test_without_script_the_same_form_enters_the_same(
    served: Served, chromium: object, received: Callable[[str], int]
) -> None:
    context = chromium.new_context(java_script_enabled=False)  # type: ignore[attr-defined]
    page = context.new_page()
    page.goto(f"{served.address}/enter/?back={RECEIVE}")
    page.get_by_label("Your name").fill(RECEIVER)
    page.get_by_label("Your secret").fill(SECRET)
    page.get_by_role("button", name="Sign in").click()
    fill(page, served, "OFF-5")
    page.locator("form.entry button").click()
    expect(page.get_by_role("heading", level=1)).to_contain_text("OFF-5")
    assert received("OFF-5") == 1
    context.close()


def test_what_a_scanner_types_leads_to_what_it_scanned(sign_in: SignIn, served: Served) -> None:
    page = sign_in(INSPECTOR)
    page.goto(f"{served.address}/people/")
    page.wait_for_load_state("networkidle")
    page.keyboard.type("FM31-0110;1a2b3c4d5e6f;accepted;0f1e2d3c4b5a", delay=5)
    page.keyboard.press("Enter")
    page.wait_for_url("**/blades/FM31-0110/")
