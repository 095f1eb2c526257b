"""What blades leave over of first moment, against closed forms; no source needed."""

import math

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from bladewright.engine.rotor.shake import unbalance
from bladewright.errors import BadInput

MOMENT = st.floats(-1.0, 1.0)


@given(MOMENT, MOMENT)
def test_two_leave_their_difference(one: float, other: float) -> None:
    assert unbalance(np.array([one, other])) == pytest.approx(abs(one - other), abs=1e-12)


@given(MOMENT, MOMENT, MOMENT)
def test_three_leave_the_root_of_half_their_squared_differences(a: float, b: float, c: float) -> None:
    left = math.sqrt(0.5 * ((a - b) ** 2 + (b - c) ** 2 + (c - a) ** 2))
    assert unbalance(np.array([a, b, c])) == pytest.approx(left, abs=1e-12)


@given(st.tuples(MOMENT, MOMENT, MOMENT, MOMENT))
def test_four_leave_the_worse_of_three_ways_to_seat_them_opposite(moments: tuple[float, ...]) -> None:
    a, b, c, d = moments
    ways = (((a, b), (c, d)), ((a, c), (b, d)), ((a, d), (b, c)))
    worst = max(math.hypot(one[0] - one[1], two[0] - two[1]) for one, two in ways)
    assert unbalance(np.array(moments)) == pytest.approx(worst, abs=1e-12)


@pytest.mark.parametrize("blades", [0, 1, 9])
def test_what_is_no_rotor_is_refused(blades: int) -> None:
    with pytest.raises(BadInput) as caught:
        unbalance(np.zeros(blades))
    assert (caught.value.field, caught.value.value) == ("first_moments", blades)
