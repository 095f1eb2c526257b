"""Two questions of the oven, asked at the desk by whoever is signed in: zone 4 died; a thermocouple reads off."""

import time

import pytest
from django.test import Client

from bladewright.records.evidence import file_cure
from bladewright.records.opening import Book
from examples.fennmark.evidence import Evidence
from tests.records.cast import MAKER, MATCHER, by
from tests.records.conftest import SERIALS
from tests.web.conftest import Enter

pytestmark = pytest.mark.usefixtures("shop_desk")

FAULT = "/oven/fault/?zone=4&dead_after=40+min"
SENSOR = "/oven/sensor/?sensor=Mould+2&off=4+degC&last_good=2026-01-01"


@pytest.fixture(name="filed")
def _filed(shop_desk: Book, files: Evidence) -> Book:
    """Two runs on file, the second of two blades."""
    file_cure(by(MAKER), SERIALS[:1], files.blades[0].cure, files.logger)
    file_cure(by(MAKER), SERIALS[1:3], files.blades[1].cure, files.logger)
    return shop_desk


def until_done(client: Client, address: str) -> str:
    for _ in range(600):
        answer = client.get(address)
        assert answer.status_code == 200, answer.content.decode()
        if "hx-get=" not in answer.content.decode():
            return answer.content.decode()
        time.sleep(0.1)
    raise AssertionError("never worked out")


def test_zone_4_died_40_min_into_the_dwell(enter: Enter) -> None:
    text = until_done(enter(MATCHER), FAULT)
    assert "Zone 4&#x27;s heater died 40 min into the dwell." in text
    assert "What would settle it" in text
    assert "a named person with design authority who did not make the part" in text.lower()
    assert "No inspection method measures bond strength." in text


@pytest.mark.parametrize(
    ("asked", "words"),
    [
        ("zone=4", "what the zone did is not said"),
        ("dead_after=40+min", "which zone it was is not said"),
        ("zone=4&dead_after=40", "has no unit"),
        ("zone=4&dead_after=9+h", "is after the dwell"),
        ("zone=9&dead_after=40+min", "less than or equal to 6"),
        ("zone=4&low=3", "has no unit"),
        ("zone=&dead_after=", "nothing went wrong"),
    ],
)
def test_a_fault_told_wrong_is_answered_beside_its_entry(
    enter: Enter,
    asked: str,
    words: str,
) -> None:
    text = until_done(enter(MATCHER), f"/oven/fault/?{asked}")
    assert words in text
    assert 'role="alert"' in text
    assert "What would settle it" not in text


@pytest.mark.usefixtures("filed")
def test_a_thermocouple_4_c_off_reaches_runs_and_changes_verdicts(enter: Enter) -> None:
    text = until_done(enter(MATCHER), SENSOR)
    assert "2 runs since 2026-01-01 may have been judged by it" in text
    assert f"/blades/{SERIALS[0]}/" in text
    assert "None gets better by this" in text
    assert "/oven/runs/" in text


@pytest.mark.usefixtures("filed")
def test_nobody_knows_which_way_so_both_are_reviewed(enter: Enter) -> None:
    text = until_done(enter(MATCHER), SENSOR.replace("4+degC", "%2B/-+4+degC"))
    assert "7.2 degF) high" in text
    assert "7.2 degF) low" in text


@pytest.mark.usefixtures("filed")
def test_a_cure_filed_since_is_reviewed_too(enter: Enter, files: Evidence) -> None:
    client = enter(MATCHER)
    assert "2 runs" in until_done(client, SENSOR)
    file_cure(by(MAKER), SERIALS[3:4], files.blades[2].cure, files.logger)
    assert "3 runs" in until_done(client, SENSOR)


@pytest.mark.parametrize(
    ("asked", "words"),
    [
        ("sensor=Mould+2&off=4", "has no unit"),
        ("sensor=Mould+2&off=4+degC&channel=Mould+9", "is a channel of none of these logs"),
        ("sensor=Mould+2&off=4+degC&last_good=2026-05-01&found=2026-04-01", "is after the day it was found off"),
        ("sensor=&off=4+degC", "required"),
        ("sensor=Mould+2&off=4+degC&last_good=yesterday", "year-month-day"),
    ],
)
@pytest.mark.usefixtures("filed")
def test_a_sensor_told_wrong_is_answered_beside_its_entry(
    enter: Enter,
    asked: str,
    words: str,
) -> None:
    text = until_done(enter(MATCHER), f"/oven/sensor/?{asked}")
    assert words in text
    assert 'role="alert"' in text


def test_without_a_question_the_pages_say_how_to_ask(enter: Enter) -> None:
    client = enter(MATCHER)
    assert "zone 4, its heater died" in client.get("/oven/fault/").content.decode()
    assert "Nobody knows when it went off" in client.get("/oven/sensor/").content.decode()


@pytest.mark.parametrize("address", [FAULT, SENSOR])
def test_nobody_asks_who_is_not_signed_in(address: str) -> None:
    assert Client().get(address).status_code == 401


@pytest.mark.parametrize("address", ["/oven/fault/", "/oven/sensor/"])
def test_nothing_is_sent_to_a_question(enter: Enter, address: str) -> None:
    assert enter(MAKER).post(address).status_code == 405
