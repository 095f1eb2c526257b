"""A formed set through its trim weight, its release, its papers and onto an aircraft: who may, and what stops it."""

from collections.abc import Callable
from pathlib import Path

import pytest

from bladewright.records.about_sets import about_set
from bladewright.records.evidence import sign
from bladewright.records.judging import judge
from bladewright.records.opening import Book
from bladewright.records.reweighing import weigh_again
from bladewright.records.sets import form_set, sign_out
from examples.fennmark.evidence import Evidence
from tests.records.cast import AT, INSPECTOR, MAKER, MATCHER, RELEASER, by, everybody_but
from tests.records.conftest import signed_at, weighed_again
from tests.records.finished import FOUR, ONE, THREE, TWO, finish
from tests.web.conftest import SECRET, Enter, sent
from tests.web.finished_desk import finished_desk

PAGE = "/sets/S-1/"
WHY = "looked at one by one"


@pytest.fixture(name="desk", autouse=True)
def _desk(desk_of: Callable[[Path], Book], shop_folder: Path, files: Evidence, monkeypatch: pytest.MonkeyPatch) -> Book:
    book = finished_desk(desk_of, shop_folder, files, monkeypatch, (ONE, TWO, THREE))
    form_set(by(MATCHER, WHY), "S-1", [ONE, TWO])
    return book


def trimmed(folder: Path) -> None:
    for serial in (ONE, TWO):
        weigh_again(by(MAKER), "S-1", weighed_again(folder, serial, 0.012, 0.04))
        judge(by(INSPECTOR), serial)


def test_the_next_action_stands_on_top_for_whoever_looks(enter: Enter) -> None:
    text = enter(INSPECTOR).get(PAGE).content.decode()
    assert "weigh it again against the master and hand in the weighing" in text
    assert "Not weighed again yet" in text
    assert "Sign out" not in text.replace("not signed out", "")


def test_a_maker_hands_in_the_weighing_and_an_inspector_judges_again(enter: Enter, tmp_path: Path) -> None:
    with weighed_again(tmp_path, TWO, 0.012, 0.04).open("rb") as file:
        answer = sent(enter(MAKER), PAGE, f"{PAGE}weigh/", file=file)
    assert answer.status_code == 303
    assert about_set("S-1").stops == (f"{TWO}: judge it again",)
    assert sent(enter(INSPECTOR), PAGE, f"{PAGE}judge/{TWO}/").status_code == 303
    assert about_set("S-1").stops == ()


def test_a_weighing_of_another_blade_is_refused_beside_its_entry(enter: Enter, tmp_path: Path) -> None:
    with weighed_again(tmp_path, THREE, 0.012, 0.04).open("rb") as file:
        answer = sent(enter(MAKER), PAGE, f"{PAGE}weigh/", file=file)
    assert answer.status_code == 422
    text = answer.content.decode()
    assert 'class="field has-error"' in text
    assert f"{ONE} or {TWO}" in text


def test_a_releaser_signs_out_with_their_secret(enter: Enter, tmp_path: Path) -> None:
    trimmed(tmp_path)
    client = enter(RELEASER)
    assert sent(client, PAGE, f"{PAGE}sign-out/", secret="not mine").status_code == 403
    assert about_set("S-1").signed_out_at is None
    assert sent(client, PAGE, f"{PAGE}sign-out/", secret=SECRET).status_code == 303
    assert about_set("S-1").line.signed_out_by == RELEASER


def test_nobody_else_signs_out_and_nobody_is_offered_it(enter: Enter, tmp_path: Path) -> None:
    trimmed(tmp_path)
    for who in everybody_but(RELEASER, "Nobody Known"):
        client = enter(who)
        assert f'action="{PAGE}sign-out/"' not in client.get(PAGE).content.decode()
        assert client.post(f"{PAGE}sign-out/", {"secret": SECRET, "once": who}).status_code == 403
    assert about_set("S-1").signed_out_at is None


def test_a_page_older_than_new_evidence_signs_nothing_out(enter: Enter, tmp_path: Path) -> None:
    trimmed(tmp_path)
    client = enter(RELEASER)
    shown = about_set("S-1").mark
    sign(by(INSPECTOR), signed_at(tmp_path, ONE))
    told = {"secret": SECRET, "once": "a form of before", "mark": shown, "seen": 10**6}
    answer = client.post(f"{PAGE}sign-out/", told)
    assert answer.status_code == 422
    assert "evidence was filed since the verdict" in answer.content.decode()
    assert about_set("S-1").signed_out_at is None


def test_the_papers_are_a_pdf_named_after_the_set(enter: Enter, desk: Book) -> None:
    answer = enter(MAKER).get(f"{PAGE}paper.pdf")
    assert answer.headers["Content-Type"] == "application/pdf"
    assert answer.content.startswith(b"%PDF")
    assert 'filename="set S-1' in answer.headers["Content-Disposition"]
    (kept,) = (desk.folder / "papers").glob("*.pdf")
    assert kept.read_bytes() == answer.content


def test_a_set_goes_on_an_aircraft_and_comes_off(enter: Enter, tmp_path: Path) -> None:
    trimmed(tmp_path)
    sign_out(by(RELEASER), "S-1")
    client, day = enter(RELEASER), AT.date().isoformat()
    assert sent(client, PAGE, f"{PAGE}install/", aircraft="X-AAAA", on=day).status_code == 404  # nobody knows it yet
    assert sent(client, PAGE, f"{PAGE}owner/", name="Corvane Flying School", contact="hangar 2").status_code == 303
    answer = sent(client, PAGE, f"{PAGE}aircraft/", mark="X-AAAA", owner="Corvane Flying School")
    assert answer.status_code == 303
    assert 'value="X-AAAA"' in client.get(PAGE).content.decode()
    assert sent(client, PAGE, f"{PAGE}install/", aircraft="X-AAAA", on=day).status_code == 303
    assert "It flies on X-AAAA" in client.get(PAGE).content.decode()
    assert sent(client, PAGE, f"{PAGE}remove/", on=day, reason="hard landing").status_code == 303
    assert about_set("S-1").line.aircraft == ""


@pytest.mark.parametrize("action", ["install", "remove", "owner", "aircraft"])
def test_only_a_releaser_says_where_it_flies(enter: Enter, action: str) -> None:
    for who in everybody_but(RELEASER, "Nobody Known"):
        assert enter(who).post(f"{PAGE}{action}/", {}).status_code == 403


def test_a_set_nobody_formed_is_not_found(enter: Enter) -> None:
    assert enter(MAKER).get("/sets/S-9/").status_code == 404


def test_a_name_with_a_stroke_in_it_leads_to_its_page(enter: Enter, files: Evidence) -> None:
    finish(files, [FOUR])
    form_set(by(MATCHER, WHY), "2026/7 spare", [THREE, FOUR])
    client = enter(MAKER)
    assert 'href="/sets/2026/7%20spare/"' in client.get("/sets/").content.decode()
    assert "Set 2026/7 spare" in client.get("/sets/2026/7%20spare/").content.decode()
