"""Voids on the blade seen from above, to one scale along and across: plain shapes that a page draws.

The span is cut into lengths, one under the other, root first, so that a void of a few millimetres can still be seen.
"""

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from typing import Final

from bladewright.design.bondlines import bondlines
from bladewright.design.outline import chord_at
from bladewright.drawing.file import BladeDrawing
from bladewright.evidence.records import Void, VoidMap
from bladewright.figures import WORST_FIRST, Figure, Finding, Outcome, counted, in_system
from bladewright.proof.void_map import gaps_of, place_of

LENGTHS: Final = 3  # the span is cut into; our own choice
_MM: Final = 1000.0
_MARGIN, _HEAD, _FOOT = 30.0, 26.0, 34.0  # [mm] of the blade, around each length
_STEP: Final = 0.25  # [m] between station marks
_LEAST: Final = 5.0  # [mm] a void is drawn no smaller, and its true size stands in the table
_NUMBER: Final = 9.0  # [mm] from a void to its number


@dataclass(frozen=True, slots=True)
class Outline:
    """A closed outline; ``kind``: blade, spar, zone or gap."""

    points: str
    kind: str
    words: str = ""


@dataclass(frozen=True, slots=True)
class Box:
    """A void, to scale."""

    x: float
    y: float
    width: float
    height: float
    number: int
    number_x: float
    number_y: float
    outcome: Outcome | None
    below: bool  # on the bottom skin, seen through the blade
    words: str


@dataclass(frozen=True, slots=True)
class Mark:
    """A station along a length."""

    x: float
    top: float
    bottom: float
    words_y: float
    words: str


@dataclass(frozen=True, slots=True)
class VoidRow:
    """One void of the table beside the drawing."""

    number: int
    bondline: str
    station: Figure
    share: str  # of the rotor radius
    chordwise: str
    along: Figure
    across: Figure
    outcome: Outcome | None
    sentence: str
    found_by: str
    found_on: str
    method: str
    file: str


@dataclass(frozen=True, slots=True)
class Looked:
    """One bondline: whether all of it was looked at, and where not."""

    bondline: str
    whole: str
    gaps: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class VoidMapDrawing:
    """Everything a page needs to draw the map and to tell it in words."""

    width: float
    height: float
    outlines: tuple[Outline, ...]
    boxes: tuple[Box, ...]
    marks: tuple[Mark, ...]
    rows: tuple[VoidRow, ...]
    looked: tuple[Looked, ...]
    words: str


@dataclass(frozen=True, slots=True)
class _Length:
    """One of the lengths the span is cut into: its radii [m] and where it stands on the sheet [mm]."""

    drawing: BladeDrawing
    inner: float
    outer: float
    axis: float  # [mm] where the feathering axis lies

    def x(self, radius: float) -> float:
        return _MARGIN + _MM * (radius - self.inner)

    def y(self, radius: float, fraction: float) -> float:
        aft = fraction - self.drawing.planform.feathering_axis
        return self.axis + _MM * aft * chord_at(self.drawing, radius)

    def strip(self, inner: float, outer: float, front: float, back: float) -> str:
        """The outline of a stretch, as far as it lies in this length; empty where it does not."""
        inner, outer = max(inner, self.inner), min(outer, self.outer)
        if not outer > inner:
            return ""
        inside = [s.radius for s in self.drawing.planform.stations if inner < s.radius < outer]
        radii = [inner, *inside, outer]
        there = [(self.x(r), self.y(r, front)) for r in radii]
        back_again = [(self.x(r), self.y(r, back)) for r in reversed(radii)]
        return " ".join(f"{x:.2f},{y:.2f}" for x, y in there + back_again)


def void_map_drawing(
    drawing: BladeDrawing, maps: Sequence[VoidMap], findings: Sequence[Finding], system: str = "metric"
) -> VoidMapDrawing:
    """The map over the whole span, with what the newest verdict found of each void."""
    lengths, height = _lengths(drawing)
    rows, found = [], []
    listed = [(one, void) for one in maps for void in one.voids]
    for number, (one, void) in enumerate(listed, 1):
        finding = _finding(one, void, findings)
        rows.append(_row(drawing, number, one, void, finding))
        found.append((number, void, finding.outcome if finding else None))
    gaps = [(line, gap) for line in bondlines(drawing) for gap in gaps_of(line, maps)]
    outlines = [outline for length in lengths for outline in _drawn(drawing, length)]
    outlines += [
        Outline(points, "gap", f"{line.name}: not looked at")
        for length in lengths
        for line, (inner, outer) in gaps
        if (points := length.strip(inner, outer, line.front, line.back))
    ]
    return VoidMapDrawing(
        width=2.0 * _MARGIN + _MM * (lengths[0].outer - lengths[0].inner),
        height=height,
        outlines=tuple(outlines),
        boxes=tuple(box for length in lengths for one in found for box in _boxes(length, *one)),
        marks=tuple(mark for length in lengths for mark in _marks(length, system)),
        rows=tuple(rows),
        looked=tuple(
            Looked(
                line.name,
                stretch_text(line.inner, line.outer, system),
                tuple(stretch_text(*gap, system) for gap in gaps_of(line, maps)),
            )
            for line in bondlines(drawing)
        ),
        words=_words(drawing, rows, len(gaps)),
    )


