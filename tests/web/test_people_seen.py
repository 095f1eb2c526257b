"""The pages about people in a real browser: letting somebody in, choosing one's own secret, a key shown once."""

from collections.abc import Callable
from typing import Any

import pytest
from axe_playwright_python.sync_playwright import Axe
from playwright.sync_api import BrowserContext, Page

from examples.fennmark import people as staff
from tests.web.conftest import SECRET, Served

NEW, FIRST, OWN = "Teague Ollerenby", "seven grey geese", "a lathe in the rain"
SignIn = Callable[[str], Page]


def test_somebody_new_is_let_in_and_chooses_their_own_secret(
    served: Served, sign_in: SignIn, tablet: BrowserContext
) -> None:
    page = sign_in(staff.OFFICE)
    page.goto(f"{served.address}/people/")
    page.get_by_label("Name").fill(NEW)
    page.get_by_role("button", name="Enter them in the book").click()
    page.get_by_role("heading", name=NEW).wait_for()
    page.get_by_label("For which work").select_option("cure")
    page.get_by_label("Your secret, to sign").first.fill("not the one at all")
    page.get_by_role("button", name="Authorise").click()
    page.get_by_text("this name and this secret do not go together").wait_for()
    assert page.get_by_label("For which work").input_value() == "cure"  # what was typed is still there
    page.get_by_label("Your secret, to sign").first.fill(SECRET)
    page.get_by_role("button", name="Authorise").click()
    page.get_by_text(f'{NEW} may do "cure" from 2026-05-28').wait_for()
    page.get_by_label("A first secret for them").fill(FIRST)
    page.locator("#secret_form_secret").fill(SECRET)
    page.get_by_role("button", name="Give it").click()
    page.get_by_text("They choose their own before they sign anything").wait_for()

    tablet.clear_cookies()
    page.goto(f"{served.address}/enter/")
    page.get_by_label("Your name").fill(NEW)
    page.get_by_label("Your secret").fill(FIRST)
    page.get_by_role("button", name="Sign in").click()
    page.wait_for_url(f"{served.address}/own/")
    page.get_by_text(f"{staff.OFFICE} chose the one you have").wait_for()
    page.get_by_label("Your secret now").fill(FIRST)
    page.get_by_label("Your new secret").fill(OWN)
    page.get_by_label("The new one once more").fill(OWN)
    page.get_by_role("button", name="Change it").click()
    page.get_by_text("Your new secret holds").wait_for()


def test_without_javascript_it_is_the_same(served: Served, chromium: Any) -> None:
    plain = chromium.new_context(java_script_enabled=False)
    page = plain.new_page()
    page.goto(f"{served.address}/enter/")
    page.get_by_label("Your name").fill(staff.MAKER)
    page.get_by_label("Your secret").fill(SECRET)
    page.get_by_role("button", name="Sign in").click()
    page.goto(f"{served.address}/own/")
    page.get_by_text("Make a key for a program").click()
    page.get_by_label("Which program, on which computer").fill("plain logger")
    page.get_by_label("read verdicts and evidence").check()
    page.get_by_label("Its last day").fill("2026-06-30")
    page.get_by_label("Your secret, to sign").fill(SECRET)
    page.get_by_role("button", name="Make the key").click()
    assert len(page.get_by_label("The key").input_value()) >= 43
    plain.close()


def test_a_key_is_shown_once(served: Served, sign_in: SignIn) -> None:
    page = sign_in(staff.MAKER)
    page.goto(f"{served.address}/own/")
    page.get_by_text("Make a key for a program").click()
    page.get_by_label("Which program, on which computer").fill("oven logger")
    page.get_by_label("read verdicts and evidence").check()
    page.get_by_label("Its last day").fill("2026-06-30")
    page.get_by_label("Your secret, to sign").fill(SECRET)
    page.get_by_role("button", name="Make the key").click()
    key = page.get_by_label("The key").input_value()
    assert len(key) >= 43
    page.get_by_role("link", name="I have copied it").click()
    page.wait_for_url(f"{served.address}/own/")
    assert key not in page.content()
    assert "oven logger" in page.content()


@pytest.mark.parametrize("width", [320, 1280, 3840])
def test_the_pages_fit_and_axe_finds_nothing_serious(served: Served, sign_in: SignIn, width: int) -> None:
    page = sign_in(staff.OFFICE)
    page.set_viewport_size({"width": width, "height": 900})
    for address in ("/people/", f"/people/of/{staff.MAKER}/", "/own/"):
        page.goto(served.address + address)
        assert page.evaluate("document.documentElement.scrollWidth") <= width, address
        found = Axe().run(page).response["violations"]
        assert [one["id"] for one in found if one["impact"] in ("serious", "critical")] == [], address


def test_the_keyboard_alone_is_enough(served: Served, sign_in: SignIn) -> None:
    page = sign_in(staff.OFFICE)
    page.goto(f"{served.address}/people/of/{staff.SECOND_MAKER}/")
    page.get_by_label("For which work").focus()
    page.keyboard.type("cure")
    for _ in range(12):  # past each part of the two days
        page.keyboard.press("Tab")
        if page.evaluate("document.activeElement.name") == "secret":
            break
    page.keyboard.type(SECRET)
    page.keyboard.press("Enter")
    page.get_by_text(f'{staff.SECOND_MAKER} may do "cure"').wait_for()
