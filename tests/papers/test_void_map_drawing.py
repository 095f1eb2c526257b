"""The void map drawn: one scale both ways, every void once, every gap hatched. Worked by hand on the invented blade."""

import datetime

import pytest

from bladewright.design.bondlines import bondlines
from bladewright.evidence.records import LookedAt, Source, Void, VoidMap
from bladewright.figures import Finding, Outcome, Where
from bladewright.papers.void_map_drawing import LENGTHS, void_map_drawing
from tests.proof.invented_blade import DRAWING, SERIAL

DAY = datetime.date(2026, 3, 5)
WHOLE = tuple(LookedAt(line.name, line.inner, line.outer) for line in bondlines(DRAWING))
SPAR, BELOW = "spar to top skin", "spar to bottom skin"


def a_map(*voids: Void, looked_at: tuple[LookedAt, ...] = WHOLE) -> VoidMap:
    return VoidMap(Source("map.toml", "1" * 64), SERIAL, "R. Vane", DAY, "tapped", 0.001, looked_at, voids)


def test_a_void_is_drawn_to_the_scale_of_the_blade() -> None:
    """FM-31 is 3300 mm by 200 mm: in lengths of 1100 mm, and a void of 40 mm by 12 mm is that on the same sheet."""
    drawn = void_map_drawing(DRAWING, [a_map(Void(1, SPAR, 3.195, 0.040, 0.012, 0.2))], ())
    (box,) = drawn.boxes
    assert (box.width, box.height) == pytest.approx((40.0, 12.0))
    first = next(outline for outline in drawn.outlines if outline.kind == "blade")
    corners = [tuple(map(float, pair.split(","))) for pair in first.points.split()]
    assert max(x for x, _ in corners) - min(x for x, _ in corners) == pytest.approx(3300.0 / LENGTHS)
    assert max(y for _, y in corners) - min(y for _, y in corners) == pytest.approx(200.0)
    # 3.195 m lies in the last length, which begins at 2.45 m; 20 % of the chord is 40 mm from the leading edge
    last = [outline for outline in drawn.outlines if outline.kind == "blade"][-1]
    left, top = min(tuple(map(float, pair.split(","))) for pair in last.points.split())
    assert box.x + 20.0 - left == pytest.approx(1000.0 * (3.195 - 2.45), abs=0.01)
    assert box.y + 6.0 - top == pytest.approx(40.0, abs=0.01)


@pytest.mark.parametrize("station", [0.25, 0.9, 1.35, 2.45, 3.55])
def test_every_void_is_drawn_once_at_the_joints_and_ends_too(station: float) -> None:
    drawn = void_map_drawing(DRAWING, [a_map(Void(1, SPAR, station, 0.01, 0.01, 0.2))], ())
    assert len(drawn.boxes) == 1


def test_a_void_without_a_place_covers_the_chord() -> None:
    (box,) = void_map_drawing(DRAWING, [a_map(Void(1, SPAR, 2.0, 0.01, 0.01))], ()).boxes
    assert box.height == pytest.approx(200.0)


def test_a_small_void_is_drawn_large_enough_and_told_as_it_is() -> None:
    drawn = void_map_drawing(DRAWING, [a_map(Void(1, BELOW, 2.0, 0.001, 0.001, 0.2))], ())
    (box,), (row,) = drawn.boxes, drawn.rows
    assert box.width == box.height == 5.0
    assert box.below
    assert row.along.value == 0.001


def test_where_nobody_looked_is_hatched_and_told() -> None:
    part = (LookedAt(SPAR, 0.25, 3.0), *(one for one in WHOLE if one.bondline != SPAR))
    drawn = void_map_drawing(DRAWING, [a_map(looked_at=part)], (), "inch")
    gaps = [outline for outline in drawn.outlines if outline.kind == "gap"]
    assert [gap.words for gap in gaps] == ["spar to top skin: not looked at"]
    (told,) = (line for line in drawn.looked if line.bondline == SPAR)
    assert told.gaps == ("118.1 in to 139.8 in",)
    assert "not looked at: 1 place" in drawn.words


def test_voids_of_several_maps_are_counted_on_and_carry_the_verdicts_word() -> None:
    where = (Where("map.toml", "void 1", None, "2026-03-05"),)
    found = (Finding("void map: void 1", Outcome.FAIL, "outside", "void map", where=where),)
    one, two = a_map(Void(1, SPAR, 1.0, 0.01, 0.01, 0.2)), a_map(Void(1, SPAR, 2.0, 0.01, 0.01, 0.2))
    drawn = void_map_drawing(DRAWING, [one, two], found)
    assert [row.number for row in drawn.rows] == [1, 2]
    assert {row.outcome for row in drawn.rows} == {Outcome.FAIL}, "two files of one name: the worse"
    unjudged = void_map_drawing(DRAWING, [one], ())
    assert unjudged.rows[0].outcome is None
    assert unjudged.rows[0].sentence == "Not judged yet."
