"""The sets in a browser: dragged, by keyboard, on a small screen, without script; one is released."""

from collections.abc import Callable, Iterator
from pathlib import Path

import pytest
from axe_playwright_python.sync_playwright import Axe
from django.db import connections
from playwright.sync_api import Browser, Page, expect

from bladewright.figures import Outcome
from bladewright.records.matching_now import matching_now
from bladewright.records.opening import open_book
from examples.fennmark.evidence import Evidence
from tests.records.cast import MATCHER, RELEASER
from tests.records.conftest import copied, rules_find
from tests.records.finished import FOUR, ONE, THREE, TWO, UNWEIGHED, finish
from tests.web.conftest import SECRET, Served, with_secrets

SignIn = Callable[[str], Page]
SLOW = 60_000.0  # [ms] two blades are worked out anew from their evidence before a set is formed


@pytest.fixture(scope="module", name="served")
def _served(shop_folder: Path, files: Evidence, tmp_path_factory: pytest.TempPathFactory) -> Iterator[Served]:
    """Four finished blades that no set has, served."""
    folder = copied(shop_folder, tmp_path_factory.mktemp("served") / "book")
    with_secrets(folder)
    open_book(folder)
    with pytest.MonkeyPatch.context() as patch:
        rules_find(patch, ("cure: dwell", Outcome.PASS))
        finish(files, (ONE, TWO, THREE, FOUR, UNWEIGHED))
    matching_now()
    connections.close_all()
    desk = Served(folder, at="2026-05-04T09:00+01:00")
    yield desk
    desk.stop()


def serious(page: Page) -> list[str]:
    found = Axe().run(page).response["violations"]
    return [f"{one['id']}: {one['nodes'][0]['html']}" for one in found if one["impact"] in ("serious", "critical")]


def test_one_blade_dragged_onto_another_is_tried(served: Served, sign_in: SignIn) -> None:
    page = sign_in(MATCHER)
    page.goto(f"{served.address}/sets/")
    one, other = (page.locator(f".bench [data-serial='{serial}']").bounding_box() for serial in (ONE, THREE))
    assert one is not None
    assert other is not None
    page.mouse.move(one["x"] + 9, one["y"] + 9)
    page.mouse.down()
    page.mouse.move(other["x"] + 20, other["y"] + 12, steps=6)
    expect(page.locator(".onto")).to_have_count(1)
    page.mouse.up()
    expect(page.get_by_role("heading", name=f"Tried: {ONE} + {THREE}")).to_be_visible()
    page.wait_for_selector(".plot .main-svg")


def test_a_blade_dragged_onto_a_tried_set_makes_it_three(served: Served, sign_in: SignIn) -> None:
    page = sign_in(MATCHER)
    page.set_viewport_size({"width": 1280, "height": 5000})
    page.goto(f"{served.address}/sets/?try={ONE}&try={TWO}")
    page.wait_for_load_state("networkidle")
    box = page.locator(f".bench [data-serial='{THREE}']").bounding_box()
    onto = page.locator("#tried").bounding_box()
    assert box is not None
    assert onto is not None
    page.mouse.move(box["x"] + 9, box["y"] + 9)
    page.mouse.down()
    page.mouse.move(onto["x"] + 30, onto["y"] + 30, steps=8)
    page.mouse.up()
    expect(page.get_by_role("heading", name=f"Tried: {ONE} + {TWO} + {THREE}")).to_be_visible()


def test_a_touch_that_goes_nowhere_tries_nothing(served: Served, sign_in: SignIn) -> None:
    page = sign_in(MATCHER)
    page.goto(f"{served.address}/sets/")
    page.locator(f".bench [data-serial='{ONE}']").click()
    assert page.url == f"{served.address}/sets/"


