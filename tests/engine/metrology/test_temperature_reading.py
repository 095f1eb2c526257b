"""A temperature reading's uncertainty: closed forms by the guide, and what adding a cause may do."""

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from bladewright.engine.metrology.combining import Contribution
from bladewright.engine.metrology.temperature_reading import RECTANGULAR, chance_below, reading_uncertainty
from bladewright.errors import BadInput
from bladewright.selfcheck import temperature_budget
from bladewright.selfcheck.case import Case

half_width = st.floats(0.0, 5.0)


@pytest.mark.outside
@pytest.mark.parametrize("case", temperature_budget.CASES, ids=lambda case: case.quantity)
def test_worked_by_hand(case: Case) -> None:
    assert case.ours() == pytest.approx(case.published, abs=case.band)


@given(sensor=half_width, logger=half_width, terminals=half_width, step=half_width)
def test_the_whole_is_no_less_than_any_part(sensor: float, logger: float, terminals: float, step: float) -> None:
    found = reading_uncertainty(Contribution(sensor), logger, terminals, step).standard
    parts = (sensor, RECTANGULAR * logger, RECTANGULAR * terminals, 0.5 * RECTANGULAR * step)
    assert found >= max(parts) * (1.0 - 1e-12)
    assert found == pytest.approx(math.hypot(*parts))


def test_few_readings_cover_by_a_greater_factor() -> None:
    # scatter alone, of three readings: Student's t for 2 degrees of freedom at 95.45 %, 4.53 (JCGM 100:2008, table G.2)
    found = reading_uncertainty(Contribution(0.0), 0.0, 0.0, 0.0, 0.3, 3)
    assert found.standard == pytest.approx(0.3 / math.sqrt(3.0))
    assert found.factor == pytest.approx(4.53, abs=0.005)


def test_on_the_limit_it_is_even_and_far_from_it_sure() -> None:
    assert chance_below(391.15, 391.15, 0.4) == 0.5
    assert chance_below(391.15, 393.15, 0.4) == pytest.approx(2.87e-7, rel=1e-2)  # five standard deviations
    assert chance_below(391.15, 389.15, 0.4) == pytest.approx(1.0, abs=1e-6)


@pytest.mark.parametrize(
    ("ask", "field"),
    [
        (lambda: reading_uncertainty(Contribution(0.1), -0.1, 0.0, 0.0), "logger"),
        (lambda: reading_uncertainty(Contribution(0.1), 0.1, math.nan, 0.0), "cold_junction"),
        (lambda: reading_uncertainty(Contribution(0.1), 0.1, 0.0, math.inf), "resolution"),
        (lambda: reading_uncertainty(Contribution(0.1), 0.1, 0.0, 0.0, 0.2), "readings"),
        (lambda: chance_below(391.0, 392.0, 0.0), "standard"),
    ],
)
def test_what_is_no_uncertainty_is_refused(ask: object, field: str) -> None:
    with pytest.raises(BadInput) as caught:
        ask()  # type: ignore[operator]
    assert caught.value.field == field
