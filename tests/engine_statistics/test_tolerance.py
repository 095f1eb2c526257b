"""One-sided limits: how often they hold on drawn samples, what they do as samples grow, what is refused."""

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from scipy.special import ndtri

from bladewright.engine.statistics.tolerance import A_BASIS, B_BASIS, lower_limit, one_sided_factor
from bladewright.errors import BadInput, MissingInput, OutsideValidity


@pytest.mark.parametrize("share", [A_BASIS, B_BASIS])
def test_it_holds_as_often_as_it_says(share: float) -> None:
    runs, n = 20_000, 6
    sample = np.random.default_rng(17).normal(0.0, 1.0, (runs, n))
    limits = sample.mean(axis=1) - one_sided_factor(n, share) * sample.std(axis=1, ddof=1)
    held = np.mean(limits <= -ndtri(share))
    # 0.95 +/- four standard deviations of a count of 20,000
    assert held == pytest.approx(0.95, abs=4 * np.sqrt(0.95 * 0.05 / runs))


def test_with_many_values_it_tends_to_the_normal_quantile() -> None:
    assert one_sided_factor(1_000_000) == pytest.approx(float(ndtri(0.9)), abs=0.003)


@settings(max_examples=30, deadline=None)
@given(n=st.integers(3, 200), share=st.floats(0.6, 0.99), confidence=st.floats(0.6, 0.99))
def test_more_values_allow_more_and_more_certainty_less(n: int, share: float, confidence: float) -> None:
    k = one_sided_factor(n, share, confidence)
    assert one_sided_factor(n + 1, share, confidence) < k
    assert one_sided_factor(n, share + 0.005, confidence) > k
    assert one_sided_factor(n, share, confidence + 0.005) > k


@settings(max_examples=20, deadline=None)
@given(shift=st.floats(-50.0, 50.0), scale=st.floats(0.1, 10.0))
def test_the_unit_of_the_sample_does_not_matter(shift: float, scale: float) -> None:
    sample = np.array([3.0, 3.4, 2.9, 3.3, 3.1])
    moved = lower_limit(shift + scale * sample)
    assert moved.value == pytest.approx(shift + scale * lower_limit(sample).value, abs=1e-8)


def test_too_few_or_senseless_is_refused() -> None:
    with pytest.raises(MissingInput) as few:
        lower_limit(np.array([1.0, 2.0]))
    assert (few.value.field, few.value.value, few.value.allowed) == ("count", 2, "at least 3")
    with pytest.raises(OutsideValidity) as share:
        one_sided_factor(5, 1.0)
    assert share.value.field == "share"
    with pytest.raises(BadInput) as bad:
        lower_limit(np.array([1.0, np.nan, 2.0]))
    assert (bad.value.field, bad.value.row) == ("values", 2)
