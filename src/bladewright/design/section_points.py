"""Named points of the drawn section's parts at one radius, and the stress at each from what passes through."""

from collections.abc import Iterator
from dataclasses import dataclass

import numpy as np

from bladewright.design.blade_beam import beam_gaps
from bladewright.design.section_constants import section_constants
from bladewright.design.section_elements import DOUBLER, FILLER, FILM, SKIN, SPAR, section_elements
from bladewright.design.section_layout import SectionLayout
from bladewright.design.section_moduli import BEARING, filler_bears, material_of, moduli
from bladewright.drawing.file import BladeDrawing
from bladewright.engine.arrays import Floats, Integers
from bladewright.engine.structure.layers import heights
from bladewright.engine.structure.section_stress import (
    SectionLoads,
    Stress,
    axial_strain,
    carried_to_centres,
    shear_strain,
)
from bladewright.engine.structure.section_warping import SectionWarping, section_warping
from bladewright.errors import BadInput, MissingInput
from bladewright.figures import Missing

FINE = 2  # elements for stresses, to those for stiffness


@dataclass(frozen=True, slots=True)
class SectionPoint:
    """One place in one part."""

    name: str  # like "spar, top wall outside"
    part: str  # skin, spar, adhesive, doubler or filler
    material: str  # key of the drawing's materials
    x: float  # aft of the leading edge [m]
    z: float  # above the chord line [m]
    young: float  # [Pa]
    shear: float  # [Pa]


@dataclass(frozen=True, slots=True)
class SectionPoints:
    """The points of a section, with what their stresses are worked out from."""

    radius: float  # [m]
    axis: float  # place of the feathering axis, from the leading edge [m]
    points: tuple[SectionPoint, ...]
    warping: SectionWarping
    elements: Integers  # (p,) element of each point
    along: Floats  # (p,) place within it [-]
    across: Floats  # (p,) [-]

    def stress(self, loads: SectionLoads) -> Stress:
        """At every point, from loads at the elastic and shear centre."""
        x, z, young, shear = (
            np.array([getattr(p, name) for p in self.points]) for name in ("x", "z", "young", "shear")
        )
        axial = young * axial_strain(self.warping.stretching[0], loads, x, z)
        across = shear[:, None] * shear_strain(self.warping, 0, self.elements, self.along, self.across, loads)
        return Stress(axial, across[:, 0], across[:, 1])

    def from_the_axis(self, loads: SectionLoads) -> SectionLoads:
        """Loads told about the feathering axis, as ``stress`` takes them."""
        warp = self.warping
        x, z = warp.stretching[0, 1:3] / warp.stretching[0, 0]
        places = (float(place) for place in (x, z, warp.shear_x[0], warp.shear_z[0]))
        return carried_to_centres(loads, self.axis, 0.0, *places)


