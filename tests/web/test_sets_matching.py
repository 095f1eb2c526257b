"""Looking at whom the finished blades fly with, trying a set, forming one: who may, and what comes of it."""

import re
from collections.abc import Callable
from pathlib import Path

import pytest
from django.db import connection
from django.test import Client
from django.test.utils import CaptureQueriesContext

from bladewright.records.evidence import file_weighing
from bladewright.records.judging import judge
from bladewright.records.opening import Book
from bladewright.records.ready import models
from bladewright.records.sets import all_sets, form_set
from examples.fennmark.evidence import Evidence
from tests.records.cast import INSPECTOR, MAKER, MATCHER, RELEASER, by, everybody_but
from tests.records.conftest import weighed_again
from tests.records.finished import FOUR, ONE, THREE, TWO, UNWEIGHED
from tests.web.conftest import Enter, sent
from tests.web.finished_desk import FREE, TRIED, finished_desk

WHY = "looked at one by one"
FORM = "/sets/-/form/"


@pytest.fixture(name="desk", autouse=True)
def _desk(desk_of: Callable[[Path], Book], shop_folder: Path, files: Evidence, monkeypatch: pytest.MonkeyPatch) -> Book:
    return finished_desk(desk_of, shop_folder, files, monkeypatch)


def text_of(client: Client, address: str) -> str:
    answer = client.get(address)
    assert answer.status_code == 200
    return str(answer.content.decode())


def test_whoever_is_signed_in_sees_every_pair_the_best_and_who_is_left(enter: Enter) -> None:
    text = text_of(enter(MAKER), "/sets/")
    for serial in FREE:
        assert f'<th scope="row"><span data-serial="{serial}">{serial}</span>' in text
    links = re.findall(r'<td class="pair [^"]*"><a href="([^"]+)" aria-label="([^"]+)"', text)
    assert len(links) == len(FREE) * (len(FREE) - 1)
    assert all(" with " in words and "mismatch" in words for _, words in links)
    assert "may not be matched: never weighed" in text
    assert UNWEIGHED in text


def test_the_words_of_a_pair_stand_in_the_page_and_not_only_its_colour(enter: Enter) -> None:
    text = text_of(enter(MAKER), "/sets/")
    cells = re.findall(r'<td class="pair [^"]*">(.*?)</td>', text, re.S)
    assert all(re.search(r'class="word">. (passes|refers|fails|cannot be judged|accepted for)', cell) for cell in cells)


def test_trying_a_set_writes_nothing_and_says_what_the_pilot_would_feel(enter: Enter) -> None:
    before = models.Event.objects.count()
    text = text_of(enter(MAKER), TRIED)
    assert "Tried: FM31-0107 + FM31-0112" in text
    assert "force on the hub once a revolution, all together" in text
    assert "What becomes of the others" in text or "one of the best sets" in text
    assert "Form the set" not in text  # a maker does not match
    assert models.Event.objects.count() == before


def test_figures_stand_in_the_units_a_person_chose(enter: Enter) -> None:
    client = enter(MAKER)
    assert re.search(r"\d N ±", text_of(client, TRIED))
    client.post("/preferences/", {"system": "inch", "theme": "", "back": "/sets/"})
    assert re.search(r"\d lbf ±", text_of(client, TRIED))


def test_who_matches_forms_a_set_once_and_goes_to_its_page(enter: Enter) -> None:
    client = enter(MATCHER)
    answer = sent(client, TRIED, FORM, name="S-1", reason=WHY)
    assert (answer.status_code, answer.headers["Location"]) == (303, "/sets/S-1/")
    (line,) = all_sets()
    assert (line.name, line.serials, line.formed_by) == ("S-1", (ONE, TWO), MATCHER)


def test_the_same_form_sent_twice_forms_one_set(enter: Enter) -> None:
    client = enter(MATCHER)
    page = text_of(client, TRIED)
    hidden = dict(re.findall(r'<input type="hidden" name="([^"]+)" value="([^"]*)"', page))
    for _ in range(2):
        assert client.post(FORM, hidden | {"name": "S-1", "reason": WHY}).status_code == 303
    assert len(all_sets()) == 1


def test_nobody_else_forms_a_set(enter: Enter) -> None:
    hidden = dict(re.findall(r'<input type="hidden" name="([^"]+)" value="([^"]*)"', text_of(enter(MATCHER), TRIED)))
    for who in everybody_but(MATCHER, "Nobody Known"):
        assert enter(who).post(FORM, hidden | {"name": "S-1", "reason": WHY}).status_code == 403
    assert all_sets() == ()


