"""An effect in flight is known no better than the theories agree, however well the reflex was measured."""

import math
from pathlib import Path

import pytest

from bladewright.design.as_built import as_built
from bladewright.design.records import Departure
from bladewright.design.reflex_bend import ANGLE, slope_doubt
from bladewright.drawing.file import BladeDrawing, read_drawing
from bladewright.figures import Figure

FM31 = Path(__file__).parents[2] / "examples" / "fennmark" / "fm31.toml"
HAND = "change of handle force, hover, all blades alike"


@pytest.fixture(scope="module")
def drawing() -> BladeDrawing:
    return read_drawing(FM31)


def effects(drawing: BladeDrawing, uncertainty: float) -> dict[str, Figure]:
    bent = Departure(ANGLE, math.radians(2.3), math.radians(uncertainty))
    return {figure.name: figure for figure in as_built(drawing, [bent]).effects}


def test_an_exact_reading_leaves_the_theories_difference(drawing: BladeDrawing) -> None:
    doubt = slope_doubt(drawing)
    assert doubt is not None
    exact = effects(drawing, 0.0)
    assert exact[HAND].uncertainty == pytest.approx(doubt * abs(exact[HAND].value))
    assert "theories" in exact[HAND].method
    assert "theories" not in exact["change of span moment"].method


def test_a_reading_s_own_uncertainty_comes_on_top(drawing: BladeDrawing) -> None:
    exact, read = effects(drawing, 0.0)[HAND], effects(drawing, 0.1)[HAND]
    assert exact.uncertainty is not None
    assert read.uncertainty is not None
    of_the_reading = math.sqrt(read.uncertainty**2 - exact.uncertainty**2)
    assert of_the_reading == pytest.approx(abs(read.value) / 3.0, rel=0.1)  # a third of the change, but for its curve
