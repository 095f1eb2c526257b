"""Tracing at the desk: whoever is in may look; owners to tell stand first, and a serial leads back to all of it."""

import pytest
from django.db import connection
from django.test.utils import CaptureQueriesContext

from bladewright.records.opening import Book
from tests.records.cast import MAKER, MATCHER
from tests.web.conftest import Enter

OFFICE = "Brona Lindlesk"
OWNER = "Harrow Vale Flying School (invented)"


@pytest.mark.parametrize("name", [MAKER, MATCHER])
def test_without_a_name_the_page_says_what_may_be_asked(shop_desk: Book, enter: Enter, name: str) -> None:
    text = enter(name).get("/trace/").content.decode()
    assert "a gauge, a rig or a logger" in text


def test_where_is_roll_r_118_flying_now(demo_desk: Book, enter: Enter) -> None:
    text = enter(OFFICE).get("/trace/?of=R-118").content.decode()
    told, where = text.split('id="places"')
    assert OWNER in told
    assert "hangar 2, Harrow Vale" in told
    assert "FV-001" in told
    assert "on no aircraft by the book, so somebody has them" in told
    assert "FM31-0110" in told
    assert [f"FM31-01{number:02}" in where for number in range(7, 13)] == [True] * 5 + [False]


@pytest.mark.parametrize(
    ("of", "serial"),
    [
        ("BF-20931", "FM31-0111"),
        ("run-074.csv", "FM31-0110"),
        ("caliper C-9", "FM31-0116"),
        ("moment rig W-1", "FM31-0107"),
        ("blade oven logger", "FM31-0113"),
        ("Isca Pellowdrake", "FM31-0108"),
        ("FM-31", "FM31-0109"),
        ("FM-31 revision A", "FM31-0109"),
        ("FV-001", "FM31-0112"),
        ("0107+0112", "FM31-0112"),
        (OWNER, "FM31-0107"),
        ("R-118.txt", "FM31-0107"),
    ],
)
def test_every_kind_of_name_leads_to_serials(demo_desk: Book, enter: Enter, of: str, serial: str) -> None:
    text = enter(OFFICE).get("/trace/", {"of": of}).content.decode()
    assert serial in text


def test_a_serial_leads_back_to_all_it_rests_on(demo_desk: Book, enter: Enter) -> None:
    text = enter(OFFICE).get("/trace/?of=FM31-0107").content.decode()
    for beneath in (
        "R-118",
        "BF-20931",
        "run-071.csv",
        "caliper C-9",
        "Tolvan Merrabeck",
        "FV-001",
        "FM31-0112",
        "pull.toml",
    ):
        assert beneath in text


def test_a_name_nobody_knows_is_said_and_is_no_proof(demo_desk: Book, enter: Enter) -> None:
    text = enter(OFFICE).get("/trace/?of=R-404").content.decode()
    assert "That is no proof that it went nowhere" in text
    assert "R-118" in enter(OFFICE).get("/trace/?of=R-1").content.decode()


def test_a_name_with_marks_of_a_page_in_it_is_shown_as_a_name(demo_desk: Book, enter: Enter) -> None:
    text = enter(OFFICE).get("/trace/", {"of": '"><script>x</script>'}).content.decode()
    assert "<script>x" not in text


def test_a_trace_asks_a_constant_number_of_times(demo_desk: Book, enter: Enter) -> None:
    client = enter(OFFICE)

    def asked(of: str) -> int:
        with CaptureQueriesContext(connection) as queries:
            client.get("/trace/", {"of": of})
        return len(queries)

    assert asked("R-118") == asked("B-019"), "five blades and ten"
    assert asked("FM31-0107") == asked("FM31-0112")