def section_points(drawing: BladeDrawing, radius: float) -> SectionPoints:
    """The named points of every bonded part at a radius [m]; ``MissingInput`` without moduli, spar or adhesive."""
    gaps = beam_gaps(drawing)
    plan = drawing.planform
    if gaps:
        raise MissingInput(f"{gaps[0].name} needs what is not entered", field=gaps[0].needs[0])
    if not plan.root <= radius <= plan.tip:
        raise BadInput(
            "is not on the blade", field="radius", value=radius, allowed=f"{plan.root:g} m to {plan.tip:g} m"
        )
    entered = moduli(drawing)
    assert not isinstance(entered.young, Missing)
    assert not isinstance(entered.shear, Missing)
    sections = section_constants(drawing, np.array([radius]))
    doubled, filled = (bool(sections.has(part)[0]) for part in ("doubler", "filler"))
    filled = filled and filler_bears(drawing)
    (meshed,) = section_elements(drawing, sections.layout, doubled, filled, FINE)
    warp = section_warping(meshed.mesh, entered.young, entered.shear)
    points, elements, along, across = [], [], [], []
    for name, layer, x, z in _wanted(drawing, sections.layout, doubled, filled):
        of_layer = np.flatnonzero(meshed.mesh.layers == layer)
        nodes = meshed.mesh.nodes[0, meshed.mesh.elements[of_layer]]
        nearest = int(np.argmin(np.hypot(nodes[..., 0] - x, nodes[..., 1] - z)))
        element, node = divmod(nearest, 9)
        found_x, found_z = nodes[element, node]
        part = BEARING[layer]
        points.append(
            SectionPoint(
                name, part, str(material_of(drawing, part)), float(found_x), float(found_z),
                float(entered.young[layer]), float(entered.shear[layer]),
            )
        )  # fmt: skip
        elements.append(of_layer[element])
        along.append(node // 3 - 1.0)
        across.append(node % 3 - 1.0)
    return SectionPoints(
        radius, plan.feathering_axis * float(sections.chord[0]), tuple(points), warp,
        np.array(elements), np.array(along), np.array(across),
    )  # fmt: skip


def _wanted(
    drawing: BladeDrawing, layout: SectionLayout, doubled: bool, filled: bool
) -> Iterator[tuple[str, int, float, float]]:
    """Names, layers and places of the points."""
    spar, glue, doubler, filler = drawing.spar, drawing.adhesive, drawing.doubler, drawing.filler
    assert spar is not None
    assert glue is not None
    nose = layout.outer.shape[1] // 2
    chord, front = float(layout.chord[0]), float(layout.hollow[0, -1])
    web, ahead = front + 0.5 * spar.web, 0.5 * float(layout.hollow[0, 0] + front)
    seam, tail = float(layout.seam[0, 0]), float(layout.seam[0, -1])

    def sides(face: Floats, x: float) -> Iterator[tuple[str, float]]:
        top, bottom = heights(face, np.array([[x]]))
        yield "top", float(top[0, 0])
        yield "bottom", float(bottom[0, 0])

    yield "skin, leading edge", SKIN, *_place(layout.outer, nose)
    yield "spar, leading edge", SPAR, *_place(layout.spar_face, nose)
    for words, x in (
        ("over the hollow", ahead),
        ("over the web", web),
        ("half-way to the seam", 0.5 * (web + seam)),
        ("where the seam starts", seam),
        ("trailing edge", tail),
    ):
        for side, z in sides(layout.outer, x):
            yield f"skin {side}, {words}", SKIN, x, z
    for words, face, x in (
        ("outside", layout.spar_face, ahead),
        ("inside", layout.spar_wall, ahead),
        ("outside over the web", layout.spar_face, web),
    ):
        for side, z in sides(face, x):
            yield f"spar {side} wall, {words}", SPAR, x, z
    heads = [z for _, z in sides(layout.spar_wall, web)]
    yield "web, middle", SPAR, web, 0.5 * (heads[0] + heads[1])
    for side, z in sides(layout.laid(drawing.skin.top_thickness + 0.5 * glue.bondline), web):
        yield f"spar film {side}, over the web", FILM, web, z
    inside = [z for _, z in sides(layout.inner, tail)]
    yield "seam film, trailing edge", FILM, tail, 0.5 * (inside[0] + inside[1])
    if doubled and doubler is not None:
        face = layout.laid(-glue.bondline - doubler.thickness)
        for words, share in (("front", max(doubler.front, 0.0)), ("back", min(doubler.back, 1.0))):
            for side, z in sides(face, share * chord):
                yield f"doubler {side}, {words} edge", DOUBLER, share * chord, z
        for side, z in sides(face, web):
            yield f"doubler {side}, over the web", DOUBLER, web, z
    if filled and filler is not None:
        x = 0.5 * (filler.front + filler.back) * chord
        high, low = (z for _, z in sides(layout.inner, x))
        yield "filler, middle", FILLER, x, 0.5 * (high + low)


def _place(face: Floats, number: int) -> tuple[float, float]:
    x, z = face[0, number]
    return float(x), float(z)
