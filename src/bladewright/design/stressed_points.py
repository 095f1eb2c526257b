"""Named points of the section's parts along the span, and the direct stress there from pull and both bendings.

A part takes the strain of the section at its place: plane sections stay plane, bonded parts go together.
"""

from dataclasses import dataclass

import numpy as np

from bladewright.design.inner_loads import InnerLoads
from bladewright.design.section_layout import SectionLayout, section_layout
from bladewright.drawing.file import BladeDrawing
from bladewright.engine.arrays import Floats, Integers
from bladewright.engine.dynamics.blade_beam import BladeBeam

EVEN = 34  # even stations besides both sides of every step
STEP = 1e-6  # [m] as the beam's stations at a step are apart


@dataclass(frozen=True, slots=True)
class Point:
    """One fibre along the span; ``there`` tells where the part reaches."""

    part: str  # "skin", "spar", "doubler"
    place: str  # "top, highest"
    material: str  # key of the drawing's materials
    x: Floats  # (s,) aft of the feathering axis [m]
    z: Floats  # (s,) [m]
    there: Floats  # (s,) 1 or 0

    @property
    def name(self) -> str:
        """Part and place."""
        return f"{self.part}, {self.place}"


@dataclass(frozen=True, slots=True)
class StressedBlade:
    """Stations, points, and the beam's constants there."""

    y: Floats  # (s,) [m]
    chord: Floats  # (s,) [m]
    layout: SectionLayout  # at the stations
    points: tuple[Point, ...]
    beam: BladeBeam

    def at(self, values: Floats) -> Floats:
        """What stands along the beam, at the stations."""
        return np.interp(self.y, self.beam.y, values)

    def strain(self, loads: InnerLoads, x: Floats, z: Floats) -> Floats:
        """Stretch at places of the stations, from the feathering axis. [1]

        ``e = P/EA + k_x (x - x_e) + k_z (z - z_e)``; ``[EI_zz, EI_xz; EI_xz, EI_xx] [k_z, k_x] = -[M_f, M_c]``.
        """
        beam = self.beam
        flap, chord = self.at(loads.flap_moment), self.at(loads.chord_moment)
        zz, xx, xz = self.at(beam.flapwise), self.at(beam.chordwise), self.at(beam.bending_product)
        whole = zz * xx - xz**2
        up, aft = (xz * chord - xx * flap) / whole, (xz * flap - zz * chord) / whole
        stretch = self.at(loads.tension) / self.at(beam.axial)
        return stretch + aft * (x - self.at(beam.elastic_x)) + up * (z - self.at(beam.elastic_z))

    def stress(self, loads: InnerLoads, point: Point, modulus: float) -> Floats:
        """Direct stress along a point, nought where its part is not. [Pa], of a modulus [Pa]"""
        return modulus * self.strain(loads, point.x, point.z) * point.there


def stressed_blade(drawing: BladeDrawing, beam: BladeBeam) -> StressedBlade:
    """The points of every part that bears, at stations from root to tip."""
    plan = drawing.planform
    even = np.linspace(plan.root, plan.tip, EVEN)
    steps = np.nonzero(np.diff(beam.y) < 2.0 * STEP)[0]
    bolts = [hole.radius for hole in drawing.doubler.bolts] if drawing.doubler else []
    y = np.unique(np.concatenate((even, beam.y[steps], beam.y[steps + 1], bolts)))
    chord = np.interp(y, [s.radius for s in plan.stations], [s.chord for s in plan.stations])
    layout = section_layout(drawing, chord)
    return StressedBlade(y, chord, layout, tuple(_points(drawing, layout, y, chord)), beam)


def _points(drawing: BladeDrawing, layout: SectionLayout, y: Floats, chord: Floats) -> list[Point]:
    axis = drawing.planform.feathering_axis * chord
    spar, doubler, glue = drawing.spar, drawing.doubler, drawing.adhesive
    assert spar is not None
    assert glue is not None
    everywhere = np.ones_like(y)
    seam = glue.seam_start * chord
    web = spar.web_place * chord + 0.5 * spar.web

    def point(part: str, place: str, material: str, line: Floats, at: Integers, there: Floats = everywhere) -> Point:
        rows = np.arange(len(y))
        return Point(part, place, material, line[rows, at, 0] - axis, line[rows, at, 1], there)

    outer, face = layout.outer, layout.spar_face
    middle = outer.shape[1] // 2
    top, bottom = slice(0, middle + 1), slice(middle, None)
    skin = drawing.skin.material
    found = [
        point("skin", "top, highest", skin, outer, outer[..., 1].argmax(-1)),
        point("skin", "bottom, lowest", skin, outer, outer[..., 1].argmin(-1)),
        point("skin", "leading edge", skin, outer, outer[..., 0].argmin(-1)),
        point("skin", "top, over the web", skin, outer, _nearest(outer, web, top)),
        point("skin", "bottom, under the web", skin, outer, _nearest(outer, web, bottom)),
        point("skin", "top, where the seam begins", skin, outer, _nearest(outer, seam, top)),
        point("skin", "bottom, where the seam begins", skin, outer, _nearest(outer, seam, bottom)),
        point("skin", "trailing edge", skin, outer, np.zeros(len(y), dtype=np.intp)),
        point("spar", "nose", spar.material, face, face[..., 0].argmin(-1)),
        point("spar", "top wall, highest", spar.material, face, face[..., 1].argmax(-1)),
        point("spar", "bottom wall, lowest", spar.material, face, face[..., 1].argmin(-1)),
        point("spar", "top of the web", spar.material, face, _nearest(face, web, top)),
        point("spar", "bottom of the web", spar.material, face, _nearest(face, web, bottom)),
    ]
    if doubler is not None:
        over = layout.laid(-(glue.bondline + doubler.thickness))
        reach = ((y >= doubler.inner) & (y <= doubler.outer)).astype(np.float64)
        found += [
            point("doubler", "top, highest", doubler.material, over, over[..., 1].argmax(-1), reach),
            point("doubler", "bottom, lowest", doubler.material, over, over[..., 1].argmin(-1), reach),
        ]
    return found


def _nearest(line: Floats, x: Floats, side: slice) -> Integers:
    """Number of the point of one side nearest to a place along the chord."""
    return np.asarray(np.abs(line[:, side, 0] - x[:, None]).argmin(-1) + (side.start or 0))
