"""What is mended in a measured outline and said, and what is refused with its place."""

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from bladewright.engine.geometry.designated import designated_outline
from bladewright.engine.geometry.mean_lines import designated_mean_line
from bladewright.engine.geometry.mending import mended_ring
from bladewright.errors import BadInput

FM31 = designated_outline(designated_mean_line("23012"), 0.12, "open", 31)
RING = np.concatenate((FM31.top[::-1], FM31.bottom[1:]))


def test_a_good_outline_is_left_alone() -> None:
    found = mended_ring(RING)
    assert found.points == pytest.approx(RING, abs=0.0)
    assert found.said == ()


@settings(max_examples=25, deadline=None)
@given(st.booleans(), st.lists(st.integers(0, len(RING) - 1), max_size=4))
def test_turned_and_repeated_points_are_put_right_and_said(turn: bool, repeated: list[int]) -> None:
    spoilt = np.insert(RING, repeated, RING[repeated], axis=0)
    found = mended_ring(spoilt[::-1] if turn else spoilt)
    assert found.points == pytest.approx(RING, abs=0.0)
    assert len(found.said) == turn + bool(repeated)
    assert any("clockwise" in said for said in found.said) == turn
    if repeated:
        assert f"{len(repeated)} repeated" in found.said[0]


def test_a_crossing_is_refused_with_its_place() -> None:
    crossed = RING.copy()
    crossed[[10, 50], 1] = crossed[[50, 10], 1]
    with pytest.raises(BadInput, match="crosses itself") as refused:
        mended_ring(crossed)
    assert refused.value.field == "outline"
    assert refused.value.row == 10  # the side from the tenth point to the eleventh, which has gone below
    x, z = refused.value.value
    assert crossed[10, 0] < x < crossed[9, 0]
    assert abs(z) < 0.1


def test_skins_that_cross_at_the_trailing_edge_are_refused_with_their_place() -> None:
    crossed = RING.copy()
    crossed[0, 1], crossed[-1, 1] = -0.004, 0.004
    with pytest.raises(BadInput, match="crosses itself") as refused:
        mended_ring(crossed)
    assert refused.value.row == 1
    assert 0.95 < refused.value.value[0] < 1.0


def test_an_outline_that_goes_back_on_itself_is_refused() -> None:
    spiked = np.insert(RING, 6, RING[4], axis=0)
    with pytest.raises(BadInput, match="crosses itself"):
        mended_ring(spiked)


def test_an_outline_from_the_nose_is_refused() -> None:
    with pytest.raises(BadInput, match="trailing edge") as refused:
        mended_ring(np.concatenate((RING[30:], RING[:30])))
    assert refused.value.row == 1


@pytest.mark.parametrize("points", [np.zeros((0, 2)), np.zeros((5, 2)), RING[:3], np.full((9, 2), np.nan), np.zeros(7)])
def test_what_is_no_outline_is_refused(points: np.ndarray) -> None:
    with pytest.raises(BadInput):
        mended_ring(points)
