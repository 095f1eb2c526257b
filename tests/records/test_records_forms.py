"""What a form brings with it: a token that writes once, and how new the page was. With real threads."""

from collections.abc import Callable
from concurrent.futures import ThreadPoolExecutor

import pytest
from django.db import connection

from bladewright.errors import AlreadyEntered, BladewrightError, NotAuthorised, Outdated
from bladewright.records.acts import Act, Scope
from bladewright.records.blades import start_blade, use_lot
from bladewright.records.lots import all_lots, receive_lot
from bladewright.records.ready import models
from bladewright.records.writing import newest_about
from tests.records.cast import AT, MAKER, OFFICE, RECEIVER, by

pytestmark = pytest.mark.book

TOGETHER = 12


def once(person: str, token: str) -> Act:
    return Act(person, AT, once=token)


def seeing(person: str, seen: int) -> Act:
    return Act(person, AT, seen=seen)


def _all_at_once(work: list[Callable[[], object]]) -> list[object]:
    """Each in a thread with a connection of its own; what it raised counts as its answer."""

    def alone(one: Callable[[], object]) -> object:
        try:
            return one()
        except BladewrightError as error:
            return error
        finally:
            connection.close()

    with ThreadPoolExecutor(len(work)) as together:
        return list(together.map(alone, work))


@pytest.mark.usefixtures("book")
def test_the_same_form_sent_again_writes_nothing_and_says_who_did_what() -> None:
    receive_lot(once(RECEIVER, "form-1"), "L-1", "skin-sheet")
    written = models.Event.objects.latest("number").number
    with pytest.raises(AlreadyEntered) as caught:
        receive_lot(once(RECEIVER, "form-1"), "L-2", "skin-sheet")
    assert (caught.value.field, caught.value.value) == ("once", written)
    assert caught.value.what == f"was entered already: lot received, L-1, by {RECEIVER}"
    assert models.Event.objects.latest("number").number == written
    assert [line.lot for line in all_lots()] == ["L-1"]


@pytest.mark.usefixtures("book")
def test_a_form_that_was_refused_can_be_mended_and_sent_again() -> None:
    with pytest.raises(NotAuthorised):
        receive_lot(once(MAKER, "form-1"), "L-1", "skin-sheet")
    assert not models.Once.objects.exists()
    assert not receive_lot(once(RECEIVER, "form-1"), "L-1", "skin-sheet").already


@pytest.mark.usefixtures("book")
def test_one_form_sent_by_many_connections_at_once_writes_one_event() -> None:
    before = models.Event.objects.count()
    work = [lambda n=n: receive_lot(once(RECEIVER, "form-1"), f"L-{n}", "skin-sheet") for n in range(TOGETHER)]  # type: ignore[misc]
    said = _all_at_once(work)
    assert sum(isinstance(answer, AlreadyEntered) for answer in said) == TOGETHER - 1
    assert models.Event.objects.count() == before + 1
    assert len(all_lots()) == models.Once.objects.count() == 1


@pytest.mark.usefixtures("batch")
def test_a_stale_page_does_not_write_over_what_is_newer() -> None:
    for lot in ("R-1", "R-2"):
        receive_lot(by(RECEIVER), lot, "film-epoxy")
    seen = newest_about("B-0101")
    assert not use_lot(seeing(MAKER, seen), "B-0101", "adhesive", "R-1").already
    with pytest.raises(Outdated) as caught:
        use_lot(seeing(MAKER, seen), "B-0101", "adhesive", "R-2")
    wrong = caught.value
    assert (wrong.field, wrong.value) == ("seen", "B-0101")
    assert wrong.what == f"was written to since this page was shown: lot used, by {MAKER}"
    assert wrong.allowed == "a page that shows the newest entry"
    assert models.LotUse.objects.count() == 1
    assert not use_lot(seeing(MAKER, newest_about("B-0101")), "B-0101", "adhesive", "R-2").already
    assert not use_lot(seeing(MAKER, newest_about("B-0102")), "B-0102", "adhesive", "R-1").already  # another subject


@pytest.mark.usefixtures("book")
def test_of_two_people_with_the_same_page_one_writes_and_the_other_is_told() -> None:
    """Two who administer the book open the same person's page and decide differently."""
    from bladewright.records.people import authorise

    authorise(by(OFFICE), MAKER, Scope.ADMINISTER, AT.date())
    seen = newest_about(RECEIVER)
    said = _all_at_once(
        [
            lambda: authorise(seeing(OFFICE, seen), RECEIVER, Scope.MATCH, AT.date()),
            lambda: authorise(seeing(MAKER, seen), RECEIVER, Scope.RELEASE, AT.date()),
        ]
    )
    refused = [answer for answer in said if isinstance(answer, Outdated)]
    assert len(refused) == 1
    assert (refused[0].field, refused[0].value) == ("seen", RECEIVER)
    assert refused[0].what.startswith("was written to since this page was shown: person authorised, by ")
    assert newest_about(RECEIVER) > seen


@pytest.mark.usefixtures("shop")
def test_many_stale_pages_at_once_lose_nothing_and_write_one() -> None:
    start_blade(by(MAKER), "B-0101", "FM-31", "A")
    for number in range(TOGETHER):
        receive_lot(by(RECEIVER), f"R-{number}", "film-epoxy")
    seen = newest_about("B-0101")
    work = [lambda n=n: use_lot(seeing(MAKER, seen), "B-0101", "adhesive", f"R-{n}") for n in range(TOGETHER)]  # type: ignore[misc]
    said = _all_at_once(work)
    assert sum(isinstance(answer, Outdated) for answer in said) == TOGETHER - 1
    assert models.LotUse.objects.count() == 1
