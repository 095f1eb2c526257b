"""A void map typed row by row: looked at, signed, filed, drawn; and Question 6 answered on the blade's page."""

import re
from typing import Any

import pytest
from django.test import Client

from bladewright.records.blades import about
from bladewright.records.judging import judge
from bladewright.records.opening import Book
from tests.records.cast import INSPECTOR, MAKER, by, everybody_but
from tests.web.conftest import SECRET, Enter

SERIAL = "B-0101"
PAGE, LOOK = f"/blades/{SERIAL}/void-map/", f"/blades/{SERIAL}/void-map/look/"
FILE = f"/blades/{SERIAL}/sign-and-file/"
WHOLE = {f"looked_at.{n}.whole": "on" for n in range(1, 6)}
ABOUT = {"method": "tapped on a grid of 1 in", "found_on": "2026-05-01", "uncertainty": "1 mm", "rows": "4"}
VOID = {
    "voids.2.bondline": "spar to top skin",
    "voids.2.station": "0.9R",
    "voids.2.chordwise": "20 %",
    "voids.2.along": "40 mm",
    "voids.2.across": "12 mm",
}


def filed(client: Client, answer: Any, secret: str = SECRET) -> Any:
    form = re.search(rf'<form[^>]*action="{FILE}"[^>]*>(.*?)</form>', answer.content.decode(), re.S)
    assert form is not None, answer.content.decode()
    told = dict(re.findall(r'<input type="hidden" name="([^"]+)" value="([^"]*)"', form.group(1)))
    return client.post(FILE, told | {"secret": secret})


def test_question_six_from_the_form_to_the_verdict(shop_desk: Book, enter: Enter) -> None:
    client = enter(INSPECTOR)
    looked = client.post(LOOK, ABOUT | WHOLE | VOID)
    assert looked.status_code == 200
    assert "outside: out of service until a named person decides" in looked.content.decode()
    assert about(SERIAL).evidence == ()
    assert filed(client, looked).status_code == 303
    judge(by(INSPECTOR), SERIAL)
    text = client.get(f"/blades/{SERIAL}/").content.decode()
    assert "rejected" in text
    assert 'class="void fail"' in text
    assert 'href="#void-1"' in text
    assert "3.195 m" in text
    assert "0.900 R" in text
    assert "Fennmark damage chart FD-2, invented" in text
    assert "nothing: all of it was looked at" in text


def test_none_found_is_said_and_what_nobody_looked_at_is_shown(shop_desk: Book, enter: Enter) -> None:
    client = enter(INSPECTOR)
    part = {"looked_at.1.inner": "0.25 m", "looked_at.1.outer": "3 m", "none_found": "on"}
    assert filed(client, client.post(LOOK, ABOUT | part)).status_code == 303
    text = client.get(f"/blades/{SERIAL}/").content.decode()
    assert "No void was found where it was looked." in text
    assert "3.00 m to 3.55 m" in text
    assert 'class="gap"' in text


@pytest.mark.parametrize(
    ("entries", "entry"),
    [
        (VOID | {"voids.2.along": "40"}, "voids.2.along"),
        (VOID | {"voids.2.along": ""}, "voids.2.along"),
        (VOID | {"voids.2.station": "4 m"}, "voids.2.station"),
        (VOID | {"voids.2.station": "xR"}, "voids.2.station"),
        (VOID | {"voids.2.chordwise": "130 %"}, "voids.2.chordwise"),
        (VOID | {"voids.2.bondline": "keel"}, "voids.2.bondline"),
        (VOID | {"uncertainty": "some"}, "uncertainty"),
        (VOID | {"method": ""}, "method"),
        (VOID | {"found_on": "2027-05-01"}, "found_on"),
        (VOID | {"none_found": "on"}, "none_found"),
        ({}, "none_found"),
        (VOID | {"looked_at.3.inner": "0.3 m"}, "looked_at.3.whole"),
    ],
)
def test_what_is_wrong_stands_beside_its_entry(
    shop_desk: Book,
    enter: Enter,
    entries: dict[str, str],
    entry: str,
) -> None:
    answer = enter(INSPECTOR).post(LOOK, ABOUT | WHOLE | entries)
    assert answer.status_code == 422
    text = answer.content.decode()
    beside = re.search(rf'name="{re.escape(entry)}"[^>]*>(?:(?!class="field).)*role="alert"', text, re.S)
    assert beside is not None
    assert text.count('role="alert"') == 1
    for name, value in entries.items():
        assert name in text
        if name.startswith("voids") and "bondline" not in name and value:
            assert f'value="{value}"' in text, "what was typed stays"


def test_more_rows_keep_what_was_typed(shop_desk: Book, enter: Enter) -> None:
    text = enter(INSPECTOR).post(LOOK, ABOUT | VOID | {"more": "1"}).content.decode()
    assert 'name="voids.8.along"' in text
    assert 'value="40 mm"' in text
    assert 'role="alert"' not in text


@pytest.mark.parametrize("who", [name for name in everybody_but(INSPECTOR) if name != "Nobody Known"])
def test_only_who_inspects_maps(shop_desk: Book, enter: Enter, who: str) -> None:
    client = enter(who)
    assert f'action="{LOOK}"' not in client.get(PAGE).content.decode()
    assert client.post(LOOK, ABOUT | WHOLE | VOID).status_code == 403


def test_a_wrong_secret_files_no_map(shop_desk: Book, enter: Enter) -> None:
    client = enter(INSPECTOR)
    answer = filed(client, client.post(LOOK, ABOUT | WHOLE | VOID), "not the one at all")
    assert answer.status_code == 403
    assert "What was read" in answer.content.decode(), "what was looked at is shown again"
    assert about(SERIAL).evidence == ()


def test_a_maker_sees_the_page_and_is_told_who_may(shop_desk: Book, enter: Enter) -> None:
    assert "authorised for “inspect”" in enter(MAKER).get(PAGE).content.decode()
