"""Where every part of the drawn section lies, at many chords at once: the regions that weigh and bear.

Layers from outside in: paint, doubler on its film (root only), skin, film, spar. Skins that would overlap at the
trailing edge are cut at the mean line. The seam's film fills the gap as far as it can; where the skins lie further
apart it lies on the lower one that thick and holds nothing.
Bolts and bushings count as the metal they replace.
"""

import dataclasses
import itertools
from dataclasses import dataclass

import numpy as np

from bladewright.design.outline import section_outline
from bladewright.design.section_fit import (
    reach_of,
    require_a_hollow,
    require_parts_beside_each_other,
    require_room_in_the_nose,
    require_walls_that_do_not_fold,
    require_weight_in_the_hollow,
)
from bladewright.design.section_moduli import filler_bears
from bladewright.drawing.blade import Adhesive
from bladewright.drawing.file import BladeDrawing
from bladewright.engine.arrays import Floats, Integers
from bladewright.engine.structure.layers import Side, ahead_of, between, heights, inward_of, place_on, points_at
from bladewright.engine.structure.moments import line_moments, region_moments
from bladewright.errors import MissingInput

POINTS = 121  # a side of the outline: area within 0.02 % of the smooth one
PLACES = 41  # along a straight-sided part
SIDES: tuple[Side, Side] = ("top", "bottom")


@dataclass(frozen=True, slots=True)
class Part:
    """One part of the section: its moments of area [m^2 to m^4], or of a painted line [m to m^3]."""

    name: str
    material: str  # key of the drawing's materials; empty for paint
    moments: Floats  # (s, 6) about the leading edge, x aft, z up
    density: float  # [kg/m^3], of paint [kg/m^2]
    bears: bool = True  # paint and weights carry no load
    reach: tuple[float, float] | None = None  # radii from and to [m]; None: from root to tip


@dataclass(frozen=True, slots=True)
class SectionLayout:
    """The sections at some chords, with the parts found anywhere along the span."""

    chord: Floats  # (s,) [m]
    parts: tuple[Part, ...]
    outer: Floats  # (s, n, 2) outer face of the skin, top trailing edge round to bottom trailing edge [m]
    inward: Floats  # (n, 2) how the points of the outer face move for each metre of depth [-]
    inner: Floats  # (s, n, 2) inner face of the skin [m]
    spar_face: Floats  # (s, n, 2) outer face of the spar, run on to the trailing edge [m]
    spar_wall: Floats  # (s, n, 2) inner face of the spar's walls; means nothing ahead of the hollow [m]
    hollow: Floats  # (s, m) places along the spar's hollow [m]
    hollow_bottom: Floats  # (s, m) [m]
    hollow_top: Floats  # (s, m) [m]
    seam: Floats  # (s, m) places along the seam, to the trailing edge [m]
    seam_gap: Floats  # (s, m) how far apart the skins are there [m]

    def laid(self, depth: Floats | float) -> Floats:
        """The line that runs this deep [m] below the outer face. (s, n, 2) [m]"""
        line: Floats = self.outer + self.inward * depth
        return line

    def some(self, at: Integers) -> "SectionLayout":
        """The same at some of the chords."""
        fields = {f.name: getattr(self, f.name) for f in dataclasses.fields(self)}
        picked = {name: value[at] for name, value in fields.items() if name not in ("parts", "inward")}
        parts = tuple(dataclasses.replace(part, moments=part.moments[at]) for part in self.parts)
        return SectionLayout(parts=parts, inward=self.inward, **picked)


def section_layout(drawing: BladeDrawing, chord: Floats) -> SectionLayout:
    """Every part in sections of these chords [m]; ``MissingInput`` without spar or adhesive, ``BadInput`` if no fit."""
    spar, glue, skin = drawing.spar, drawing.adhesive, drawing.skin
    if spar is None or glue is None:
        raise MissingInput(
            "mass and stiffness need the spar and the adhesive", field="spar" if spar is None else "adhesive"
        )
    outline = section_outline(drawing, POINTS)
    whole = np.concatenate((outline.top[::-1], outline.bottom[1:]))
    outer, inward = whole * chord[:, None, None], inward_of(whole)
    thickness = np.full((len(whole), 1), skin.bottom_thickness)
    thickness[: POINTS - 1] = skin.top_thickness
    thickness[POINTS - 1] = 0.5 * (skin.top_thickness + skin.bottom_thickness)
    inner = _cut_at_the_mean_line(outer + inward * thickness, outer)
    spar_face = outer + inward * (thickness + glue.bondline)

    require_room_in_the_nose(outer, spar_face, spar.nose_wall)
    require_parts_beside_each_other(drawing, chord)

    back = spar.web_place * chord + 0.5 * spar.web
    begins = spar_face[..., 0].min(axis=-1) + spar.nose_wall
    hollow = begins[:, None] + (back - spar.web - begins)[:, None] * np.linspace(0.0, 1.0, PLACES)
    wall = np.where(np.arange(len(whole)) < POINTS, spar.top_wall, spar.bottom_wall)[:, None]
    spar_wall = spar_face + inward * wall
    hollow_top, hollow_bottom = heights(spar_wall, hollow)
    # walls thicker than the section fold over and seem to fit; it is thinnest at the hollow's front or the web's back
    face_top, face_bottom = heights(spar_face, np.column_stack((begins, back)))
    left = (face_top - face_bottom).min() - spar.top_wall - spar.bottom_wall
    require_a_hollow(hollow, np.minimum(hollow_top - hollow_bottom, left))
    require_walls_that_do_not_fold(outer, spar_wall, begins)
    require_weight_in_the_hollow(drawing)
    around_film, around_spar = (region_moments(ahead_of(face, back)) for face in (inner, spar_face))
    inside_spar = region_moments(between(hollow, hollow_bottom, hollow_top))
    begin, tail = glue.seam_start * chord, np.minimum(inner[:, 0, 0], inner[:, -1, 0])
    seam = begin[:, None] + (tail - begin)[:, None] * np.linspace(0.0, 1.0, PLACES)
    high, low = heights(inner, seam)
    gap = np.maximum(high - low, 0.0)
    filled = np.minimum(gap, fillable(glue))

    parts = [
        _part(drawing, "skins", skin.material, region_moments(np.concatenate((outer, inner[:, ::-1]), axis=1))),
        _part(drawing, "spar", spar.material, around_spar - inside_spar),
        _part(drawing, "spar film", glue.material, around_film - around_spar),
        _part(drawing, "seam film", glue.material, region_moments(between(seam, low, low + filled))),
    ]
    parts += _doubler(drawing, chord, outer, inward)
    parts += _tip_weight(drawing, chord, hollow, hollow_top - hollow_bottom)
    parts += _filler(drawing, chord, inner)
    if drawing.finish is not None:
        parts.append(Part("paint", "", line_moments(outer), drawing.finish.area_density, bears=False))
    parts += _tape(drawing, chord, outer)
    return SectionLayout(
        chord, tuple(parts), outer, inward, inner, spar_face, spar_wall, hollow, hollow_bottom, hollow_top, seam, gap
    )


