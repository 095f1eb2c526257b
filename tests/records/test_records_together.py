"""Several people writing at once: no act is lost, no number is given twice, a check in between is not misled."""

from collections.abc import Callable
from concurrent.futures import ThreadPoolExecutor

import pytest
from django.db import connection

from bladewright.records.checking import Checked, check
from bladewright.records.lots import all_lots, receive_lot
from bladewright.records.opening import Book
from bladewright.records.ready import models
from tests.records.cast import RECEIVER, by

pytestmark = pytest.mark.book
PEOPLE, ACTS = 12, 6


def _alone(work: Callable[[], object]) -> object:
    """Each worker has a connection of its own, as each person's program does."""
    try:
        return work()
    finally:
        connection.close()


def test_nobodys_act_is_lost(book: Book) -> None:
    def person(number: int) -> list[str]:
        return [receive_lot(by(RECEIVER), f"L-{number}-{act}", "skin-sheet").lot for act in range(ACTS)]

    def checker() -> list[Checked]:
        return [check() for _ in range(10)]

    before = models.Event.objects.count()
    with ThreadPoolExecutor(PEOPLE + 1) as together:
        between = together.submit(_alone, checker)
        written = [together.submit(_alone, lambda n=n: person(n)) for n in range(PEOPLE)]
        said = [lot for future in written for lot in future.result()]  # type: ignore[attr-defined]
        checked = between.result()
    assert sorted(lot.lot for lot in all_lots()) == sorted(said)
    assert models.Event.objects.count() == before + PEOPLE * ACTS
    assert [item.complaints for item in checked] == [()] * 10  # type: ignore[attr-defined]
    assert check().sound
    assert book.writable


def test_two_who_do_the_same_do_it_once(book: Book) -> None:
    with ThreadPoolExecutor(PEOPLE) as together:
        work = [
            together.submit(_alone, lambda: receive_lot(by(RECEIVER), "S-1", "skin-sheet").already)
            for _ in range(PEOPLE)
        ]
        already = [future.result() for future in work]
    assert sorted(map(bool, already)) == [False] + [True] * (PEOPLE - 1)
    assert book.writable
