"""A cure on file at the desk: whoever is signed in sees each rule, its place on the chart and what a fault took."""

import re
import time
from pathlib import Path
from typing import Any

import pytest
from django.test import Client

from bladewright.records.cures import filed_cures
from bladewright.records.evidence import file_cure
from bladewright.records.judging import judge
from bladewright.records.opening import Book
from bladewright.records.shop_files import keep_shop_file
from examples.fennmark.evidence import Evidence
from tests.records.cast import INSPECTOR, MAKER, MATCHER, by
from tests.records.conftest import SERIALS
from tests.web.conftest import Enter


@pytest.fixture(name="lost")
def _lost(shop_desk: Book, files: Evidence) -> str:
    """The address of a run in which zone 4's sensor was lost, of two blades; a good one is on file beside it."""
    file_cure(by(MAKER), SERIALS[:1], files.blades[0].cure, files.logger)
    filed = file_cure(by(MAKER), SERIALS[1:3], files.blades[1].cure, files.logger)
    return f"/oven/runs/{filed.sha256}/"


EXAMPLE = Path(__file__).parents[2] / "examples" / "fennmark"
pytestmark = pytest.mark.usefixtures("shop_desk")


def text_of(client: Client, address: str) -> str:
    answer = client.get(address)
    assert answer.status_code == 200, answer.content.decode()
    return answer.content.decode()


def until_done(client: Client, address: str) -> str:
    for _ in range(600):
        text = text_of(client, address)
        if "hx-get=" not in text:
            return text
        time.sleep(0.1)
    raise AssertionError("never worked out")


@pytest.mark.usefixtures("lost")
def test_the_oven_lists_its_cures_with_what_the_verdicts_say(enter: Enter) -> None:
    client = enter(MATCHER)
    text = text_of(client, "/oven/")
    assert text.count("not judged since it was filed") == 2
    judge(by(INSPECTOR), SERIALS[0])
    text = text_of(client, "/oven/")
    assert text.count("not judged since it was filed") == 1
    assert f"/blades/{SERIALS[2]}/" in text
    only = text_of(client, f"/oven/?asked={SERIALS[2]}")
    assert only.count('<th scope="row">') == 1
    assert "written out whole" in text_of(client, "/oven/?asked=nobody")


def test_each_finding_stands_with_its_rule_limit_source_and_place(lost: str, enter: Enter) -> None:
    text = text_of(enter(MATCHER), lost)
    assert "cure: mould sensors" in text
    assert "Mould 4" in text
    assert "Limit: " in text
    assert "FP-7" in text  # the limits' source
    first = text.index("cure: ")
    assert text.index("cure: mould sensors") - first < text.index("cure: overshoot") - first  # the worst first
    assert re.search(r'data-finding="\d+" data-from="101.0" data-until="184.0"', text)
    assert "The log shows the tool, not the bondline." in text


def test_the_chart_has_the_findings_numbers_and_a_close_look(lost: str, enter: Enter) -> None:
    client = enter(MATCHER)
    page = text_of(client, lost)
    found = re.search(r'data-finding="(\d+)" data-from="101.0"', page)
    assert found is not None
    chart = client.get(f"{lost}chart/").json()
    assert {"data", "layout"} <= set(chart)
    noted = [note["text"] for note in chart["layout"]["annotations"]]
    assert f"▼{found.group(1)}" in noted
    close = client.get(f"{lost}chart/?look_at={found.group(1)}").json()
    assert close["layout"]["xaxis"]["range"] == [91.0, 194.0]
    assert "range" not in chart["layout"]["xaxis"]
    assert "range" not in client.get(f"{lost}chart/?look_at=999999999999").json()["layout"]["xaxis"]


def test_the_chart_is_in_the_persons_own_units(lost: str, enter: Enter) -> None:
    client = enter(MATCHER)
    assert "°C" in client.get(f"{lost}chart/").json()["layout"]["yaxis"]["title"]["text"]
    client.post("/preferences/", {"system": "inch", "theme": "", "back": "/oven/"})
    assert "°F" in client.get(f"{lost}chart/").json()["layout"]["yaxis"]["title"]["text"]


def test_the_whole_log_is_there_to_be_printed(lost: str, enter: Enter) -> None:
    answer = enter(MATCHER).get(f"{lost}picture/")
    assert answer.headers["Content-Type"] == "image/svg+xml"
    assert answer.content.rstrip().endswith(b"</svg>")


def test_what_it_took_is_one_step_away_and_never_takes_back_a_finding(lost: str, enter: Enter) -> None:
    client = enter(MATCHER)
    assert f'href="{lost}cost/"' in text_of(client, lost)
    text = until_done(client, f"{lost}cost/")
    assert "What would settle it" in text
    assert "Who decides" in text
    assert "A fault is never reckoned away" in text
    assert "Unvalidated data" in text  # the invented film's kinetics have no source
    begun = time.perf_counter()
    text_of(client, f"{lost}cost/")
    assert time.perf_counter() - begun < 0.5  # kept, not worked out anew


def test_the_plan_is_laid_beside_once_it_is_worked_out(lost: str, enter: Enter) -> None:
    client = enter(MATCHER)
    for _ in range(600):
        text = text_of(client, lost)
        if "being worked out" not in text:
            break
        time.sleep(0.1)
    assert "From the beginning of heat" in text
    names = {trace["name"] for trace in client.get(f"{lost}chart/").json()["data"]}
    assert "as planned" in names


@pytest.mark.parametrize("part", ["", "chart/", "picture/", "cost/"])
def test_a_hash_that_is_no_cure_is_not_found(enter: Enter, part: str) -> None:
    assert enter(MATCHER).get(f"/oven/runs/{'0' * 64}/{part}").status_code == 404


@pytest.mark.parametrize("part", ["", "chart/", "picture/", "cost/"])
def test_nobody_looks_who_is_not_signed_in(lost: str, part: str) -> None:
    assert Client().get(f"{lost}{part}").status_code == 401
    assert Client().get("/oven/").status_code == 401


@pytest.mark.parametrize("part", ["", "chart/", "picture/", "cost/"])
def test_nothing_is_sent_to_a_page_that_only_shows(lost: str, enter: Enter, part: str) -> None:
    answer: Any = enter(MAKER).post(f"{lost}{part}")
    assert answer.status_code == 405


def test_an_empty_book_says_how_a_cure_gets_there(enter: Enter) -> None:
    text = text_of(enter(MATCHER), "/oven/")
    assert filed_cures().lines == ()
    assert "one log, one run" in text
    assert "--logs FOLDER" in text


def test_whether_the_oven_was_fit_that_day_stands_beside_the_rules(
    lost: str, files: Evidence, enter: Enter, tmp_path: Path
) -> None:
    client = enter(MATCHER)
    assert "nothing shows that its survey" in text_of(client, lost)
    oven = tmp_path / "oven.toml"
    oven.write_bytes((EXAMPLE / "oven.toml").read_bytes())
    keep_shop_file(by(INSPECTOR), "oven", oven, files.logger)
    text = text_of(client, lost)
    assert "Surveyed on 2026-01-26" in text
    assert "Never calibrated, as far as is entered" in text
    assert "Do not cure in it on 2026-05-04" in text_of(client, "/oven/")
