"""Mass and stiffness of the drawn blade's sections at many radii.

Sections of one drawing differ by their chord and by the parts that begin or end. So the sections are worked out at a
few chords and read between them by a polynomial: exact where the chord is constant.
"""

import dataclasses
import itertools
from dataclasses import dataclass

import numpy as np

from bladewright.design.section_elements import section_elements
from bladewright.design.section_layout import Part, SectionLayout, section_layout
from bladewright.design.section_moduli import BEARING, filler_bears, material_of, moduli
from bladewright.drawing.file import BladeDrawing
from bladewright.engine.arrays import Bools, Floats
from bladewright.engine.structure.bending import Bending, bending
from bladewright.engine.structure.section_warping import section_warping
from bladewright.figures import Missing

KNOTS = 4  # chords worked out on a tapered blade: constants within 0.12 % of working out every one
SAME_CHORD = 1e-9  # [m]


@dataclass(frozen=True, slots=True)
class SectionStiffness:
    """Stiffness at some radii; None where moduli are missing."""

    bending: Bending | None
    torsion: Floats | None  # G J [N m^2]
    shear_x: Floats | None  # shear centre, aft of the leading edge [m]
    shear_z: Floats | None  # above the chord line [m]
    shearing: Floats | None  # (s, 2, 2) force aft and up for a shear aft and up [N]
    stretching: Floats | None  # (s, 6) E times 1, x, z, x^2, z^2, x z, about the leading edge [N to N m^2]
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

    def has(self, name: str) -> Bools:
        """Whether a part is there at each radius. (s,)"""
        reaches = [_reached(part, self.radii) > 0.0 for part in self.parts if part.name == name]
        return reaches[0] if reaches else np.zeros(len(self.radii), dtype=np.bool_)


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
    """Bending, torsion and shear of sections, as far as the entered moduli allow."""
    entered = moduli(drawing)
    young, shear = entered.young, entered.shear
    stretching = bend = torsion = shear_x = shear_z = shearing = None
    if not isinstance(young, Missing):
        of = {material_of(drawing, part): value for part, value in zip(BEARING, young, strict=True)}
        bearing = [of[part.material] * part.moments for part in sections.parts if part.bears]
        stretching = sum(bearing, np.zeros((len(sections.radii), 6)))
        bend = bending(stretching)
    if not isinstance(shear, Missing):
        known = shear if isinstance(young, Missing) else young  # torsion does not ask for Young's modulus
        torsion, shear_x, shear_z, shearing = _warped(drawing, sections, known, shear)
    if isinstance(young, Missing):
        shear_x = shear_z = shearing = None
    return SectionStiffness(bend, torsion, shear_x, shear_z, shearing, stretching, entered.missing)


def _warped(
    drawing: BladeDrawing, sections: SectionConstants, young: Floats, shear: Floats
) -> tuple[Floats, Floats, Floats, Floats]:
    """G J, both places of the shear centre and the stiffness in shear, at every radius."""
    found = np.empty((len(sections.radii), 6))
    sheet, core = sections.has("doubler"), sections.has("filler") & filler_bears(drawing)
    for doubled, filled in itertools.product((False, True), repeat=2):
        here = (sheet == doubled) & (core == filled)
        if not here.any():
            continue
        knots = np.empty((len(sections.layout.chord), 6))
        for group in section_elements(drawing, sections.layout, doubled, filled):
            warp = section_warping(group.mesh, young, shear)
            flat = np.linalg.inv(warp.giving).reshape(-1, 4)[:, [0, 1, 3]]
            knots[group.at] = np.column_stack((warp.torsion, warp.shear_x, warp.shear_z, flat))
        found[here] = sections.weights[here] @ knots
    return found[:, 0], found[:, 1], found[:, 2], found[:, [3, 4, 4, 5]].reshape(-1, 2, 2)


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
