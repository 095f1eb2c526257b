"""The drawing's page in a real browser: sliders, errors beside entries, a draft to its approval, without a script."""

import urllib.request
from collections.abc import Callable, Iterator
from pathlib import Path
from typing import Any

import pytest
from axe_playwright_python.sync_playwright import Axe
from playwright.sync_api import Browser, Page, expect

from tests.records.cast import APPROVER, DRAUGHTSMAN, MAKER
from tests.records.conftest import copied
from tests.web.conftest import SECRET, Served, with_secrets

SignIn = Callable[[str], Page]
BUSY = 90_000  # [ms] the machine may have other work
LOOKING = Path(__file__).with_name("looking.js").read_text(encoding="utf-8").split("\n", 1)[1].strip()


@pytest.fixture(scope="module", name="served")
def _served(shop_folder: Path, tmp_path_factory: pytest.TempPathFactory) -> Iterator[Served]:
    """An approved drawing, served."""
    folder = copied(shop_folder, tmp_path_factory.mktemp("drawn") / "book")
    with_secrets(folder)
    desk = Served(folder, at="2026-05-04T09:00+01:00")
    with urllib.request.urlopen(f"{desk.address}/enter/", timeout=BUSY / 1e3):
        pass  # the first page waits for the engine to be read, which a busy machine takes its time over
    yield desk
    desk.stop()


def opened(page: Page, served: Served, address: str = "/drawings/FM-31/A/") -> Page:
    page.set_default_timeout(BUSY)
    page.goto(served.address + address)
    page.wait_for_selector("table.answered")
    return page


def ask(page: Page, question: str) -> Any:
    return page.evaluate(f"({LOOKING}).{question}()")


def test_an_entry_typed_or_slid_is_answered_without_leaving_the_page(served: Served, sign_in: SignIn) -> None:
    page = opened(sign_in(MAKER), served)
    page.evaluate("window.stayed = true")
    page.get_by_label("tip weight's mass", exact=True).fill("0.95 kg")
    page.keyboard.press("Tab")
    expect(page.get_by_text("With 1 change, against revision A, released.")).to_be_visible(timeout=BUSY)
    page.locator("input[type=range][data-for='spar-web_place']").press("ArrowRight")
    expect(page.locator("#spar-web_place")).to_have_value("26.5 %")
    expect(page.get_by_text("With 2 changes, against revision A, released.")).to_be_visible(timeout=BUSY)
    assert "tip_weight.mass=0.95" in page.url
    assert page.evaluate("window.stayed")
    assert "File the draft" not in page.content()  # who makes does not draw


def test_a_value_without_its_unit_is_said_beside_its_entry(served: Served, sign_in: SignIn) -> None:
    page = opened(sign_in(MAKER), served)
    entry = page.get_by_label("reflex of the finished blade", exact=True)
    entry.fill("2.3")
    entry.press("Tab")
    expect(page.locator("#wrong-reflex-angle")).to_contain_text("has no unit", timeout=BUSY)
    expect(page.locator("table.answered")).to_have_count(0)
    entry.fill("2.0 deg")
    entry.press("Tab")
    expect(page.locator("#wrong-reflex-angle")).to_be_empty(timeout=BUSY)
    expect(page.locator("table.answered").first).to_be_visible(timeout=BUSY)


def test_what_the_pilot_feels_of_an_off_batch_is_two_steps_from_the_first_page(served: Served, sign_in: SignIn) -> None:
    page = sign_in(MAKER)
    page.set_default_timeout(BUSY)
    page.get_by_role("link", name="Drawings").click()
    page.get_by_role("button", name="Show what it does").click()
    expect(page.get_by_role("heading", name="Which blades may fly together")).to_be_visible(timeout=BUSY)
    expect(page.get_by_text("the lever gets lighter by").first).to_be_visible()


@pytest.mark.parametrize("address", ["/drawings/", "/drawings/FM-31/A/", "/drawings/FM-31/A/departure/?off=0.3+deg"])
def test_nothing_serious_nothing_cut_off_and_big_enough(served: Served, sign_in: SignIn, address: str) -> None:
    page = sign_in(DRAUGHTSMAN)
    page.set_default_timeout(BUSY)
    page.goto(served.address + address)
    page.wait_for_load_state("networkidle", timeout=BUSY)
    found = Axe().run(page).response["violations"]
    assert [(one["id"], one["nodes"][0]["html"]) for one in found if one["impact"] in ("serious", "critical")] == []
    assert ask(page, "tooSmall") == []
    for width in (320, 768, 3840):
        page.set_viewport_size({"width": width, "height": 900})
        assert ask(page, "tooWide") <= 0, width


def test_without_a_script_a_change_is_tried_filed_and_then_approved_by_another(
    served: Served, sign_in: SignIn, chromium: Browser
) -> None:
    context = chromium.new_context(java_script_enabled=False)
    page = context.new_page()
    page.set_default_timeout(BUSY)
    page.goto(f"{served.address}/enter/")
    page.get_by_label("Your name").fill(DRAUGHTSMAN)
    page.get_by_label("Your secret").fill(SECRET)
    page.get_by_role("button", name="Sign in").click()
    page.goto(f"{served.address}/drawings/FM-31/A/")
    page.get_by_label("tip weight's mass", exact=True).fill("0.93 kg")
    page.get_by_role("button", name="Work it out").click()
    expect(page.get_by_text("With 1 change, against revision A, released.")).to_be_visible(timeout=BUSY)
    page.get_by_label("Its revision").fill("B")
    page.get_by_label("Why, in a sentence").fill("more inertia for the flare")
    page.get_by_role("button", name="File the draft").click()
    expect(page.get_by_role("heading", name="FM-31 revision B draft")).to_be_visible()
    context.close()

    other = sign_in(APPROVER)
    other.set_default_timeout(BUSY)
    other.goto(f"{served.address}/drawings/FM-31/B/")
    expect(other.get_by_text("more inertia for the flare").first).to_be_visible()
    other.get_by_label("Your secret, to sign").fill(SECRET)
    other.get_by_role("button", name="Approve this revision").click()
    expect(other.get_by_role("heading", name="FM-31 revision B released")).to_be_visible(timeout=BUSY)
