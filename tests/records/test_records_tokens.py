"""Keys for programs: who makes and ends them, what they are good for, and until when."""

import datetime
from collections.abc import Callable

import pytest

from bladewright.errors import BadInput, BladewrightError, MissingInput, NotAuthorised
from bladewright.records import secrets
from bladewright.records.acts import Act
from bladewright.records.checking import check
from bladewright.records.ready import models
from bladewright.records.tokens import (
    LONGEST_DAYS,
    Key,
    May,
    all_tokens,
    make_token,
    require_may,
    token_holder,
    withdraw_token,
)
from tests.records.cast import AT, INSPECTOR, MAKER, OFFICE, STRANGER, by, everybody_but

DAY = AT.date()
LAST = datetime.date(2026, 6, 30)
pytestmark = [pytest.mark.book, pytest.mark.usefixtures("book")]


def refused(act: Callable[[], object], kind: type[BladewrightError] = BadInput) -> BladewrightError:
    with pytest.raises(kind) as caught:
        act()
    return caught.value


def noon(day: datetime.date) -> datetime.datetime:
    return datetime.datetime.combine(day, datetime.time(12), datetime.UTC)


def test_a_key_acts_for_its_person_in_what_it_was_made_for() -> None:
    made, key = make_token(by(MAKER), "oven logger PC", MAKER, (May.READ, May.ADD), LAST)
    assert made == Key("oven logger PC", MAKER, (May.ADD, May.READ), LAST, MAKER)
    assert token_holder(key, AT) == made
    require_may(made, May.ADD)
    wrong = refused(lambda: require_may(made, May.TRACE), NotAuthorised)
    assert (wrong.field, wrong.value, wrong.allowed) == ("key", "oven logger PC", 'a key that may "trace"')


def test_the_key_itself_is_nowhere_in_the_book() -> None:
    _, key = make_token(by(MAKER), "oven logger PC", MAKER, (May.READ,), LAST)
    assert len(key) >= 43  # 256 bits in letters of 6 bits
    assert not models.Event.objects.filter(body__contains=key).exists()
    assert models.Token.objects.get().sha256 != key
    _, other = make_token(by(MAKER), "second", MAKER, (May.READ,), LAST)
    assert other != key
    assert check().sound


def test_it_ends_after_its_last_day_by_the_shops_calendar() -> None:
    _, key = make_token(by(MAKER), "oven logger PC", MAKER, (May.READ,), LAST)
    assert token_holder(key, noon(LAST)).person == MAKER
    late = datetime.datetime(2026, 6, 30, 23, 30, tzinfo=datetime.UTC)  # 1 July in London
    wrong = refused(lambda: token_holder(key, late), NotAuthorised)
    assert (wrong.field, wrong.value) == ("key", None)
    assert wrong.what == f'"oven logger PC" of {MAKER} was valid until 2026-06-30'


@pytest.mark.parametrize("wrong_key", ["", "x", "x" * 43, "k\u00e9y", "\ud800", "y" * 100_000])
def test_what_is_no_key_is_refused_and_not_repeated(wrong_key: str) -> None:
    make_token(by(MAKER), "oven logger PC", MAKER, (May.READ,), LAST)
    wrong = refused(lambda: token_holder(wrong_key, AT), NotAuthorised)
    assert (wrong.what, wrong.field, wrong.value) == ("is not a key of this book", "key", None)


@pytest.mark.parametrize("who", everybody_but(OFFICE, MAKER))
def test_only_its_person_and_the_administrator_make_and_end_it(who: str) -> None:
    assert refused(lambda: make_token(by(who), "k", MAKER, (May.READ,), LAST), NotAuthorised).value == who
    _, key = make_token(by(MAKER), "oven logger PC", MAKER, (May.READ,), LAST)
    assert refused(lambda: withdraw_token(by(who), "oven logger PC"), NotAuthorised).value == who
    assert token_holder(key, AT).name == "oven logger PC"


