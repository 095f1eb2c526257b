"""The blade's page in a real browser: dropped, looked at, signed, filed and judged; by keyboard; on a narrow tablet."""

from collections.abc import Callable
from pathlib import Path

import pytest
from axe_playwright_python.sync_playwright import Axe
from playwright.sync_api import Page

from tests.web.conftest import SECRET, Served

SignIn = Callable[[str], Page]
INSPECTOR, MAKER, DESIGNER = "Wenda Harkthwaite", "Tolvan Merrabeck", "Ansel Vorrimoor"
MAP = """
format = 1
serial = "FM31-0113"
found_by = "Wenda Harkthwaite"
found_on = 2026-04-20
method = "tapped on a grid of 6 mm"
uncertainty = "1 mm"
[[looked_at]]
bondline = "spar to top skin"
inner = "0.25 m"
outer = "3.55 m"
[[voids]]
bondline = "spar to top skin"
station = "3.195 m"
chordwise = "20 %"
along = "40 mm"
across = "12 mm"
"""


def serious(page: Page) -> list[str]:
    found = Axe().run(page).response["violations"]
    return [
        f"{one['id']}: {one['nodes'][0]['html'][:120]}" for one in found if one["impact"] in ("serious", "critical")
    ]


@pytest.mark.parametrize("address", ["/blades/FM31-0110/", "/blades/FM31-0113/void-map/", "/blades/new/"])
def test_axe_finds_nothing_serious_and_nothing_runs_over_the_edge(
    served: Served, sign_in: SignIn, address: str
) -> None:
    page = sign_in(INSPECTOR)
    page.goto(served.address + address)
    assert serious(page) == []
    for width in (320, 360, 768, 3840):
        page.set_viewport_size({"width": width, "height": 900})
        assert page.evaluate("document.documentElement.scrollWidth") <= width, f"{address} at {width}"


def test_a_map_is_dropped_looked_at_signed_filed_and_judged(served: Served, sign_in: SignIn, tmp_path: Path) -> None:
    path = tmp_path / "map.toml"
    path.write_text(MAP, encoding="utf-8")
    page = sign_in(INSPECTOR)
    page.goto(f"{served.address}/blades/FM31-0113/")
    page.get_by_label("Files from the floor").set_input_files(path)
    page.get_by_role("button", name="Look at it first").click()
    page.get_by_text("outside: out of service until a named person decides").first.wait_for()
    assert serious(page) == []
    page.get_by_label("Your secret, to sign").fill(SECRET)
    page.get_by_role("button", name="Sign and file it").click()
    page.get_by_text("Filed: void map").wait_for()
    page.get_by_role("button", name="Judge the blade again").click()
    page.get_by_text("Judged: rejected").wait_for()
    drawn = page.get_by_role("group", name="FM-31 seen from above")
    assert drawn.locator("rect.void.fail").count() == 1
    assert drawn.locator("polygon.gap").count() > 0
    drawn.get_by_role("link").first.focus()
    page.keyboard.press("Enter")
    page.wait_for_url("**#void-1")
    assert serious(page) == []


def test_a_deviation_by_keyboard_alone(served: Served, sign_in: SignIn) -> None:
    page = sign_in(DESIGNER)
    page.goto(f"{served.address}/blades/FM31-0111/")
    opened = page.get_by_text("Accept a finding under a deviation")
    if opened.count() == 0:
        pytest.skip("this blade of the invented batch has no finding a person may accept")
    opened.focus()
    page.keyboard.press("Enter")
    page.get_by_label("Why it is accepted all the same").focus()
    page.keyboard.type("Faster by a tenth in one zone; the film's maker allows it.")
    page.get_by_label("Your secret, to sign").focus()
    page.keyboard.type(SECRET)
    page.keyboard.press("Enter")
    page.get_by_text("is accepted. Judge the blade again").wait_for()
    page.get_by_text("This verdict is out of date.").wait_for()


def test_a_person_without_the_right_is_offered_nothing_and_told_whom_to_ask(served: Served, sign_in: SignIn) -> None:
    page = sign_in(MAKER)
    page.goto(f"{served.address}/blades/FM31-0109/")
    page.get_by_text("rejected").first.wait_for()
    assert page.get_by_role("button", name="Judge").count() == 0
    assert page.get_by_text("Accept a finding under a deviation").count() == 0
    assert page.get_by_text("Who may accept a finding").count() == 1


def test_what_a_form_holds_survives_a_wrong_secret(served: Served, sign_in: SignIn) -> None:
    page = sign_in(INSPECTOR)
    page.goto(f"{served.address}/blades/FM31-0109/?sign=retained+coupon#sign")
    page.get_by_label("conforms", exact=True).check()
    page.get_by_label("Statement").fill("Labelled and kept in rack 4.")
    page.get_by_label("Your secret, to sign").fill("not the one at all")
    page.get_by_role("button", name="Sign it").click()
    page.locator("#id_secret_error").wait_for()
    assert page.get_by_label("Statement").input_value() == "Labelled and kept in rack 4."
    assert page.get_by_label("Your secret, to sign").input_value() == ""