def _lengths(drawing: BladeDrawing) -> tuple[list[_Length], float]:
    plan = drawing.planform
    step = (plan.tip - plan.root) / LENGTHS
    chord = _MM * max(station.chord for station in plan.stations)
    tall = _HEAD + chord + _FOOT
    axis = _HEAD + plan.feathering_axis * chord
    ends = [(plan.root + n * step, plan.root + (n + 1) * step, n * tall + axis) for n in range(LENGTHS)]
    return [_Length(drawing, *end) for end in ends], LENGTHS * tall


def _drawn(drawing: BladeDrawing, length: _Length) -> Iterator[Outline]:
    plan = drawing.planform
    yield Outline(length.strip(plan.root, plan.tip, 0.0, 1.0), "blade")
    if drawing.spar is not None:
        yield Outline(length.strip(plan.root, plan.tip, 0.0, drawing.spar.web_place), "spar", "spar")
    for zone in drawing.limits.damage.zones if drawing.limits.damage else ():
        points = length.strip(zone.inner * plan.tip, zone.outer * plan.tip, zone.front, zone.back)
        if points:
            yield Outline(points, "zone", zone.name)


def _boxes(length: _Length, number: int, void: Void, outcome: Outcome | None) -> Iterator[Box]:
    """A void in the length its middle lies in; over the whole chord where nobody said where."""
    last = math.isclose(length.outer, length.drawing.planform.tip)
    if not (length.inner <= void.station < length.outer or (last and void.station >= length.outer)):
        return
    width, height = max(_MM * void.along, _LEAST), max(_MM * void.across, _LEAST)
    middle = length.x(void.station)
    top = length.y(void.station, void.chordwise if void.chordwise is not None else 0.0)
    if void.chordwise is None:
        height = length.y(void.station, 1.0) - top
    else:
        top -= 0.5 * height
    yield Box(
        x=middle - 0.5 * width, y=top, width=width, height=height, number=number, number_x=middle,
        number_y=top - _NUMBER if top - _NUMBER > length.axis - _HEAD else top + height + _NUMBER,
        outcome=outcome, below="bottom" in void.bondline, words=f"void {number}: {place_of(void)}",
    )  # fmt: skip


def _marks(length: _Length, system: str) -> Iterator[Mark]:
    first = math.ceil(length.inner / _STEP - 1e-9)
    for n in range(first, math.floor(length.outer / _STEP + 1e-9) + 1):
        radius = n * _STEP
        bottom = length.y(radius, 1.0)
        yield Mark(length.x(radius), length.y(radius, 0.0), bottom + 5.0, bottom + 20.0, _radius(radius, system))


def _row(drawing: BladeDrawing, number: int, one: VoidMap, void: Void, finding: Finding | None) -> VoidRow:
    return VoidRow(
        number=number,
        bondline=void.bondline,
        station=Figure("station", void.station, "m", one.uncertainty),
        share=f"{void.station / drawing.planform.tip:.3f} R",
        chordwise="not told: every zone there counts" if void.chordwise is None else f"{100.0 * void.chordwise:.3g} %",
        along=Figure("along the span", void.along, "m", one.uncertainty),
        across=Figure("across the chord", void.across, "m", one.uncertainty),
        outcome=finding.outcome if finding else None,
        sentence=finding.sentence if finding else "Not judged yet.",
        found_by=one.found_by,
        found_on=one.found_on.isoformat(),
        method=one.method,
        file=one.source.file,
    )


def _finding(one: VoidMap, void: Void, findings: Sequence[Finding]) -> Finding | None:
    """What the verdict says of a void; of two files of one name the worse."""
    mine = [
        finding
        for finding in findings
        for where in finding.where
        if (where.file, where.channel) == (one.source.file, f"void {void.number}")
    ]
    return min(mine, key=lambda finding: WORST_FIRST.index(finding.outcome), default=None)


def _radius(value: float, system: str) -> str:
    """A station without its uncertainty: it is a mark of the drawing."""
    if system == "inch":
        return f"{value / 0.0254:.1f} in"
    return f"{value:.2f} m"


def stretch_text(inner: float, outer: float, system: str) -> str:
    """A stretch of the span between two radii [m], in a person's units."""
    return f"{_radius(inner, system)} to {_radius(outer, system)}"


def _words(drawing: BladeDrawing, rows: Sequence[VoidRow], gaps: int) -> str:
    """The drawing in words, for who cannot see it."""
    told = [f"void {row.number} in the {row.bondline} at {in_system(row.station, 'metric')}" for row in rows]
    voids = "; ".join(told) if told else "no void found where it was looked"
    missing = (
        f"; not looked at: {counted(gaps, 'place')}" if gaps else "; every bondline was looked at over its whole span"
    )
    return f"{drawing.name} seen from above, root at the left of the first length: {voids}{missing}."
