"""Parts that overlap, leave the section or leave the blade are named by their entry."""

from pathlib import Path

import numpy as np
import pytest

from bladewright.design.section_layout import section_layout
from bladewright.drawing.blade import Filler
from bladewright.drawing.file import BladeDrawing, read_drawing
from bladewright.errors import BadInput

FM31 = Path(__file__).parents[2] / "examples" / "fennmark" / "fm31.toml"


def changed(drawing: BladeDrawing, part: str, **values: float) -> BladeDrawing:
    return drawing.model_copy(update={part: getattr(drawing, part).model_copy(update=values)})


@pytest.mark.parametrize(
    ("part", "values", "field", "allowed"),
    [
        ("spar", {"nose_wall": 0.06}, "spar.nose_wall", "less than from the spar's face to the web"),
        ("spar", {"web": 0.07}, "spar.nose_wall", "less than from the spar's face to the web"),
        ("spar", {"top_wall": 0.02}, "spar", "walls that leave a hollow between nose wall and web"),
        ("spar", {"web_place": 0.93}, "spar.web_place", "a web that ends ahead of 0.93 of the chord"),
        ("spar", {"web_place": 0.90}, "spar", "walls that leave a hollow between nose wall and web"),
        ("doubler", {"front": 0.5}, "doubler.back", "more than 0.5 of the chord"),
        ("doubler", {"front": -0.1}, "doubler.front", "0 or more"),
        ("doubler", {"back": 1.1}, "doubler.back", "up to 1"),
        ("doubler", {"outer": 0.2}, "doubler.outer", "more than 0.25 m"),
        ("doubler", {"outer": 3.7}, "doubler.outer", "up to 3.55 m"),
        ("tip_weight", {"outer": 3.6}, "tip_weight.outer", "up to 3.55 m"),
        ("tip_weight", {"chordwise": 0.05}, "tip_weight.chordwise", "0.1037 to 0.2525 of the chord"),
        ("tip_weight", {"chordwise": 0.4}, "tip_weight.chordwise", "0.1037 to 0.2525 of the chord"),
        ("skin", {"top_thickness": 0.02, "bottom_thickness": 0.02}, "skin", "less than the nose radius"),
    ],
)
def test_what_does_not_fit_is_named(part: str, values: dict[str, float], field: str, allowed: str) -> None:
    with pytest.raises(BadInput) as refused:
        section_layout(changed(read_drawing(FM31), part, **values), np.array([0.2]))
    assert (refused.value.field, refused.value.allowed) == (field, allowed)
    assert isinstance(refused.value.value, float)


def test_a_filler_may_touch_web_and_seam_but_not_reach_into_them() -> None:
    drawing = read_drawing(FM31)
    for front, back, field in ((0.26, 0.9, "filler.front"), (0.3, 0.95, "filler.back"), (0.3, 0.3, "filler.back")):
        filler = Filler.model_construct(material="film-epoxy", front=front, back=back, inner=1.0, outer=3.0)
        with pytest.raises(BadInput) as refused:
            section_layout(drawing.model_copy(update={"filler": filler}), np.array([0.2]))
        assert refused.value.field == field
    fits = Filler.model_construct(material="film-epoxy", front=0.2675, back=0.93, inner=1.0, outer=3.0)
    parts = section_layout(drawing.model_copy(update={"filler": fits}), np.array([0.2])).parts
    assert next(part for part in parts if part.name == "filler").moments[0, 0] > 0.0
