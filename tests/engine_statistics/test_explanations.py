"""Evidence of explanations against the normal density worked out at length (scipy), and closed forms."""

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from scipy.stats import multivariate_normal

from bladewright.engine.statistics.explanations import likeliest_sizes, log_evidence, shares_of
from bladewright.errors import BadInput


@settings(max_examples=40, deadline=None)
@given(seed=st.integers(0, 10_000), n=st.integers(1, 12), p=st.integers(1, 3), noise=st.floats(0.05, 20.0))
def test_the_evidence_is_the_density_of_the_whole_normal_distribution(seed: int, n: int, p: int, noise: float) -> None:
    draw = np.random.default_rng(seed)
    readings, shapes, widths = draw.normal(size=n) * 3.0, draw.normal(size=(2, n, p)), draw.uniform(0.1, 5.0, p)
    found = log_evidence(readings, shapes, widths, noise)
    for one, curves in zip(found, shapes, strict=True):
        covariance = noise**2 * np.eye(n) + curves @ np.diag(widths**2) @ curves.T
        assert one == pytest.approx(multivariate_normal(np.zeros(n), covariance).logpdf(readings), rel=1e-8, abs=1e-8)


def test_one_curve_of_ones_is_a_mean_drawn_toward_zero() -> None:
    # n readings of scatter s, prior width w: mean times n w^2 / (n w^2 + s^2)
    readings = np.array([1.0, 2.0, 3.0, 6.0])
    (size,) = likeliest_sizes(readings, np.ones((4, 1)), np.array([2.0]), 4.0)
    assert size == pytest.approx(3.0 * 16.0 / (16.0 + 16.0))


def test_more_freedom_counts_against_what_did_not_need_it() -> None:
    readings = np.zeros(10)
    none, some = (log_evidence(readings, np.ones((1, 10, 1)), np.array([w]), 1.0)[0] for w in (1e-9, 10.0))
    assert none > some


def test_shares_are_bayes() -> None:
    # odds of 3 to 1 and evidence of e to 1
    shares = shares_of(np.array([1.0, 0.0]) - 700.0, np.array([0.75, 0.25]))
    assert shares == pytest.approx(np.array([3.0 * np.e, 1.0]) / (3.0 * np.e + 1.0))
    assert shares_of(np.array([-np.inf, 0.0]), np.array([0.5, 0.5])) == pytest.approx([0.0, 1.0])


@pytest.mark.parametrize("noise", [0.0, -1.0, np.nan])
def test_no_scatter_is_refused(noise: float) -> None:
    for ask in (
        lambda: log_evidence(np.ones(2), np.ones((1, 2, 1)), np.ones(1), noise),
        lambda: likeliest_sizes(np.ones(2), np.ones((2, 1)), np.ones(1), noise),
    ):
        with pytest.raises(BadInput) as caught:
            ask()
        assert caught.value.field == "noise"
