"""The two theories beside the section's table: what each gives of a drawing, and how far apart they are."""

import math
from pathlib import Path

import numpy as np
import pytest

from bladewright.design.section_theories import mean_line_theory, outline_theory, surface_pressure
from bladewright.drawing.blade import Reflex, Section
from bladewright.drawing.file import BladeDrawing, read_drawing

FM31 = Path(__file__).parents[2] / "examples" / "fennmark" / "fm31.toml"


@pytest.fixture(scope="module")
def drawing() -> BladeDrawing:
    return read_drawing(FM31)


def test_a_symmetric_section_has_no_zero_lift_angle_and_no_thin_moment() -> None:
    section = Section(designation="0012", trailing_edge="closed")
    for theory in (mean_line_theory(section, None), outline_theory(section, None)):
        assert theory.zero_lift_angle == pytest.approx(0.0, abs=1e-9)
    assert mean_line_theory(section, None).moment == pytest.approx(0.0, abs=1e-9)


def test_thickness_adds_to_the_slope_of_lift() -> None:
    # 2 pi (1 + 0.77 t) for a 12 % section without layer; common rule, from memory
    found = outline_theory(Section(designation="0012", trailing_edge="closed"), None)
    assert found.lift_slope == pytest.approx(2.0 * math.pi * (1.0 + 0.77 * 0.12), rel=0.01)


def test_reflex_of_the_thick_section_does_a_little_more_than_of_its_mean_line(drawing: BladeDrawing) -> None:
    # numerical experiment with 600 panels on a closed 12 % section: 1.05 times the moment for a tenth of the chord
    assert drawing.reflex is not None
    more = drawing.reflex.model_copy(update={"angle": drawing.reflex.angle + math.radians(0.5)})

    def rise(bend: Reflex, theory: object) -> float:
        which = mean_line_theory if theory == "line" else outline_theory
        return which(drawing.section, bend).moment

    line, whole = (rise(more, name) - rise(drawing.reflex, name) for name in ("line", "outline"))
    assert 0.95 < whole / line < 1.15


def test_pressure_at_a_lift_integrates_to_it(drawing: BladeDrawing) -> None:
    found = surface_pressure(drawing.section, drawing.reflex, 0.6)
    normal = np.trapezoid(found.bottom[:, 1], found.bottom[:, 0]) - np.trapezoid(found.top[:, 1], found.top[:, 0])
    assert normal == pytest.approx(0.6, rel=0.02)  # of the normal force, by trapezoids
    assert max(found.top[:, 1].max(), found.bottom[:, 1].max()) == pytest.approx(1.0, abs=0.01)  # where the air stops
