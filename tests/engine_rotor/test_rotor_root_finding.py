"""Many roots at once, each against the same one found alone."""

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from bladewright.engine.rotor.root_finding import first_bracket, root_between
from bladewright.errors import NotConverged


@settings(max_examples=60)
@given(st.lists(st.floats(-0.99, 3.0), min_size=1, max_size=6), st.sampled_from([1.0, 3.0, 9.0]))
def test_every_root_is_found_however_the_others_fare(roots: list[float], power: float) -> None:
    root = np.array(roots)

    def function(x: np.ndarray) -> np.ndarray:
        return np.sign(root - x) * np.abs(root - x) ** power * np.exp(x)

    low, high = np.full(root.size, -1.0), np.full(root.size, 3.0)
    found = root_between(function, *first_bracket(function, low, high, 7), 1e-9, "x")
    assert found == pytest.approx(root, abs=1e-6)


def test_the_first_fall_from_the_low_side_is_taken() -> None:
    low, high = first_bracket(lambda x: np.cos(x), np.array([0.0]), np.array([20.0]), 40)
    assert low[0] <= np.pi / 2.0 <= high[0]


def test_where_nothing_crosses_the_better_end_comes_back() -> None:
    assert root_between(lambda x: x + 1.0, np.array([0.0]), np.array([2.0]), 1e-9, "x") == pytest.approx([0.0])


def test_a_jump_is_closed_in_on_and_nonsense_is_named() -> None:
    stepped = root_between(lambda x: np.where(x < 1.25, 1.0, -1e-3), np.array([0.0]), np.array([2.0]), 1e-9, "x")
    assert stepped == pytest.approx([1.25], abs=1e-8)
    with pytest.raises(NotConverged) as lost:
        root_between(lambda x: np.full_like(x, np.nan), np.array([0.0]), np.array([2.0]), 1e-9, "x")
    assert lost.value.field == "x"
