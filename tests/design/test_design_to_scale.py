"""The pictures hold the sizes of the drawing: lengths read off them, areas by the polygon rule."""

from pathlib import Path

import numpy as np
import pytest

from bladewright.design.section_constants import section_constants
from bladewright.design.to_scale import planform_to_scale, section_to_scale
from bladewright.drawing.editing import drawn_with
from bladewright.drawing.file import parse_drawing
from bladewright.figures import Chart, Curve

FM31 = (Path(__file__).parents[2] / "examples" / "fennmark" / "fm31.toml").read_bytes()
DRAWING = parse_drawing(FM31, "")


def named(chart: Chart, begins: str) -> list[Curve]:
    return [curve for curve in chart.curves if curve.name.startswith(begins)]


def rings(curve: Curve) -> list[np.ndarray]:
    points = np.array(list(zip(curve.x, [np.nan if y is None else y for y in curve.y], strict=True)))
    breaks = np.flatnonzero(np.isnan(points[:, 1]))
    return [part[~np.isnan(part[:, 1])] for part in np.split(points, breaks)]


def area(curve: Curve) -> float:
    """Of the outer ring less the inner, by the polygon rule. [mm^2]"""
    sizes = [abs(0.5 * float(np.sum(ring[:-1, 0] * ring[1:, 1] - ring[1:, 0] * ring[:-1, 1]))) for ring in rings(curve)]
    return sizes[0] - sum(sizes[1:])


@pytest.mark.parametrize("part", ["skins", "spar", "doubler", "tip weight"])
def test_each_part_is_as_large_as_it_weighs(part: str) -> None:
    # the layout's areas are integrals by Green's theorem of the same faces; doubler films and both sides counted once
    weighed = section_constants(DRAWING, np.array([0.5 if part == "doubler" else 3.4 if part == "tip weight" else 2.6]))
    wanted = next(float(one.moments[0, 0]) for one in weighed.parts if one.name == part) * 1e6
    drawn = sum(area(curve) for curve in named(section_to_scale(DRAWING, 2.6), part))
    assert drawn == pytest.approx(wanted, rel=0.01)


def test_the_reflex_turns_the_tail_up_by_its_angle() -> None:
    def tail(text: str) -> np.ndarray:
        return rings(section_to_scale(drawn_with(FM31, {"reflex.angle": text}), 2.6).curves[0])[0][0]

    # a straight flap of a tenth of a 200 mm chord: 20 mm times the sine of the angle
    rise = tail("6 deg")[1] - tail("0 deg")[1]
    assert rise == pytest.approx(20.0 * np.sin(np.radians(6.0)), rel=0.05)


def test_the_planform_has_the_drawing_s_radii_and_chords() -> None:
    chart = planform_to_scale(DRAWING)
    (blade,), (spar,), (weight,) = named(chart, "blade"), named(chart, "spar"), named(chart, "tip weight")
    assert (min(blade.x), max(blade.x)) == (250.0, 3550.0)
    high = [y for y in blade.y if y is not None]
    assert max(high) - min(high) == pytest.approx(200.0)
    assert (min(weight.x), max(weight.x)) == (3250.0, 3510.0)
    behind = [y for y in spar.y if y is not None]
    assert max(behind) == pytest.approx(0.01 * 200.0)  # web at 26 % of the chord, axis at 25 %
    assert len(named(chart, "bolt hole")) == 3


def test_without_a_spar_the_outline_stands_and_says_what_is_missing() -> None:
    bare = drawn_with(FM31, {}).model_copy(update={"spar": None})
    chart = section_to_scale(bare, 2.6)
    assert [curve.name for curve in chart.curves] == ["skins", "feathering axis"]
    assert "no spar" in chart.note
