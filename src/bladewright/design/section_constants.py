"""Mass and stiffness of the drawn blade's sections at many radii.

Sections of one drawing differ by their chord and by the parts that begin or end. So the sections are worked out at a
few chords and read between them by a polynomial: exact where the chord is constant.
"""

import dataclasses
from dataclasses import dataclass

import numpy as np

from bladewright.design.section_ends import cell_ends
from bladewright.design.section_layout import Part, SectionLayout, section_layout
from bladewright.design.section_moduli import shear_moduli, youngs_moduli
from bladewright.design.section_shear import section_shear_centre
from bladewright.design.section_torsion import nose_block, section_torsion
from bladewright.drawing.file import BladeDrawing
from bladewright.engine.arrays import Floats
from bladewright.engine.structure.bending import Bending, bending
from bladewright.figures import Missing

KNOTS = 5  # chords worked out on a tapered blade: constants within 0.03 % of working out every one
SAME_CHORD = 1e-9  # [m]


@dataclass(frozen=True, slots=True)
class SectionStiffness:
    """Stiffness at some radii; None where moduli are missing."""

    bending: Bending | None
    torsion: Floats | None  # G J, without the doubler [N m^2]
    shear_x: Floats | None  # shear centre, aft of the leading edge [m]
    shear_z: Floats | None  # above the chord line [m]
    wall_to_depth: Floats  # web, or thickest spar wall with its skin, over the section's depth at the web [1]
    nose_share: Floats  # solid nose over the spar's length from leading edge to web [1]
    missing: tuple[Missing, ...]


@dataclass(frozen=True, slots=True)
class SectionConstants:
    """Sections at some radii."""

    radii: Floats  # (s,) [m]
    chord: Floats  # (s,) [m]
    parts: tuple[Part, ...]  # nought where a part does not reach
    weights: Floats  # (s, k) reading between the layout's chords
    layout: SectionLayout  # at k chords

    @property
    def mass(self) -> Floats:
        """Mass per length and its moments about the leading edge. (s, 6) [kg/m to kg m]"""
        return sum((part.density * part.moments for part in self.parts), np.zeros((len(self.radii), 6)))


def section_constants(drawing: BladeDrawing, radii: Floats) -> SectionConstants:
    """The parts' moments at the given radii [m]; ``MissingInput`` without spar or adhesive."""
    stations = drawing.planform.stations
    chord = np.interp(radii, [s.radius for s in stations], [s.chord for s in stations])
    knots, weights = _knots(chord)
    layout = section_layout(drawing, knots)
    parts = tuple(
        dataclasses.replace(part, moments=_reached(part, radii)[:, None] * (weights @ part.moments))
        for part in layout.parts
    )
    return SectionConstants(radii, chord, parts, weights, layout)


def section_stiffness(drawing: BladeDrawing, sections: SectionConstants) -> SectionStiffness:
    """Bending, torsion and shear centre of sections, as far as the entered moduli allow."""
    young, shear = youngs_moduli(drawing), shear_moduli(drawing)
    gaps = tuple(gap for gap in (young, shear) if isinstance(gap, Missing))
    bend = torsion = shear_x = shear_z = None
    if not isinstance(young, Missing):
        bearing = [young[part.material] * part.moments for part in sections.parts if part.bears]
        bend = bending(sum(bearing, np.zeros((len(sections.radii), 6))))
    if not isinstance(shear, Missing) and drawing.adhesive is not None:
        ends = cell_ends(sections.layout, drawing.adhesive, shear.film)
        nose = nose_block(ends, shear)
        torsion = sections.weights @ section_torsion(drawing, sections.layout, shear, ends, nose).stiffness
        if not isinstance(young, Missing):
            places = section_shear_centre(drawing, sections.layout, shear, young, ends, nose)
            shear_x, shear_z = (sections.weights @ place for place in places)
    depth = sections.weights @ (sections.layout.hollow_top - sections.layout.hollow_bottom)[:, -1]
    wall = _thickest_wall(drawing)
    spar = drawing.spar
    assert spar is not None
    return SectionStiffness(
        bend,
        torsion,
        shear_x,
        shear_z,
        np.maximum(wall, spar.web) / (depth + 2.0 * wall),
        spar.nose_wall / (sections.chord * spar.web_place - 0.5 * spar.web),
        gaps,
    )


def _thickest_wall(drawing: BladeDrawing) -> float:
    spar, skin = drawing.spar, drawing.skin
    assert spar is not None
    return max(spar.top_wall + skin.top_thickness, spar.bottom_wall + skin.bottom_thickness)


def _reached(part: Part, radii: Floats) -> Floats:
    if part.reach is None:
        return np.ones_like(radii)
    return ((radii >= part.reach[0]) & (radii <= part.reach[1])).astype(np.float64)


def _knots(chord: Floats) -> tuple[Floats, Floats]:
    """Chords to work out, and how much of each goes into every wanted one."""
    least, greatest = float(chord.min()), float(chord.max())
    known = np.unique(chord)
    known = known[np.concatenate(([True], np.diff(known) > SAME_CHORD))]
    if len(known) <= KNOTS:
        return known, (np.abs(chord[:, None] - known) <= SAME_CHORD).astype(np.float64)
    angle = np.pi * (np.arange(KNOTS) + 0.5) / KNOTS
    knots = 0.5 * (least + greatest) - 0.5 * (greatest - least) * np.cos(angle)
    away = chord[:, None] - knots
    at_knot = np.abs(away) <= SAME_CHORD
    share = np.sin(angle) * (-1.0) ** np.arange(KNOTS) / np.where(at_knot, 1.0, away)
    share = np.where(at_knot.any(-1, keepdims=True), at_knot, share)
    return knots, share / share.sum(-1, keepdims=True)
