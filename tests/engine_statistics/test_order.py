"""Limits by a sample's own order: how often they hold on drawn samples of any shape, and what is refused."""

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from bladewright.engine.statistics.order import lower_by_order, order_for
from bladewright.errors import BadInput, MissingInput


def test_it_holds_as_often_as_it_says_whatever_the_shape() -> None:
    sample = np.random.default_rng(4).exponential(1.0, (93, 20_000)) ** 3
    held = np.mean(lower_by_order(sample) <= (-np.log(0.95)) ** 3)
    assert held >= 0.95 - 4 * np.sqrt(0.95 * 0.05 / 20_000)  # two of 93: a little over 95 %
    assert held < 0.96


@settings(max_examples=30, deadline=None)
@given(count=st.integers(59, 3000))
def test_a_larger_sample_comes_nearer(count: int) -> None:
    assert order_for(count + 1) >= order_for(count) >= 1
    assert order_for(count) <= 0.05 * count


def test_too_small_or_senseless_is_refused() -> None:
    with pytest.raises(MissingInput) as few:
        lower_by_order(np.arange(58.0))
    assert (few.value.field, few.value.value) == ("values", 58)
    with pytest.raises(BadInput) as share:
        order_for(100, 1.0)
    assert (share.value.field, share.value.value) == ("share", 1.0)
    with pytest.raises(BadInput) as gap:
        lower_by_order(np.append(np.arange(99.0), np.nan))
    assert gap.value.field == "values"