def test_a_test_that_leaves_it_to_a_person_asks_for_the_reason_beside_its_entry(enter: Enter) -> None:
    answer = sent(enter(MATCHER), TRIED, FORM, name="S-1", reason="")
    assert answer.status_code == 422
    text = answer.content.decode()
    assert re.search(r'class="field has-error">\s*<label for="id_reason"', text)
    assert 'value="S-1"' in text  # what was typed is still there
    assert all_sets() == ()


@pytest.mark.book
def test_of_two_people_with_one_blade_the_second_is_told_whose_it_is(enter: Enter) -> None:
    client = enter(MATCHER)
    page = text_of(client, "/sets/?try=FM31-0107&try=FM31-0114")
    hidden = dict(re.findall(r'<input type="hidden" name="([^"]+)" value="([^"]*)"', page))
    form_set(by(MATCHER, WHY), "S-1", [ONE, TWO])
    answer = client.post(FORM, hidden | {"name": "S-2", "reason": WHY})
    assert answer.status_code == 422
    assert "is in set S-1 already" in answer.content.decode()
    assert [line.name for line in all_sets()] == ["S-1"]


def test_a_page_older_than_a_weighing_forms_nothing_and_shows_the_new_figures(enter: Enter, tmp_path: Path) -> None:
    client = enter(MATCHER)
    page = text_of(client, TRIED)
    hidden = dict(re.findall(r'<input type="hidden" name="([^"]+)" value="([^"]*)"', page))
    file_weighing(by(MAKER), weighed_again(tmp_path, ONE, 0.020, 0.04))
    judge(by(INSPECTOR), ONE)
    answer = client.post(FORM, hidden | {"name": "S-1", "reason": WHY})
    assert answer.status_code == 409
    assert all_sets() == ()
    text = answer.content.decode()
    assert "come to something else than was shown" in text
    again = dict(re.findall(r'<input type="hidden" name="([^"]+)" value="([^"]*)"', text))
    assert again["mark"] != hidden["mark"]
    assert client.post(FORM, again | {"name": "S-1", "reason": WHY}).status_code == 303


@pytest.mark.parametrize("asked", ["try=FM31-9999&try=FM31-0107", f"try={UNWEIGHED}&try={ONE}", f"try={ONE}"])
def test_what_cannot_be_tried_is_said_on_the_page(enter: Enter, asked: str) -> None:
    text = text_of(enter(MAKER), f"/sets/?{asked}")
    assert 'class="wrong" role="alert"' in text
    assert "Every pair" in text


@pytest.mark.parametrize(
    "asked", ["size=9", "size=x", "first=-3", "drawing=no&revision=such", "sets_from=99", "first=77"]
)
def test_an_address_somebody_mistyped_shows_the_page(enter: Enter, asked: str) -> None:
    assert "Every pair" in text_of(enter(MAKER), f"/sets/?{asked}")


def test_sets_of_three_are_worked_out_too(enter: Enter) -> None:
    text = text_of(enter(MAKER), "/sets/?size=3")
    assert "The best sets of 3" in text
    assert text.count('name="try"') == 3
    assert "?size=3&amp;try=FM31-0107" in text  # a pair chosen from there stays among sets of three


def test_what_each_adds_at_the_handle_is_drawn_from_an_address(enter: Enter) -> None:
    client = enter(MAKER)
    address = "/sets/-/shares/0/?try=FM31-0107&try=FM31-0112"
    assert f'data-chart="{address.replace("&", "&amp;")}"' in text_of(client, TRIED)
    told = client.get(address).json()
    assert told["data"][0]["y"] == [ONE, TWO, "together"]
    assert client.get(address.replace("/0/", "/7/")).status_code == 404


def test_blades_not_worked_out_are_worked_out_one_by_one(enter: Enter, desk: Book) -> None:
    for kept in desk.folder.with_name(f"{desk.folder.name}.worked-out").rglob("*.json"):
        kept.unlink()
    client = enter(MAKER)
    assert "Working out what 4 blades more would do" in text_of(client, "/sets/")
    for left in (3, 2, 1, 0):
        answer = client.get("/sets/-/working/")
        assert (f"{left} blade" in answer.content.decode()) == bool(left)
        assert answer.headers.get("HX-Refresh") == (None if left else "true")
    assert FOUR in text_of(client, "/sets/")


def test_the_page_asks_no_more_of_the_book_with_more_sets(enter: Enter) -> None:
    client, asked = enter(RELEASER), []
    for name, serials in (("S-1", (ONE, TWO)), ("S-2", (THREE, FOUR))):
        form_set(by(MATCHER, WHY), name, serials)
        with CaptureQueriesContext(connection) as found:
            client.get("/sets/")
        asked.append(len(found))
    assert asked[1] <= asked[0] <= 15
