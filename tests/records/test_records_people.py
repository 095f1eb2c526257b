"""Adding people and saying what they may do: who may, who may not, twice, too late."""

import datetime
from pathlib import Path

import pytest

from bladewright.errors import BadInput, MissingInput, NotAuthorised
from bladewright.records.acts import Act, Scope
from bladewright.records.lots import receive_lot
from bladewright.records.opening import Book, create_book
from bladewright.records.people import add_person, all_people, authorise, withdraw
from bladewright.records.ready import models
from tests.records.cast import AT, BEGUN, MAKER, MAY, OFFICE, RECEIVER, STRANGER, by, everybody_but

pytestmark = pytest.mark.book

DAY = AT.date()


def test_the_first_person_enters_themselves_and_administers_the_book(tmp_path: Path) -> None:
    create_book(tmp_path / "book", shop="Fennmark", zone="Europe/London", at=BEGUN)
    assert not add_person(Act("Una First", BEGUN), "Una First").already
    (line,) = all_people(BEGUN.date())
    assert line.scopes == (Scope.ADMINISTER,)


def test_the_first_person_is_not_entered_by_somebody_else(tmp_path: Path) -> None:
    create_book(tmp_path / "book", shop="Fennmark", zone="Europe/London", at=BEGUN)
    with pytest.raises(NotAuthorised) as caught:
        add_person(Act("Una First", BEGUN), "Dora Second")
    assert caught.value.field == "by"
    assert all_people(BEGUN.date()) == ()


@pytest.mark.usefixtures("book")
@pytest.mark.parametrize("who", everybody_but(OFFICE))
def test_only_who_administers_the_book_adds_or_authorises(who: str) -> None:
    for act in (lambda: add_person(by(who), "Tess New"), lambda: authorise(by(who), MAKER, Scope.RELEASE, DAY)):
        with pytest.raises(NotAuthorised) as caught:
            act()
        assert caught.value.value == who
        assert Scope.ADMINISTER in str(caught.value.allowed)


@pytest.mark.usefixtures("book")
def test_a_person_may_what_they_were_authorised_for_and_nothing_else() -> None:
    scopes = {line.name: line.scopes for line in all_people(DAY)}
    assert scopes == {OFFICE: (Scope.ADMINISTER,)} | {name: tuple(sorted(may)) for name, may in MAY.items()}


@pytest.mark.usefixtures("book")
def test_the_same_thing_twice_changes_nothing_and_says_so() -> None:
    add_person(by(OFFICE), "Tess New")
    authorise(by(OFFICE), "Tess New", Scope.MAKE, DAY)
    before = models.Event.objects.count()
    assert add_person(by(OFFICE), "Tess New").already
    assert authorise(by(OFFICE), "Tess New", Scope.MAKE, DAY).already
    assert models.Event.objects.count() == before


@pytest.mark.usefixtures("book")
def test_an_authorisation_holds_on_its_first_and_last_day_and_not_outside() -> None:
    add_person(by(OFFICE), "Tess New")
    authorise(by(OFFICE), "Tess New", Scope.RECEIVE, datetime.date(2026, 4, 1), datetime.date(2026, 4, 2))
    for day, allowed in ((31, False), (32, True), (33, True), (34, False)):
        moment = datetime.datetime(2026, 3, 1, 12, 0, tzinfo=datetime.UTC) + datetime.timedelta(days=day - 1)
        act = Act("Tess New", moment)
        if allowed:
            receive_lot(act, f"S-{day}", "skin-sheet")
        else:
            with pytest.raises(NotAuthorised):
                receive_lot(act, f"S-{day}", "skin-sheet")


@pytest.mark.usefixtures("book")
def test_the_day_is_the_shops_not_that_of_the_clock_in_greenwich() -> None:
    """23:30 UTC on 31 March is 00:30 on 1 April in London, where the clocks have gone forward."""
    add_person(by(OFFICE), "Tess New")
    authorise(by(OFFICE), "Tess New", Scope.RECEIVE, datetime.date(2026, 4, 1))
    assert not receive_lot(
        Act("Tess New", datetime.datetime(2026, 3, 31, 23, 30, tzinfo=datetime.UTC)), "S-1", "skin-sheet"
    ).already


@pytest.mark.usefixtures("book")
def test_a_withdrawn_authorisation_no_longer_holds() -> None:
    assert not withdraw(by(OFFICE), RECEIVER, Scope.RECEIVE).already
    assert withdraw(by(OFFICE), RECEIVER, Scope.RECEIVE).already
    with pytest.raises(NotAuthorised):
        receive_lot(by(RECEIVER), "S-1", "skin-sheet")


@pytest.mark.usefixtures("book")
def test_the_last_who_administers_the_book_cannot_be_withdrawn() -> None:
    with pytest.raises(BadInput) as caught:
        withdraw(by(OFFICE), OFFICE, Scope.ADMINISTER)
    assert caught.value.field == "person"


@pytest.mark.usefixtures("book")
def test_what_cannot_be_meant_is_refused() -> None:
    with pytest.raises(MissingInput) as unknown:
        authorise(by(OFFICE), STRANGER, Scope.MAKE, DAY)
    assert (unknown.value.field, unknown.value.value) == ("person", STRANGER)
    with pytest.raises(BadInput) as backwards:
        authorise(by(OFFICE), MAKER, Scope.MAKE, DAY, DAY - datetime.timedelta(days=1))
    assert backwards.value.field == "until"
    with pytest.raises(BadInput) as scope:
        authorise(by(OFFICE), MAKER, "fly", DAY)  # type: ignore[arg-type]
    assert scope.value.field == "scope"
    with pytest.raises(BadInput) as blank:
        add_person(by(OFFICE), "  ")
    assert blank.value.field == "name"


def test_an_act_without_a_name_or_a_zone_is_none() -> None:
    with pytest.raises(BadInput) as nameless:
        Act(" ", AT)
    assert nameless.value.field == "by"
    with pytest.raises(BadInput) as zoneless:
        Act(MAKER, datetime.datetime(2026, 3, 1, 8, 0))  # noqa: DTZ001
    assert zoneless.value.field == "at"


def test_a_book_opened_for_reading_is_not_written_in(book: Book) -> None:
    from bladewright.records.opening import open_book

    open_book(book.folder, write=False)
    with pytest.raises(BadInput) as caught:
        add_person(by(OFFICE), "Tess New")
    assert caught.value.file == str(book.folder)
    assert len(all_people(DAY)) == 1 + len(MAY)