def test_to_add_evidence_in_a_persons_name_is_theirs_to_give() -> None:
    wrong = refused(lambda: make_token(by(OFFICE), "k", MAKER, (May.ADD,), LAST), NotAuthorised)
    assert (wrong.field, wrong.value, wrong.allowed) == ("person", MAKER, OFFICE)
    assert make_token(by(OFFICE), "k", MAKER, (May.READ, May.TRACE), LAST)[0].made_by == OFFICE


@pytest.mark.parametrize("who", [OFFICE, MAKER])
def test_a_withdrawn_key_says_by_whom_and_since_when(who: str) -> None:
    _, key = make_token(by(MAKER), "oven logger PC", MAKER, (May.READ,), LAST)
    ended = withdraw_token(by(who), "oven logger PC")
    assert (ended.withdrawn_on, ended.withdrawn_by) == (DAY, who)
    wrong = refused(lambda: token_holder(key, AT), NotAuthorised)
    assert wrong.what == f'"oven logger PC" of {MAKER} was withdrawn by {who} on 2026-05-04'
    before = models.Event.objects.count()
    assert withdraw_token(by(who), "oven logger PC") == ended
    assert models.Event.objects.count() == before


def test_who_may_no_longer_enter_has_no_programs_that_do() -> None:
    secrets.set_secret(by(MAKER), MAKER, "seven grey geese")
    keys = [make_token(by(MAKER), f"k{n}", MAKER, (May.READ,), LAST)[1] for n in (1, 2)]
    _, other = make_token(by(INSPECTOR), "another", INSPECTOR, (May.READ,), LAST)
    secrets.take_secret(by(OFFICE), MAKER)
    for key in keys:
        assert "withdrawn" in refused(lambda key=key: token_holder(key, AT), NotAuthorised).what  # type: ignore[misc]
    assert token_holder(other, AT).person == INSPECTOR


@pytest.mark.parametrize(
    ("last", "what"),
    [
        (DAY - datetime.timedelta(days=1), "is over already"),
        (DAY + datetime.timedelta(days=LONGEST_DAYS + 1), "is too far away"),
    ],
)
def test_a_key_ends_within_a_year(last: datetime.date, what: str) -> None:
    wrong = refused(lambda: make_token(by(MAKER), "k", MAKER, (May.READ,), last))
    assert (wrong.field, wrong.value, wrong.what) == ("last", last.isoformat(), what)
    assert wrong.allowed == "2026-05-04 to 2027-05-05"


def test_what_cannot_be_meant_is_refused() -> None:
    make_token(by(MAKER), "oven logger PC", MAKER, (May.READ,), LAST)
    again = refused(lambda: make_token(by(INSPECTOR), "oven logger PC", INSPECTOR, (May.READ,), LAST))
    assert (again.field, again.value) == ("name", "oven logger PC")
    alike = refused(lambda: make_token(by(INSPECTOR), "Oven logger PC", INSPECTOR, (May.READ,), LAST))
    assert alike.field == "name"
    nothing = refused(lambda: make_token(by(MAKER), "k", MAKER, (), LAST), MissingInput)
    assert (nothing.field, nothing.allowed) == ("may", "read, trace, add evidence")
    signing = refused(lambda: make_token(by(MAKER), "k", MAKER, ("sign",), LAST))  # type: ignore[arg-type]
    assert (signing.field, signing.value) == ("may", "sign")
    nobody = refused(lambda: make_token(by(OFFICE), "k", STRANGER, (May.READ,), LAST), MissingInput)
    assert (nobody.field, nobody.value) == ("person", STRANGER)
    stranger = refused(lambda: make_token(Act(STRANGER, AT), "k", STRANGER, (May.READ,), LAST), MissingInput)
    assert stranger.field == "person"
    assert refused(lambda: withdraw_token(by(OFFICE), "no such"), MissingInput).field == "name"
    assert [key.name for key in all_tokens()] == ["oven logger PC"]
    assert all_tokens(INSPECTOR) == ()
