"""Dew point and vapour pressure: against steam, and limits that hold whatever the formula."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from bladewright.engine.metrology.moist_air import dew_point, saturation_pressure
from bladewright.errors import BadInput, OutsideValidity
from bladewright.selfcheck import steam_tables
from bladewright.selfcheck.case import Case


@pytest.mark.outside
@pytest.mark.parametrize("case", steam_tables.CASES, ids=lambda case: case.quantity)
def test_against_steam(case: Case) -> None:
    assert case.ours() == pytest.approx(case.published, abs=case.band)


@given(air=st.floats(260.0, 330.0), humidity=st.floats(0.05, 1.0))
def test_vapour_at_the_dew_point_is_what_the_air_holds(air: float, humidity: float) -> None:
    dew = dew_point(air, humidity)
    assert dew <= air + 1e-9
    if dew > 228.2:
        held = humidity * float(saturation_pressure(air))
        assert float(saturation_pressure(dew)) == pytest.approx(held, rel=1e-9)


def test_full_air_is_at_its_dew_point() -> None:
    assert dew_point(295.0, 1.0) == pytest.approx(295.0, abs=1e-9)


def test_warmer_air_holds_more() -> None:
    assert (np.diff(saturation_pressure(np.linspace(230.0, 333.0, 50))) > 0.0).all()


@pytest.mark.parametrize("humidity", [0.0, -0.1, 1.01, 50.0, np.nan])
def test_a_humidity_in_per_cent_is_refused(humidity: float) -> None:
    with pytest.raises(BadInput) as caught:
        dew_point(295.0, humidity)
    assert (caught.value.field, caught.value.allowed) == ("humidity", "above 0, at most 1")


@pytest.mark.parametrize("air", [22.0, 340.0])
def test_air_outside_the_range_is_refused(air: float) -> None:
    with pytest.raises(OutsideValidity) as caught:
        dew_point(air, 0.5)
    assert caught.value.field == "temperature"
