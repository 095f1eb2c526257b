"""A repaint of one blade, against hand sums on a blade whose every section is alike. Closed forms."""

from pathlib import Path

import pytest

from bladewright.design.added_mass import coat_line
from bladewright.design.repaint import repainted
from bladewright.drawing.editing import with_values
from bladewright.drawing.file import BladeDrawing, parse_drawing
from bladewright.drawing.limits import AddedMass
from bladewright.figures import Outcome

FM31 = (Path(__file__).parents[2] / "examples" / "fennmark" / "fm31.toml").read_bytes()


def fm31(changes: dict[str, str | float | bool] | None = None) -> BladeDrawing:
    return parse_drawing(with_values(FM31, changes or {}), "fm31.toml")


def coat(density: str = "110 g/m^2", **entries: str) -> AddedMass:
    return AddedMass.model_validate({"name": "paint", "area_density": density} | entries)


def test_span_moment_grows_by_area_density_times_perimeter_times_half_the_squares() -> None:
    perimeter = 0.2 * coat_line(fm31(), 0.0, 1.0)[0]
    by_hand = 0.110 * perimeter * (3.55**2 - 0.25**2) / 2.0
    found = {figure.name: figure for figure in repainted(fm31(), coat()).figures}
    assert found["span moment, more than its mate's"].value == pytest.approx(by_hand, rel=1e-9)
    assert found["mass of paint"].value == pytest.approx(0.110 * perimeter * 3.30, rel=1e-9)
    # two pockets at 3.52 m, 60 and 40 g
    assert found["span moment that trim weight can make up at most"].value == pytest.approx(0.352, rel=1e-9)


def test_the_drawing_with_twice_the_paint_is_the_repainted_blade() -> None:
    twice = repainted(fm31({"finish.area_density": "220 g/m^2"}), coat("0 g/m^2"))
    once = repainted(fm31(), coat())
    names = ("span moment, new", "chordwise centre of mass, new, aft of the axis")
    for name in names:
        values = [next(f.value for f in found.figures if f.name == name) for found in (twice, once)]
        assert values[0] == pytest.approx(values[1], rel=1e-4)  # trapezoids along the span


def test_a_whole_coat_parts_the_mates_and_a_thin_one_is_left_to_the_rig() -> None:
    thick, thin = repainted(fm31(), coat()), repainted(fm31(), coat("1 g/m^2"))
    assert [finding.outcome for finding in thick.findings] == [Outcome.FAIL, Outcome.FAIL]
    assert [finding.outcome for finding in thin.findings] == [Outcome.REFER, Outcome.REFER]
    assert all(finding.limit_source and finding.next_step for finding in thick.findings)


def test_without_limits_of_a_match_the_question_stays_open() -> None:
    drawing = fm31()
    bare = drawing.model_copy(update={"limits": drawing.limits.model_copy(update={"match": None})})
    found = repainted(bare, coat())
    assert found.findings == ()
    assert found.missing[0].needs == ("limits.match",)
