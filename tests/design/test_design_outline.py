"""The drawing's outline: made from designation or coordinates, reflex included, mistakes named by their field."""

from pathlib import Path

import numpy as np
import pytest

from bladewright.design.outline import chord_at, outline_at, plain_outline, section_outline, twist_at
from bladewright.drawing.file import BladeDrawing, read_drawing
from bladewright.errors import BadInput

FM31 = Path(__file__).parents[2] / "examples" / "fennmark" / "fm31.toml"


@pytest.fixture(scope="module")
def drawing() -> BladeDrawing:
    return read_drawing(FM31)


def test_reflex_lifts_the_top_trailing_edge_by_the_bend_and_leaves_the_bottom(drawing: BladeDrawing) -> None:
    plain, bent = plain_outline(drawing), section_outline(drawing)
    assert np.allclose(bent.bottom[-1], plain.bottom[-1])
    # the last tenth of the chord turned by 2 deg: z rises by 0.1 sin 2 deg, less its own slope's share (1 - cos)
    rise = bent.top[-1, 1] - plain.top[-1, 1]
    assert rise == pytest.approx(0.1 * np.sin(np.radians(2.0)), abs=2e-5)


def test_outline_in_metres_is_the_unit_outline_times_the_chord(drawing: BladeDrawing) -> None:
    metres = outline_at(drawing, 2.0)
    assert np.allclose(metres.top, 0.2 * section_outline(drawing).top, rtol=1e-14)
    assert metres.breaks == section_outline(drawing).breaks


def test_twist_and_chord_run_straight_between_stations(drawing: BladeDrawing) -> None:
    assert np.degrees(twist_at(drawing, 0.5 * (0.25 + 3.55))) == pytest.approx(0.8)
    assert chord_at(drawing, 1.0) == pytest.approx(0.2)


def test_crossed_coordinates_are_refused_by_field(drawing: BladeDrawing) -> None:
    crossed = drawing.section.model_copy(
        update={
            "designation": None,
            "top": ((0.0, 0.0), (0.5, -0.05), (1.0, 0.0)),
            "bottom": ((0.0, 0.0), (0.5, 0.05), (1.0, 0.0)),
        }
    )
    with pytest.raises(BadInput) as caught:
        plain_outline(drawing.model_copy(update={"section": crossed}))
    assert caught.value.field == "section.top"
    assert caught.value.allowed == "the top above the bottom from leading edge to trailing edge"
