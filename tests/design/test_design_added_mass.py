"""A coat on the drawn blade against hand sums. Closed forms; no source needed."""

from pathlib import Path

import numpy as np
import pytest

from bladewright.design.added_mass import added_along, coat_line
from bladewright.design.section_constants import section_constants
from bladewright.drawing.editing import with_values
from bladewright.drawing.file import BladeDrawing, parse_drawing
from bladewright.drawing.limits import AddedMass
from bladewright.errors import BadInput

FM31 = (Path(__file__).parents[2] / "examples" / "fennmark" / "fm31.toml").read_bytes()


def fm31(changes: dict[str, str | float | bool] | None = None) -> BladeDrawing:
    return parse_drawing(with_values(FM31, changes or {}), "fm31.toml")


def coat(**entries: str) -> AddedMass:
    return AddedMass.model_validate({"name": "coat", "area_density": "110 g/m^2"} | entries)


def test_a_whole_coat_weighs_what_the_drawing_s_own_paint_weighs() -> None:
    drawing = fm31()
    sections = section_constants(drawing, np.array([2.0]))
    paint = next(part for part in sections.parts if part.name == "paint")
    assert coat_line(drawing, 0.0, 1.0) * 0.2 ** np.array([1, 2, 2, 3, 3, 3]) == pytest.approx(paint.moments[0])


def test_pieces_of_a_coat_add_up_to_the_whole() -> None:
    drawing = fm31()
    parts = [coat_line(drawing, *ends) for ends in ((0.0, 0.13), (0.13, 0.7), (0.7, 1.0))]
    assert sum(parts) == pytest.approx(coat_line(drawing, 0.0, 1.0), rel=1e-12)


def test_both_faces_of_a_flat_part_are_twice_its_chord() -> None:
    # from 70 to 80 % of a 12 % section both faces slope by about a tenth: 0.2 (1 + slope**2/2) within a percent
    length, first, *_ = coat_line(fm31(), 0.7, 0.8)
    assert length == pytest.approx(0.2, rel=0.01)
    assert first / length == pytest.approx(0.75, abs=1e-3)


def test_a_coat_along_the_span_weighs_area_times_density() -> None:
    drawing = fm31()
    found = added_along(drawing, coat(inner="1.0 m", outer="3.0 m"))
    per_length = 0.110 * 0.2 * coat_line(drawing, 0.0, 1.0)[0]
    assert found.mass == pytest.approx(per_length * 2.0, rel=1e-12)
    assert found.span_moment == pytest.approx(per_length * 2.0 * 2.0, rel=1e-9)
    assert found.chordwise_moment / found.mass == pytest.approx(0.2 * 0.25, abs=0.003)  # mid-chord less the axis


@pytest.mark.parametrize("ends", [{"inner": "0.1 m"}, {"outer": "3.6 m"}, {"inner": "3.55 m"}])
def test_a_coat_off_the_blade_is_refused_by_field(ends: dict[str, str]) -> None:
    with pytest.raises(BadInput) as caught:
        added_along(fm31(), coat(**ends), "paint")
    assert caught.value.field == "paint"
    assert caught.value.allowed == "a reach between 0.25 m and 3.55 m"
    assert caught.value.value
    assert caught.value.fix