def fillable(glue: Adhesive) -> float:
    """The widest gap [m] the film bonds across: as entered, or as wide as a glue line may be."""
    return glue.bondline_greatest if glue.fillable_gap is None else glue.fillable_gap


def _cut_at_the_mean_line(inner: Floats, outer: Floats) -> Floats:
    """Inner faces that have passed each other, brought back to half-way between the outer ones."""
    across = outer - outer[:, ::-1]
    passed = ((inner - inner[:, ::-1]) * across).sum(-1) < 0.0
    return np.where(passed[..., None], 0.5 * (outer + outer[:, ::-1]), inner)


def _part(
    drawing: BladeDrawing,
    name: str,
    material: str,
    moments: Floats,
    bears: bool = True,
    reach: tuple[float, float] | None = None,
) -> Part:
    return Part(name, material, moments, drawing.materials[material].density, bears, reach)


def _doubler(drawing: BladeDrawing, chord: Floats, outer: Floats, inward: Floats) -> list[Part]:
    doubler, glue = drawing.doubler, drawing.adhesive
    if doubler is None or glue is None:
        return []
    reach = reach_of(drawing, "doubler")
    faces = [outer - inward * depth for depth in (0.0, glue.bondline, glue.bondline + doubler.thickness)]
    if doubler.front > 0.0:
        x = chord[:, None] * np.linspace(doubler.front, doubler.back, PLACES)
        sides = [heights(face, x) for face in faces]
        layers = [
            region_moments(between(x, a[0], b[0])) + region_moments(between(x, b[1], a[1]))
            for a, b in itertools.pairwise(sides)
        ]
    else:  # round the nose
        inside = [region_moments(ahead_of(face, doubler.back * chord)) for face in faces]
        layers = [b - a for a, b in itertools.pairwise(inside)]
    return [
        _part(drawing, "doubler film", glue.material, layers[0], reach=reach),
        _part(drawing, "doubler", doubler.material, layers[1], reach=reach),
    ]


def _filler(drawing: BladeDrawing, chord: Floats, inner: Floats) -> list[Part]:
    """All the room between the skins."""
    filler = drawing.filler
    if filler is None:
        return []
    reach = reach_of(drawing, "filler")
    x = chord[:, None] * np.linspace(filler.front, filler.back, PLACES)
    top, bottom = heights(inner, x)
    room = region_moments(between(x, bottom, np.maximum(top, bottom)))
    return [_part(drawing, "filler", filler.material, room, filler_bears(drawing), reach)]


def _tape(drawing: BladeDrawing, chord: Floats, outer: Floats) -> list[Part]:
    """A line round the nose."""
    tape = drawing.erosion_tape
    if tape is None:
        return []
    ends = [place_on(outer, tape.back * chord, side)[:, None] for side in SIDES]
    along = np.linspace(0.0, 1.0, 2 * POINTS)
    line = points_at(outer, ends[0] + (ends[1] - ends[0]) * along)
    reach = reach_of(drawing, "erosion_tape")
    return [Part("erosion tape", "", line_moments(line), tape.area_density, bears=False, reach=reach)]


def _tip_weight(drawing: BladeDrawing, chord: Floats, places: Floats, depths: Floats) -> list[Part]:
    """A bar of its own metal, as deep as the spar's hollow where its centre lies."""
    weight = drawing.tip_weight
    if weight is None:
        return []
    reach = reach_of(drawing, "tip_weight")
    area = weight.mass / (reach[1] - reach[0]) / drawing.materials[weight.material].density
    x = weight.chordwise * chord
    depth = np.array([np.interp(at, place, deep) for at, place, deep in zip(x, places, depths, strict=True)])
    width = area / depth
    z = np.full_like(x, weight.height)
    bar = np.stack((area + 0 * x, area * x, area * z, area * (x * x + width**2 / 12.0),
                    area * (z * z + depth**2 / 12.0), area * x * z), axis=-1)  # fmt: skip
    return [_part(drawing, "tip weight", weight.material, bar, False, reach)]
