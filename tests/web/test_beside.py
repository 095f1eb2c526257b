"""Work beside a page: there at once if it is quick, there later if not, given up if nobody waits any more."""

import threading

import pytest

from bladewright.errors import BadInput
from bladewright.web import beside


def test_what_is_quick_is_there_and_is_worked_out_once() -> None:
    done: list[int] = []

    def work() -> str:
        done.append(1)
        return "there"

    assert [beside.asked(("quick", 1), work, 5.0) for _ in range(3)] == ["there"] * 3
    assert len(done) == 1


def test_what_takes_long_is_none_until_it_is_there() -> None:
    go_on = threading.Event()

    def work() -> str:
        go_on.wait(10.0)
        return "there"

    assert beside.asked(("long",), work, 0.01) is None
    go_on.set()
    assert beside.asked(("long",), work, 5.0) == "there"


def test_what_goes_wrong_is_said_to_who_asks() -> None:
    def work() -> str:
        raise BadInput("cannot be built", field="reflex.angle")

    for _ in range(2):
        with pytest.raises(BadInput) as caught:
            beside.asked(("wrong",), work, 5.0)
        assert caught.value.field == "reflex.angle"


def test_what_nobody_waits_for_any_more_is_not_begun() -> None:
    go_on, begun = threading.Event(), []
    for number in range(2):  # both hands are busy
        beside.asked(("busy", number), lambda: go_on.wait(10.0), 0.0)
    for number in range(5):
        beside.asked(("change", number), lambda number=number: begun.append(number) or True, 0.0, asker="somebody")
    go_on.set()
    assert beside.asked(("change", 4), lambda: True, 5.0)
    assert begun == [4]
