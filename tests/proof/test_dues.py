"""What falls due: the due day itself is in time, and what was never done is worse than what is late."""

import datetime

import pytest
from hypothesis import given
from hypothesis import strategies as st

from bladewright.proof.dues import AHEAD, DueState, due_on

DAY = datetime.date(2026, 5, 4)


def days(number: int) -> datetime.date:
    return DAY + datetime.timedelta(days=number)


@pytest.mark.parametrize(
    ("done", "due", "state"),
    [
        (days(-400), days(-1), DueState.LATE),
        (days(-400), days(0), DueState.SOON),
        (days(-400), days(AHEAD), DueState.SOON),
        (days(-400), days(AHEAD + 1), DueState.GOOD),
        (days(1), days(400), DueState.NEVER),  # entered ahead of the work
        (None, days(400), DueState.NEVER),
        (days(-1), None, DueState.NEVER),
    ],
)
def test_how_a_dated_thing_stands(done: datetime.date | None, due: datetime.date | None, state: DueState) -> None:
    found = due_on(DAY, "calibration", "caliper C-9", done, due)
    assert found.state is state
    assert found.blocks == (state in (DueState.LATE, DueState.NEVER))
    assert found.told.startswith("The calibration of caliper C-9")


def test_what_was_found_bad_does_not_hold_however_long_it_is_due() -> None:
    found = due_on(DAY, "zone survey", "blade oven", days(-3), days(300), good=False)
    assert (found.state, found.blocks) == (DueState.BAD, True)


@given(st.integers(-500, 500), st.integers(0, 500))
def test_a_later_day_is_never_kinder(ahead: int, later: int) -> None:
    order = [DueState.GOOD, DueState.SOON, DueState.LATE]
    now, then = (due_on(day, "check", "Mould 1", days(-600), days(ahead)).state for day in (DAY, days(later)))
    assert order.index(then) >= order.index(now)
