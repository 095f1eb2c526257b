"""Five of the shop's questions, each answered on the desk within three clicks from the first page."""

import re
from collections.abc import Callable

from playwright.sync_api import Locator, Page, expect

from examples.fennmark.people import OFFICE
from tests.web.conftest import Served

SignIn = Callable[[str], Page]
LONG = 90_000  # [ms] for what is worked out beside the page


class Clicks:
    """Counts them."""

    def __init__(self, page: Page) -> None:
        self.page, self.count = page, 0

    def on(self, place: Locator) -> None:
        """One click more, and never a fourth."""
        self.count += 1
        assert self.count <= 3
        place.click()
        self.page.wait_for_load_state()

    def to(self, words: str) -> None:
        """A place at the top of the page."""
        self.on(self.page.get_by_label("Places of the desk").get_by_role("link", name=words, exact=True))


def test_what_a_batch_with_more_reflex_does_to_the_hand(sign_in: SignIn, served: Served) -> None:
    page = sign_in(OFFICE)
    clicks = Clicks(page)
    clicks.to("Drawings")
    clicks.on(page.get_by_role("link", name=re.compile("FM-31")).first)
    page.get_by_label("Off the drawing by").fill("0.3 deg")
    clicks.on(page.get_by_role("button", name="Show what it does in flight"))
    expect(page.get_by_text("In short")).to_be_visible(timeout=LONG)
    expect(page.get_by_role("main")).to_contain_text("the lever gets lighter", timeout=LONG)
    expect(page.get_by_role("main")).to_contain_text("Which blades may fly together")


def test_what_a_dead_heater_took_and_what_would_settle_it(sign_in: SignIn, served: Served) -> None:
    page = sign_in(OFFICE)
    clicks = Clicks(page)
    clicks.to("Oven")
    clicks.on(page.get_by_role("link", name=re.compile("A heater, the power")))
    page.get_by_label("Zone", exact=False).first.fill("4")
    page.get_by_label("Its heater died this long into the dwell").fill("40 min")
    clicks.on(page.get_by_role("button", name="Work it out"))
    expect(page.get_by_role("main")).to_contain_text("Not proven", timeout=LONG)
    expect(page.get_by_role("main")).to_contain_text("second dwell", timeout=LONG)


def test_where_a_roll_flies_now(sign_in: SignIn, served: Served) -> None:
    page = sign_in(OFFICE)
    clicks = Clicks(page)
    clicks.to("Trace")
    page.get_by_label("What to trace").fill("R-118")
    clicks.on(page.get_by_role("button", name="Trace", exact=True))
    expect(page.get_by_role("table").first).to_contain_text("FV-001")


def test_which_sets_eleven_finished_blades_make_and_what_is_left_over(sign_in: SignIn, served: Served) -> None:
    page = sign_in(OFFICE)
    clicks = Clicks(page)
    clicks.on(page.get_by_role("link", name=re.compile("11 blades of FM-31")).first)
    expect(page.get_by_role("heading", name=re.compile("The best sets"))).to_be_visible(timeout=LONG)
    expect(page.get_by_role("main")).to_contain_text("11 finished blades make 5 sets, and 1 is left over", timeout=LONG)
    expect(page.get_by_role("main")).to_contain_text("FM31-0126", timeout=LONG)


def test_which_cures_a_thermocouple_found_off_reaches(sign_in: SignIn, served: Served) -> None:
    page = sign_in(OFFICE)
    clicks = Clicks(page)
    clicks.to("Oven")
    clicks.on(page.get_by_role("link", name=re.compile("A sensor was found off")))
    page.get_by_label("Which sensor").fill("Mould 2")
    page.get_by_label("It read too much by").fill("4 K")
    page.get_by_label("Last known good on").fill("2026-03-25")
    clicks.on(page.get_by_role("button", name="Look through the cures on file"))
    expect(page.get_by_text("Serials whose verdict gets worse")).to_be_visible(timeout=LONG)
