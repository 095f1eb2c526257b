"""A curve from test pieces: exact points come back, and its scatter is that of the pieces."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from bladewright.engine.strength.curve_fit import fit_power_law
from bladewright.errors import BadInput, MissingInput

STRESS = np.array([80e6, 80e6, 120e6, 120e6, 180e6, 180e6])


@given(coefficient=st.floats(3e8, 3e9), exponent=st.floats(0.05, 0.4))
def test_points_on_a_line_give_the_line(coefficient: float, exponent: float) -> None:
    found = fit_power_law(STRESS, (coefficient / STRESS) ** (1.0 / exponent))
    assert found.curve.coefficient == pytest.approx(coefficient, rel=1e-6)
    assert found.curve.exponent == pytest.approx(exponent, rel=1e-6)
    assert found.scatter.deviation == pytest.approx(0.0, abs=1e-6)
    assert (found.curve.least_stress, found.curve.greatest_stress) == (80e6, 180e6)


def test_scatter_by_hand() -> None:
    # pairs at each level, d above and below: the line runs between, s**2 = 6 d**2 / 4
    d = 0.1
    cycles = (900e6 / STRESS) ** 6.0 * 10.0 ** np.array([d, -d, d, -d, d, -d])
    found = fit_power_law(STRESS, cycles)
    assert found.curve.exponent == pytest.approx(1.0 / 6.0, rel=1e-9)
    assert found.scatter.deviation == pytest.approx(d * 1.5**0.5, rel=1e-9)
    assert found.scatter.count == 4


def test_what_is_no_test_series_is_named() -> None:
    falling = 1e5 * (80e6 / STRESS) ** 6
    with pytest.raises(MissingInput) as missing:
        fit_power_law(STRESS[:4], falling[:4])
    assert (missing.value.field, missing.value.value) == ("cycles", 4)
    for field, stress, cycles in (
        ("stress", np.full(6, 80e6), falling),
        ("cycles", STRESS, falling[::-1]),
        ("cycles", STRESS, np.where(STRESS > 100e6, falling, 0.0)),
        ("stress", -STRESS, falling),
    ):
        with pytest.raises(BadInput) as caught:
            fit_power_law(stress, cycles)
        assert caught.value.field == field
