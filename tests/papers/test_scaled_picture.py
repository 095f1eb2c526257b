"""A picture to scale: one scale both ways, nothing a page would run, every part in its key."""

import re
from pathlib import Path
from xml.etree import ElementTree

from bladewright.design.to_scale import planform_to_scale, section_to_scale
from bladewright.drawing.editing import drawn_with
from bladewright.drawing.file import parse_drawing
from bladewright.figures import Axis, Chart, Curve
from bladewright.papers.scaled_picture import BESIDE, scaled_picture

FM31 = (Path(__file__).parents[2] / "examples" / "fennmark" / "fm31.toml").read_bytes()
SQUARE = Curve("blade", (0.0, 100.0, 100.0, 0.0, 0.0), (0.0, 0.0, 50.0, 50.0, 0.0))


def test_the_box_is_as_wide_and_high_as_what_is_drawn() -> None:
    chart = Chart("square", "A square", Axis("x", "mm"), Axis("y", "mm"), (SQUARE,), true_scale=True)
    picture = scaled_picture(chart)
    box = re.search(r'viewBox="([^"]+)"', picture.svg)
    assert box is not None
    left, top, wide, high = map(float, box[1].split())
    assert (left, top, wide, high) == (-2.0, -52.0, 104.0, 54.0)  # two parts in a hundred of room all round, up is up
    assert "M0.00 -0.00L100.00 -0.00L100.00 -50.00" in picture.svg


def test_it_is_well_formed_and_has_nothing_that_runs_or_is_fetched() -> None:
    drawing = parse_drawing(FM31, "")
    for chart in (section_to_scale(drawing, 2.6), planform_to_scale(drawing)):
        picture = scaled_picture(chart)
        seen = ElementTree.fromstring(picture.svg)
        for element in seen.iter():
            assert not {name for name in element.attrib if name.startswith("on") or name in ("style", "href")}
            assert element.tag in ("svg", "path", "line")
        assert seen.attrib["role"] == "img"
        assert {key.words for key in picture.keys} == {curve.name for curve in chart.curves if not curve.beside}


def test_a_name_cannot_break_out_of_the_picture() -> None:
    odd = Chart("odd", '"><script>', Axis("x", "mm"), Axis("y", "mm"), (SQUARE,), true_scale=True)
    assert "<script>" not in scaled_picture(odd).svg


def test_what_it_is_compared_with_lies_over_it_broken() -> None:
    drawing, other = parse_drawing(FM31, ""), drawn_with(FM31, {"spar.web_place": "28 %"})
    alone = scaled_picture(section_to_scale(other, 2.6))
    both = scaled_picture(section_to_scale(other, 2.6), section_to_scale(drawing, 2.6))
    assert (alone.compared, both.compared) == (False, True)
    assert both.svg.count(BESIDE) == len([one for one in section_to_scale(drawing, 2.6).curves if not one.beside])
