"""Contribution bars: each departure by itself and all together are what ``as_built`` says, in the person's units."""

import math
from pathlib import Path

import pytest

from bladewright.design.as_built import as_built
from bladewright.design.contributions import HANDLE, PITCH, SPAN_MOMENT, TOLD, bars, in_flight
from bladewright.design.records import Departure
from bladewright.drawing.file import BladeDrawing, read_drawing

POUND = 4.4482216152605  # [N] exact by definition
FM31 = Path(__file__).parents[2] / "examples" / "fennmark" / "fm31.toml"
POUND_INCH = 0.45359237 * 0.0254  # [kg m] exact by definition


pytestmark = pytest.mark.usefixtures("_thin_sections")


@pytest.fixture(scope="module", name="fm31")
def _fm31() -> BladeDrawing:
    return read_drawing(FM31)


def departures(drawing: BladeDrawing) -> list[tuple[str, Departure]]:
    assert drawing.reflex is not None
    return [
        ("skin", Departure("skin.top_thickness", drawing.skin.top_thickness + 2e-5, 5e-6)),
        ("chord", Departure("planform.chord", 0.2003, 1e-4, 2.0)),
        ("as drawn", Departure("skin.bottom_thickness", drawing.skin.bottom_thickness, 5e-6)),
    ]


def test_each_bar_is_what_the_one_door_says(fm31: BladeDrawing) -> None:
    told = departures(fm31)
    found = in_flight(fm31, told)
    together = {effect.name: effect.value for effect in as_built(fm31, [one for _, one in told]).effects}
    for effect in TOLD:
        rows = dict(bars(found, effect).rows)
        assert rows["all together"] == pytest.approx(together[effect])
        for words, departure in told:
            alone = {one.name: one.value for one in as_built(fm31, [departure]).effects}[effect]
            assert rows.get(words, 0.0) == pytest.approx(alone, abs=1e-11)
        assert "as drawn" not in rows


def test_inches_are_the_same_bars_in_pounds(fm31: BladeDrawing) -> None:
    found = in_flight(fm31, departures(fm31))
    for effect, scale in ((HANDLE, POUND), (SPAN_MOMENT, POUND_INCH), (PITCH, 1.0)):
        metric, inch = dict(bars(found, effect).rows), dict(bars(found, effect, "inch").rows)
        assert all(math.isclose(metric[words], scale * value, rel_tol=1e-9) for words, value in inch.items())
    assert bars(found, HANDLE, "inch").axis.unit == "lbf"


def test_what_has_no_model_is_said(fm31: BladeDrawing) -> None:
    found = in_flight(fm31, [("length", Departure("length root to tip", 3.3005, 1e-4))])
    assert [gap.name for gap in found.missing] == ["flight effect of length root to tip"]
