"""Comparison with the master: closed forms, and how often it covers the truth."""

import math

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from bladewright.engine.metrology.weighing import difference_from_master
from bladewright.errors import MissingInput


def _turns(n: int) -> np.ndarray[tuple[int], np.dtype[np.bool_]]:
    return np.arange(n) % 2 == 0


@settings(max_examples=40, deadline=None)
@given(difference=st.floats(-0.5, 0.5), drift=st.floats(-0.01, 0.01), start=st.floats(1.0, 30.0), n=st.integers(4, 12))
def test_steady_drift_makes_no_difference(difference: float, drift: float, start: float, n: int) -> None:
    readings = start + drift * np.arange(n) + difference * _turns(n)
    found = difference_from_master(readings, _turns(n), 0.002)
    assert found.value == pytest.approx(difference, abs=1e-12)
    assert found.drift == pytest.approx(drift, abs=1e-12)
    assert found.uncertainty == pytest.approx(0.002, rel=1e-6)


def test_four_readings_by_hand() -> None:
    # x = c + d i + D b with i = 0..3 and b = 1, 0, 1, 0. What of b is neither constant nor straight is
    # (0.2, -0.6, 0.6, -0.2), so D = (x0 - 3 x1 + 3 x2 - x3) / 4 = 4.5 and d = 0.5; what is left is
    # (-0.5, 0.5, 0.5, -0.5), so s = 1 with one degree of freedom, s(D) = 1 / sqrt(0.8), t = 13.97
    found = difference_from_master(np.array([5.0, 2.0, 7.0, 2.0]), _turns(4), 0.0)
    assert (found.value, found.drift, found.scatter) == pytest.approx((4.5, 0.5, 1.0), rel=1e-12)
    assert found.uncertainty == pytest.approx(13.97 / math.sqrt(0.8), rel=1e-3)


def test_it_covers_the_truth_as_often_as_it_says() -> None:
    chance, hits, runs = np.random.default_rng(11), 0, 2000
    for _ in range(runs):
        readings = 17.0 + 0.001 * np.arange(6) + 0.01 * _turns(6) + chance.normal(0.0, 0.002, 6)
        found = difference_from_master(readings, _turns(6), 0.0)
        hits += abs(found.value - 0.01) <= found.uncertainty
    # 95.45 % within three standard deviations of a binomial count, 1.4 %
    assert hits / runs == pytest.approx(0.9545, abs=0.014)


@pytest.mark.parametrize("n", [0, 1, 2, 3])
def test_too_few_readings_are_refused(n: int) -> None:
    with pytest.raises(MissingInput) as caught:
        difference_from_master(np.full(n, 17.0), _turns(n), 0.002)
    assert caught.value.value == n
