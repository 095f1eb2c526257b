"""What is drawn of a long record, against the record itself: no peak lost, no gap bridged. Properties; no source."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from bladewright.engine.statistics.extremes import KEPT, extremes

readings = st.lists(st.one_of(st.floats(-1e3, 1e3), st.just(float("nan"))), min_size=1, max_size=400)


@given(readings, st.integers(1, 40), st.integers(0, 2**32 - 1))
def test_every_bucket_keeps_its_extremes_and_its_gaps(values: list[float], buckets: int, seed: int) -> None:
    samples = np.array(values)
    x = np.cumsum(np.random.default_rng(seed).uniform(0.1, 3.0, len(samples)))
    kept = extremes(x, samples, buckets)
    assert (np.diff(kept) > 0).all()
    assert kept[0] == 0
    assert kept[-1] == len(samples) - 1
    if len(samples) <= 2 * buckets:
        assert len(kept) == len(samples)
        return
    assert len(kept) <= KEPT * buckets + 2
    bucket = np.minimum((x - x[0]) / (x[-1] - x[0]) * buckets, buckets - 1).astype(int)
    for one in np.unique(bucket):
        whole, drawn = samples[bucket == one], samples[kept[bucket[kept] == one]]
        if not np.isnan(whole).all():
            assert np.nanmin(drawn) == np.nanmin(whole)
            assert np.nanmax(drawn) == np.nanmax(whole)
        assert np.isnan(drawn).any() == np.isnan(whole).any()


def test_one_needle_among_a_hundred_thousand_is_drawn_at_its_own_place() -> None:
    samples = np.zeros(100_000)
    samples[31_415] = 7.0
    kept = extremes(np.arange(100_000.0), samples, 500)
    assert 31_415 in kept
    assert len(kept) < 2_100


@pytest.mark.parametrize("count", [1, 2, 3])
def test_a_record_as_short_as_a_blink_is_drawn_whole(count: int) -> None:
    assert extremes(np.arange(float(count)), np.ones(count), 2).tolist() == list(range(count))