def test_by_keyboard_alone_a_pair_is_found_and_its_form_reached(served: Served, sign_in: SignIn) -> None:
    page = sign_in(MATCHER)
    page.goto(f"{served.address}/sets/")
    cell = page.get_by_role("link", name=f"{ONE} with {TWO}:").first
    for _ in range(60):
        page.keyboard.press("Tab")
        if cell.evaluate("link => link === document.activeElement"):
            break
    page.keyboard.press("Enter")
    expect(page.get_by_role("heading", name=f"Tried: {ONE} + {TWO}")).to_be_visible()
    for _ in range(40):
        page.keyboard.press("Tab")
        if page.evaluate("document.activeElement.name") == "reason":
            break
    assert page.evaluate("document.activeElement.name") == "reason"


@pytest.mark.parametrize("width", [320, 1280, 3840])
@pytest.mark.parametrize("address", ["/sets/", f"/sets/?try={ONE}&try={TWO}"])
def test_no_page_is_wider_than_its_screen_and_none_shuts_anybody_out(
    served: Served, sign_in: SignIn, width: int, address: str
) -> None:
    page = sign_in(MATCHER)
    page.set_viewport_size({"width": width, "height": 900})
    page.goto(served.address + address)
    page.wait_for_load_state("networkidle")
    assert page.evaluate("document.documentElement.scrollWidth") <= width
    assert serious(page) == []


def test_without_script_two_blades_are_chosen_and_their_set_formed_and_signed_out(
    served: Served, chromium: Browser
) -> None:
    """0114 and 0116 are alike as they are: no trim weight, so nothing stands between forming and releasing."""
    context = chromium.new_context(java_script_enabled=False)
    page = context.new_page()
    for person in (MATCHER, RELEASER):
        page.goto(f"{served.address}/enter/")
        page.get_by_label("Your name").fill(person)
        page.get_by_label("Your secret").fill(SECRET)
        page.get_by_role("button", name="Sign in").click()
        if person == MATCHER:
            page.goto(f"{served.address}/sets/")
            page.get_by_label("Blade 1").select_option(THREE)
            page.get_by_label("Blade 2").select_option(FOUR)
            page.get_by_role("button", name="Try it").click()
            page.get_by_label("Why, in a sentence").fill("alike as they are")
            page.get_by_role("button", name="Form the set").click()
            expect(page.get_by_role("heading", name="Set 0114+0116")).to_be_visible()
            page.get_by_text(MATCHER, exact=True).first.click()
            page.get_by_role("button", name="Leave the desk on this tablet").click()
    page.goto(f"{served.address}/sets/0114+0116/")
    page.get_by_label("Your secret, to sign").fill(SECRET)
    page.get_by_role("button", name="Sign out", exact=True).click()
    expect(page.get_by_text("Set 0114+0116 is signed out")).to_be_visible(timeout=SLOW)
    context.close()


def test_the_page_of_a_set_shuts_nobody_out_and_gives_its_paper(served: Served, sign_in: SignIn) -> None:
    page = sign_in(RELEASER)
    page.goto(f"{served.address}/sets/0114+0116/")
    page.wait_for_load_state("networkidle")
    assert serious(page) == []
    page.set_viewport_size({"width": 320, "height": 900})
    assert page.evaluate("document.documentElement.scrollWidth") <= 320
    paper = page.request.get(f"{served.address}/sets/0114+0116/paper.pdf")
    assert paper.body().startswith(b"%PDF")


def test_what_is_written_meanwhile_is_seen_and_a_blade_is_never_in_two_sets(served: Served, sign_in: SignIn) -> None:
    page, other = sign_in(MATCHER), sign_in(MATCHER)
    for one in (page, other):
        one.goto(f"{served.address}/sets/?try={ONE}&try={TWO}")
        one.get_by_label("Why, in a sentence").fill("looked at together")
    other.get_by_label("Name of the set").fill("by another")
    page.get_by_role("button", name="Form the set").click()
    expect(page.get_by_role("heading", name="Set 0107+0112")).to_be_visible(timeout=SLOW)
    other.get_by_role("button", name="Form the set").click()
    expect(other.get_by_text("is in set 0107+0112 already").first).to_be_visible(timeout=SLOW)
