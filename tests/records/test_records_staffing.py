"""The shop's people at a glance: who may what until when, what nobody may, and what to do about it next."""

import datetime
from dataclasses import replace

import pytest
from django.db import connection
from django.test.utils import CaptureQueriesContext

from bladewright.errors import MissingInput
from bladewright.records import secrets
from bladewright.records.acts import LETS, Scope
from bladewright.records.authority import Held, State
from bladewright.records.people import add_person, all_people, authorise, withdraw
from bladewright.records.staffing import MayNow, PersonNow, about_person, may_now, next_step, people_now, staffed
from tests.records.cast import AT, INSPECTOR, MAKER, MAY, OFFICE, STRANGER, by

pytestmark = pytest.mark.book

DAY = AT.date()
ONE = datetime.timedelta(days=1)


def held(from_: int, until: int | None, scope: Scope = Scope.CURE) -> Held:
    """An authorisation that begins and ends so many days from today."""
    return Held("A", scope, DAY + from_ * ONE, None if until is None else DAY + until * ONE, "B")


@pytest.mark.parametrize(
    ("spans", "last"),
    [
        ([(-5, 3)], 3),
        ([(-5, 3), (4, 9)], 9),  # renewed in time
        ([(-5, 3), (5, 9)], 3),  # a day between
        ([(-5, 3), (-2, 8)], 8),
        ([(-5, 3), (2, None)], None),
        ([(-9, -1), (-1, 0)], 0),
    ],
)
def test_a_kind_of_work_lasts_to_the_last_day_without_a_gap(
    spans: list[tuple[int, int | None]], last: int | None
) -> None:
    """Worked by hand on a calendar; no source needed."""
    (found,) = may_now([held(*span) for span in spans], DAY)
    assert found.until == (None if last is None else DAY + last * ONE)
    assert found.soon == (last is not None)


@pytest.mark.parametrize("span", [(-9, -1), (1, None), (1, 4)])
def test_what_is_over_or_not_yet_is_not_now(span: tuple[int, int | None]) -> None:
    assert may_now([held(*span)], DAY) == ()


@pytest.mark.parametrize(("days", "soon"), [(30, True), (31, False)])
def test_an_end_is_told_a_month_before(days: int, soon: bool) -> None:
    assert may_now([held(-5, days)], DAY) == (MayNow(Scope.CURE, DAY + days * ONE, soon),)


def test_what_ran_out_before_it_was_withdrawn_is_over() -> None:
    withdrawn = replace(held(-9, -5), withdrawn_on=DAY - ONE, withdrawn_by="B")
    assert withdrawn.state(DAY) is State.OVER
    assert replace(withdrawn, until=DAY).state(DAY) is State.WITHDRAWN


@pytest.mark.usefixtures("book")
def test_everybody_with_what_they_may_in_as_many_queries_for_many_as_for_few() -> None:
    def asked() -> tuple[int, int]:
        with CaptureQueriesContext(
            connection,
        ) as first:
            people_now(DAY)
        with CaptureQueriesContext(connection) as second:
            all_people(DAY)
        return len(first), len(second)

    before = asked()
    for number in range(20):
        add_person(by(OFFICE), f"Tess New {number}")
        authorise(by(OFFICE), f"Tess New {number}", Scope.MAKE, DAY)
    assert asked() == before == (2, 2)
    may = {one.name: {item.scope for item in one.may} for one in people_now(DAY)}
    assert {name: may[name] for name in MAY} == {name: set(scopes) for name, scopes in MAY.items()}


@pytest.mark.usefixtures("book")
def test_who_chose_a_secret_is_told() -> None:
    secrets.set_secret(by(MAKER), MAKER, "seven grey geese")
    secrets.set_secret(by(OFFICE), INSPECTOR, "seven grey geese")
    told = {one.name: (one.has_secret, one.given_by) for one in people_now(DAY)}
    assert (told[MAKER], told[INSPECTOR], told[OFFICE]) == ((True, ""), (True, OFFICE), (False, ""))
    secrets.take_secret(by(OFFICE), MAKER)
    assert not about_person(MAKER, DAY).now.has_secret


@pytest.mark.usefixtures("book")
def test_one_person_whole() -> None:
    authorise(by(OFFICE), MAKER, Scope.INSPECT, DAY + ONE)
    withdraw(by(OFFICE, "makes blades, inspects none"), MAKER, Scope.CURE)
    found = about_person(MAKER, DAY)
    assert [(item.held.scope, item.state) for item in found.held] == [
        (Scope.BOND, State.HOLDS),
        (Scope.MAKE, State.HOLDS),
        (Scope.INSPECT, State.LATER),
        (Scope.CURE, State.WITHDRAWN),
    ]
    assert (found.held[3].held.withdrawn_by, found.held[3].held.withdrawn_on) == (OFFICE, DAY)
    assert (found.history[0].kind, found.history[0].by) == ("authorisation withdrawn", OFFICE)
    assert found.history[0].reason == "makes blades, inspects none"
    with pytest.raises(MissingInput) as caught:
        about_person(STRANGER, DAY)
    assert (caught.value.field, caught.value.value) == ("person", STRANGER)


_WORK = (Scope.MAKE, Scope.BOND, Scope.CURE)


def somebody(name: str, *scopes: Scope, until: int | None = None, has_secret: bool = True) -> PersonNow:
    last = None if until is None else DAY + until * ONE
    return PersonNow(name, tuple(MayNow(scope, last, last is not None) for scope in scopes), has_secret, "")


def test_the_next_step_is_what_nobody_may_then_what_ends_then_who_stands_alone_then_who_is_outside() -> None:
    rest = somebody("A", *(scope for scope in Scope if scope not in (*_WORK, Scope.LOOK_LAST)))
    nobody = next_step([rest, somebody("B", Scope.MAKE, Scope.BOND, Scope.LOOK_LAST)])
    assert nobody.sentence == f'Nobody may do "cure" today ({LETS[Scope.CURE]}): authorise somebody.'
    ending = next_step(
        [rest, somebody("B", Scope.MAKE, Scope.BOND, Scope.LOOK_LAST), somebody("C", Scope.CURE, until=3)]
    )
    assert ending.person == "C"
    assert ending.sentence.startswith('C may do "cure" until 2026-05-07')
    alone = next_step([rest, somebody("B", Scope.MAKE, Scope.BOND, Scope.LOOK_LAST), somebody("C", Scope.CURE)])
    assert alone.sentence.startswith('Only B may do "final inspection", and may make blades too')
    outside = next_step([rest, somebody("B", Scope.LOOK_LAST), somebody("C", *_WORK, has_secret=False)])
    assert outside.person == "C"
    assert next_step([rest, somebody("B", Scope.LOOK_LAST), somebody("C", *_WORK)]).sentence == ""


def test_every_kind_of_work_is_listed_with_what_it_lets_do() -> None:
    assert set(LETS) == set(Scope)
    assert [item.scope for item in staffed([])] == list(Scope)
    assert all(item.names == () and item.lets for item in staffed([]))
