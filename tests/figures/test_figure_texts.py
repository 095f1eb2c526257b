"""How a figure reads: no finer than it is known. Rounding by JCGM 100:2008, 7.2.6 (from memory): U to two figures."""

import math
import zoneinfo

import pytest
from hypothesis import given
from hypothesis import strategies as st

from bladewright.errors import BladewrightError
from bladewright.figures import Figure, Where, counted, in_both_units, places_known, rounded, where_text
from bladewright.proof.wording import every


@pytest.mark.parametrize(
    ("value", "uncertainty", "text"),
    [
        (100.02147, 0.00079, "100.02147"),  # the guide's own example of a mass, in grams (JCGM 100:2008, 7.2.2)
        (17.0994, 0.012, "17.099"),
        (-27.277, 0.63, "-27.28"),
        (12345.6, 120.0, "12350"),
        (-1e-9, 0.01, "0.000"),  # no minus nothing
        (17.0994, None, "17.1"),
        (46909.0, None, "46900"),
        (8.0, None, "8"),
        (5.5114e7, None, "5.51e+07"),
        (0.0069457, None, "0.00695"),
        (0.0, None, "0"),
        (math.inf, None, "no value"),
    ],
)
def test_a_value_is_written_no_finer_than_it_is_known(value: float, uncertainty: float | None, text: str) -> None:
    assert rounded(value, uncertainty) == text


@given(st.floats(-1e5, 1e5), st.floats(1e-6, 1e4))
def test_rounding_moves_a_value_by_less_than_a_tenth_of_its_uncertainty(value: float, uncertainty: float) -> None:
    assert abs(float(rounded(value, uncertainty)) - value) <= 0.0501 * uncertainty + 1e-9 * abs(value)


def test_both_units_are_rounded_each_by_its_own_uncertainty() -> None:
    assert in_both_units(Figure("force", -3.9247, "N", 0.63)) == "-3.92 N (-0.88 lbf)"
    assert in_both_units(Figure("span moment", 17.099, "kg m")) == "17.1 kg m (1480 lb in)"
    assert in_both_units(Figure("share", 0.25, "1")) == "0.25"
    # 25.4 mm is an inch by definition; a shop says short lengths in mm
    assert in_both_units(Figure("crack", 0.0254, "m")) == "25.4 mm (1 in)"
    assert in_both_units(Figure("bondline", 0.000127, "m", 0.0000127)) == "0.127 mm (0.00500 in)"
    assert in_both_units(Figure("radius", 2.54, "m")) == "2.54 m (100 in)"


def test_an_uncertainty_that_says_nothing_gives_no_place() -> None:
    assert [places_known(u) for u in (None, 0.0, math.nan, math.inf)] == [None] * 4


def test_a_place_is_read_by_the_shops_own_clock_through_a_change_of_it() -> None:
    london = zoneinfo.ZoneInfo("Europe/London")  # put forward on 29 March 2026 at 01:00 UTC (IANA, from memory)
    where = Where("run.csv", "Mould 4", 105, "2026-03-29T00:30:00Z", "2026-03-29T01:30:05Z")
    assert where_text(where, london) == (
        "run.csv, Mould 4, row 105, 2026-03-29 00:30 UTC to 2026-03-29 02:30:05 UTC+01:00"
    )
    assert where_text(Where("sheet.csv", "twist", 7, "2026-03-30"), london) == "sheet.csv, twist, row 7, 2026-03-30"
    assert where_text(Where(time="600 s"), london) == "600 s"
    assert where_text(Where(time="2026-07-01T12:00:00Z")) == "2026-07-01 12:00 UTC"


def test_one_of_a_thing_is_not_several() -> None:
    assert [counted(n, "blade") for n in (0, 1, 2)] == ["0 blades", "1 blade", "2 blades"]
    assert [every(n, "sensor") for n in (1, 2, 6)] == ["The only sensor", "Both sensors", "All 6 sensors"]


@pytest.mark.parametrize("value", [math.nan, math.inf, -math.inf])
def test_what_is_no_number_never_becomes_a_figure(value: float) -> None:
    with pytest.raises(BladewrightError) as refused:
        Figure("torsional stiffness", value, "N m^2")
    assert refused.value.field == "torsional stiffness"
