"""Uncertainties combined: closed forms and limits. The guide's own example is among the checks against sources."""

import math

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from bladewright.engine.metrology.combining import Contribution, combined
from bladewright.errors import BadInput


def test_two_equal_ones_make_root_two_and_twice_the_freedom() -> None:
    # nu = 4 u^4 / (2 u^4 / 9) = 18
    both = combined((Contribution(3.0, 9), Contribution(3.0, 9)))
    assert both.standard == pytest.approx(3.0 * math.sqrt(2.0))
    assert both.freedom == pytest.approx(18.0)


def test_exactly_known_ones_give_a_factor_of_two() -> None:
    known = combined((Contribution(3.0), Contribution(4.0)))
    assert (known.standard, known.freedom) == (5.0, math.inf)
    assert known.factor == pytest.approx(2.0, abs=1e-6)
    assert known.expanded == pytest.approx(10.0, rel=1e-6)


def test_nothing_is_nothing() -> None:
    assert combined(()).expanded == 0.0


@settings(max_examples=30, deadline=None)
@given(
    parts=st.lists(st.tuples(st.floats(1e-3, 10.0), st.integers(1, 100)), min_size=1, max_size=6),
    unit=st.sampled_from([1e-9, 1.0, 1e6]),
)
def test_freedom_lies_between_the_least_and_the_sum_in_any_unit(parts: list[tuple[float, int]], unit: float) -> None:
    found = combined([Contribution(u * unit, nu) for u, nu in parts])
    assert min(nu for _, nu in parts) * (1 - 1e-9) <= found.freedom <= sum(nu for _, nu in parts) * (1 + 1e-9)
    assert found.standard >= max(u for u, _ in parts) * unit
    assert found.factor >= 2.0 - 1e-6


@pytest.mark.parametrize(
    ("one", "field"),
    [(Contribution(-1.0), "standard"), (Contribution(math.nan), "standard"), (Contribution(1.0, 0), "freedom")],
)
def test_what_is_no_uncertainty_is_refused(one: Contribution, field: str) -> None:
    with pytest.raises(BadInput) as caught:
        combined((Contribution(1.0), one))
    assert (caught.value.field, caught.value.row) == (field, 2)
