"""Where the compressibility rules stop, and how they agree where they must. Figures from outside: selfcheck."""

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from bladewright.engine.flow.compressibility import (
    corrected_pressure,
    critical_mach,
    prandtl_glauert_factor,
    sonic_pressure,
)
from bladewright.errors import BadInput, OutsideValidity

RULES = ("prandtl-glauert", "karman-tsien", "laitone")


@settings(deadline=None)
@given(st.floats(-3.0, 1.0), st.floats(0.0, 0.9), st.sampled_from(RULES))
def test_a_value_below_the_sonic_one_is_outside_and_no_value_is_missing(low: float, mach: float, rule: str) -> None:
    found = corrected_pressure(np.array([low]), mach, rule)  # type: ignore[arg-type]
    assert not np.isnan(found.pressure[0])
    assert found.inside[0] == (found.pressure[0] > found.sonic)


@settings(deadline=None)
@given(st.floats(-1e-6, 1e-6), st.floats(0.0, 0.8), st.sampled_from(RULES))
def test_all_rules_are_one_for_small_disturbances(low: float, mach: float, rule: str) -> None:
    found = corrected_pressure(np.array([low]), mach, rule).pressure[0]  # type: ignore[arg-type]
    assert found == pytest.approx(low * prandtl_glauert_factor(mach), rel=1e-4, abs=1e-14)


@settings(deadline=None)
@given(st.floats(-3.0, -0.05), st.sampled_from(RULES))
def test_at_the_critical_mach_number_the_lowest_pressure_is_the_sonic_one(low: float, rule: str) -> None:
    mach = critical_mach(low, rule)  # type: ignore[arg-type]
    found = corrected_pressure(np.array([low]), mach, rule)  # type: ignore[arg-type]
    assert found.pressure[0] == pytest.approx(sonic_pressure(mach), rel=1e-6)


def test_beyond_the_end_of_a_rule_pressure_is_without_limit_and_outside() -> None:
    found = corrected_pressure(np.array([-1.2, -9.0]), 0.6, "karman-tsien")
    assert not found.inside.any()
    assert found.pressure[1] == -np.inf


def test_at_rest_nothing_changes() -> None:
    found = corrected_pressure(np.array([-2.0, 1.0]), 0.0)
    assert found.pressure == pytest.approx([-2.0, 1.0], abs=0.0)
    assert found.inside.all()


@pytest.mark.parametrize("mach", [1.0, 1.2, -0.1, float("nan")])
def test_a_stream_that_is_not_subsonic_is_refused(mach: float) -> None:
    with pytest.raises(BadInput) as refused:
        corrected_pressure(np.zeros(1), mach)
    assert refused.value.field == "mach"


def test_without_suction_there_is_no_critical_mach_number() -> None:
    with pytest.raises(OutsideValidity):
        critical_mach(0.2)
