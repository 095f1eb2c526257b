"""A wake's hold on the lift by its limits; printed values stand in selfcheck."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from bladewright.engine.dynamics.lift_deficiency import returning_wake, shed_wake
from bladewright.errors import BadInput

SLOW = np.geomspace(0.02, 2.0, 9)


@pytest.mark.parametrize("turn", [0.0, 1.0, np.pi])
def test_far_wakes_leave_the_blade_its_own(turn: float) -> None:
    # a layer's hold dies as exp(-k h), so twice the spacing squares what is left
    left = [np.abs(returning_wake(SLOW, np.full(9, h), np.full(9, turn)) - shed_wake(SLOW)) for h in (100.0, 200.0)]
    assert np.all(left[1] <= left[0])
    k = SLOW[4]  # 0.2: exp(-20), exp(-40)
    assert left[0][4] < 20.0 * np.exp(-100.0 * k)
    assert left[1][4] < 20.0 * np.exp(-200.0 * k) + 1e-15
    assert returning_wake(SLOW, np.full(9, np.inf), np.full(9, turn)) == pytest.approx(shed_wake(SLOW), rel=1e-15)


def test_wakes_in_step_take_most_and_wakes_against_step_take_least() -> None:
    close, k = np.full(1, 3.0), np.array([0.05])
    in_step, against = (abs(returning_wake(k, close, np.array([turn]))[0]) for turn in (0.0, np.pi))
    assert in_step < abs(shed_wake(k)[0]) < against


@given(st.floats(1e-4, 20.0), st.floats(0.5, 50.0), st.floats(-7.0, 7.0))
def test_a_whole_turn_more_is_the_same_wake(k: float, spacing: float, turn: float) -> None:
    one = [returning_wake(np.array([k]), np.array([spacing]), np.array([t]))[0] for t in (turn, turn + 2.0 * np.pi)]
    assert one[0] == pytest.approx(one[1], rel=1e-9)


def test_lift_is_whole_where_nothing_swings() -> None:
    assert shed_wake(np.zeros(1))[0] == 1.0
    assert shed_wake(np.array([1e-8]))[0] == pytest.approx(1.0, abs=1e-6)


@pytest.mark.parametrize(
    ("field", "values"),
    [("reduced_frequency", (-0.1, 1.0, 0.0)), ("spacing", (0.1, 0.0, 0.0)), ("turn", (0.1, 1.0, np.nan))],
)
def test_no_wake_of_nothing(field: str, values: tuple[float, float, float]) -> None:
    with pytest.raises(BadInput) as refused:
        returning_wake(*(np.array([one]) for one in values))
    assert refused.value.field == field
    assert refused.value.row == 1
