"""Several people writing at once: no act is lost, no number is given twice, a check in between is not misled."""

import threading
from collections import Counter
from collections.abc import Callable
from concurrent.futures import ThreadPoolExecutor
from typing import TypeVar

import pytest

from bladewright.errors import AlreadyEntered, Outdated
from bladewright.records import heads
from bladewright.records.acts import Act, Scope
from bladewright.records.checking import Checked, check
from bladewright.records.lots import all_lots, receive_lot
from bladewright.records.opening import Book
from bladewright.records.ownership import add_owner
from bladewright.records.people import authorise, withdraw
from bladewright.records.ready import models, own_connection
from bladewright.records.writing import newest_about
from tests.records.cast import AT, INSPECTOR, OFFICE, RECEIVER, RELEASER, by

pytestmark = pytest.mark.book
PEOPLE, ACTS = 50, 4
Found = TypeVar("Found")


def alone(work: Callable[[], Found]) -> Found:
    """Each worker has a connection of its own, as each person's program does."""
    with own_connection():
        return work()


def test_nobodys_act_is_lost(book: Book) -> None:
    start = threading.Barrier(PEOPLE + 1)

    def person(number: int) -> list[str]:
        start.wait()
        return [receive_lot(by(RECEIVER), f"L-{number}-{act}", "skin-sheet").lot for act in range(ACTS)]

    def checker() -> list[Checked]:
        start.wait()
        return [check() for _ in range(10)]

    before = models.Event.objects.count()
    with ThreadPoolExecutor(PEOPLE + 1) as together:
        between = together.submit(alone, checker)
        written = [together.submit(alone, lambda n=n: person(n)) for n in range(PEOPLE)]
        said = [lot for future in written for lot in future.result()]
        checked = between.result()
    assert sorted(lot.lot for lot in all_lots()) == sorted(said)
    numbers = list(models.Event.objects.order_by("number").values_list("number", flat=True))
    assert numbers == list(range(1, before + PEOPLE * ACTS + 1))
    assert [item.complaints for item in checked] == [()] * 10
    assert check().sound
    assert {head.number for head in heads.logged(book.folder)} >= set(numbers[before:])


def test_two_who_do_the_same_do_it_once(book: Book) -> None:  # noqa: ARG001
    with ThreadPoolExecutor(PEOPLE) as together:
        work = [
            together.submit(alone, lambda: receive_lot(by(RECEIVER), "S-1", "skin-sheet").already)
            for _ in range(PEOPLE)
        ]
        already = [future.result() for future in work]
    assert sorted(map(bool, already)) == [False] + [True] * (PEOPLE - 1)


def test_nobody_writes_over_what_they_have_not_seen(book: Book) -> None:  # noqa: ARG001
    """Everybody turns the same authorisation on and off; each act rests on the one before it, or is not done."""
    said_no: Counter[str] = Counter()

    def person(number: int) -> list[int]:
        rested_on = []
        while len(rested_on) < 2:
            seen = newest_about(INSPECTOR)
            act = Act(OFFICE, AT, f"by {number}", seen=seen)
            try:
                if len(rested_on) % 2:
                    done = withdraw(act, INSPECTOR, Scope.MAKE).already
                else:
                    done = authorise(act, INSPECTOR, Scope.MAKE, AT.date()).already
            except Outdated:
                said_no[f"{number}"] += 1
                continue
            rested_on.append(seen if not done else -1)
        return [number for number in rested_on if number >= 0]

    first = newest_about(INSPECTOR)
    with ThreadPoolExecutor(12) as together:
        work = [together.submit(alone, lambda n=n: person(n)) for n in range(12)]
        seen = sorted(number for future in work for number in future.result())
    events = models.Event.objects.filter(subject=INSPECTOR, number__gt=first).order_by("number")
    assert seen == [first, *events.values_list("number", flat=True)][:-1]
    assert said_no, "nobody was ever late: nothing was tested"
    assert check().sound


def test_a_form_sent_by_many_at_once_writes_once(book: Book) -> None:  # noqa: ARG001
    def send() -> bool:
        try:
            return add_owner(Act(RELEASER, AT, once="form-7"), "Corvane Flying School", "hangar 2").already
        except AlreadyEntered:
            return True

    with ThreadPoolExecutor(PEOPLE) as together:
        done = [future.result() for future in [together.submit(alone, send) for _ in range(PEOPLE)]]
    assert Counter(done) == {False: 1, True: PEOPLE - 1}
    assert models.Once.objects.filter(token="form-7").count() == 1
