"""Owners, aircraft, putting a set on and taking it off."""

import datetime
from collections.abc import Callable

import pytest

from bladewright.errors import BadInput, MissingInput, NotAuthorised
from bladewright.records.ownership import add_aircraft, add_owner, install, remove
from bladewright.records.ready import models
from bladewright.records.trace import where_lot
from tests.records.cast import AT, RELEASER, by, everybody_but

LATER = AT.date()
DAY = LATER - datetime.timedelta(days=40)
pytestmark = [pytest.mark.book, pytest.mark.usefixtures("batch")]


@pytest.fixture(autouse=True)
def _two_sets(signed_out_set: Callable[..., None]) -> None:
    signed_out_set("S-1", "B-0101", "B-0102", lot="L-1")
    signed_out_set("S-2", "B-0103", "B-0104", lot="L-2")
    add_owner(by(RELEASER), "Corvane Flying School", "hangar 2, Fennmark field")
    add_owner(by(RELEASER), "Tressil Survey", "telephone 1")
    add_aircraft(by(RELEASER), "X-AAAA", "Corvane Flying School")
    add_aircraft(by(RELEASER), "X-BBBB", "Tressil Survey")


def test_a_set_is_traced_to_whoever_has_it_now() -> None:
    install(by(RELEASER), "S-1", "X-AAAA", DAY)
    place = where_lot("L-1").places[0]
    assert (place.aircraft, place.owner, place.contact) == (
        "X-AAAA",
        "Corvane Flying School",
        "hangar 2, Fennmark field",
    )
    add_aircraft(by(RELEASER), "X-AAAA", "Tressil Survey")
    assert where_lot("L-1").places[0].owner == "Tressil Survey"
    remove(by(RELEASER), "S-1", LATER)
    place = where_lot("L-1").places[0]
    assert (place.set_name, place.signed_out, place.aircraft, place.owner) == ("S-1", True, "", "")


def test_only_who_releases_may() -> None:
    before = models.Event.objects.count()
    for who in everybody_but(RELEASER):
        for call in (
            lambda who=who: add_owner(by(who), "Another", "telephone 2"),
            lambda who=who: add_aircraft(by(who), "X-CCCC", "Tressil Survey"),
            lambda who=who: install(by(who), "S-1", "X-AAAA", DAY),
            lambda who=who: remove(by(who), "S-1", DAY),
        ):
            with pytest.raises(NotAuthorised):
                call()
    assert models.Event.objects.count() == before


def test_twice_is_once() -> None:
    assert add_owner(by(RELEASER), "Tressil Survey", "telephone 1").already
    assert add_aircraft(by(RELEASER), "X-BBBB", "Tressil Survey").already
    assert [install(by(RELEASER), "S-1", "X-AAAA", DAY).already for _ in range(2)] == [False, True]
    assert [remove(by(RELEASER), "S-1", LATER).already for _ in range(2)] == [False, True]


def test_one_aircraft_carries_one_set_and_a_set_flies_on_one() -> None:
    install(by(RELEASER), "S-1", "X-AAAA", DAY)
    for name, mark in (("S-1", "X-BBBB"), ("S-2", "X-AAAA")):
        with pytest.raises(BadInput) as caught:
            install(by(RELEASER), name, mark, LATER)
        assert (caught.value.field, caught.value.value) == ("aircraft", mark)
    remove(by(RELEASER), "S-1", LATER)
    assert not install(by(RELEASER), "S-2", "X-AAAA", LATER).already


def test_a_set_comes_off_after_it_went_on_and_once() -> None:
    with pytest.raises(MissingInput) as never:
        remove(by(RELEASER), "S-1", DAY)
    assert never.value.field == "set"
    install(by(RELEASER), "S-1", "X-AAAA", DAY)
    with pytest.raises(BadInput) as early:
        remove(by(RELEASER), "S-1", DAY - datetime.timedelta(days=1))
    assert early.value.field == "on"
    remove(by(RELEASER), "S-1", LATER)
    with pytest.raises(BadInput) as again:
        remove(by(RELEASER), "S-1", LATER - datetime.timedelta(days=1))
    assert again.value.field == "on"


@pytest.mark.usefixtures("unreleased_set")
def test_a_set_nobody_signed_out_is_on_no_aircraft() -> None:
    with pytest.raises(BadInput) as caught:
        install(by(RELEASER), "S-3", "X-AAAA", DAY)
    assert (caught.value.field, caught.value.value) == ("set", "S-3")


def test_what_is_not_in_the_book_is_named() -> None:
    for call, field in (
        (lambda: add_aircraft(by(RELEASER), "X-CCCC", "Nobody"), "owner"),
        (lambda: install(by(RELEASER), "S-1", "X-ZZZZ", DAY), "aircraft"),
        (lambda: install(by(RELEASER), "S-9", "X-AAAA", DAY), "set"),
    ):
        with pytest.raises(MissingInput) as caught:
            call()
        assert caught.value.field == field
    with pytest.raises(BadInput) as unreachable:
        add_owner(by(RELEASER), "Another", " ")
    assert unreachable.value.field == "contact"
    with pytest.raises(BadInput) as other:
        add_owner(by(RELEASER), "Tressil Survey", "telephone 9")
    assert other.value.allowed == "telephone 1"
