"""Screens of the skins between web and seam: do they buckle, and does the air pull them out of shape?"""

import dataclasses
import itertools
from collections.abc import Iterator
from dataclasses import dataclass

import numpy as np

from bladewright.design.outline import chord_at
from bladewright.design.section_elements import SKIN, seam_closes
from bladewright.design.section_layout import SIDES, SectionLayout, section_layout
from bladewright.design.section_moduli import filler_bears
from bladewright.design.section_points import SectionPoints, section_points
from bladewright.drawing.file import BladeDrawing
from bladewright.engine.arrays import Floats
from bladewright.engine.rotor.atmosphere import standard_air
from bladewright.engine.structure.layers import Side, heights
from bladewright.engine.structure.plate_buckling import buckling_reserve, compression_limit, shear_limit
from bladewright.engine.structure.section_stress import SectionLoads, axial_strain, shear_strain
from bladewright.engine.structure.skin_in_flow import bulging_pressure, flow_pressure
from bladewright.errors import OutsideValidity
from bladewright.figures import Figure, Missing

BUCKLING = "long plate, edges that turn, curvature left out; docs/theory/skin-panels"
BULGING = "wavy wall against plate and arch; docs/theory/skin-panels"
SCREENING = "screening, not substantiation: "
SOURCE = "S. P. Timoshenko, J. M. Gere, 1961; G. Gerard, H. Becker, 1957; J. Ackeret, 1928 (from memory)"
UNCURVED = 0.0  # what curvature adds is left out: dents take it away first


@dataclass(frozen=True, slots=True)
class SkinScreens:
    """One radius's skins; each share is of what they bear, one or less is in order."""

    figures: tuple[Figure, ...]
    missing: tuple[Missing, ...]


@dataclass(frozen=True, slots=True)
class SkinPanel:
    """A skin between two supports."""

    side: Side
    begin: float  # from the leading edge [m]
    end: float  # [m]
    thickness: float  # [m]
    width: float  # straight from support to support [m]
    rise: float  # greatest distance of the outer face from that line [m]
    middle_x: Floats  # places along it [m]
    middle_z: Floats  # and half-way between both skins there [m]


def skin_screens(drawing: BladeDrawing, radius: float, loads: SectionLoads) -> SkinScreens:
    """Buckling under loads about the elastic and shear centre, and bulging in the fastest flow, at a radius [m]."""
    points = section_points(drawing, radius)
    material = drawing.materials[drawing.skin.material]
    if material.poisson_ratio is None:
        need = f"materials.{drawing.skin.material}.poisson_ratio"
        return SkinScreens((), (Missing("buckling and bulging of the skins", (need,)),))
    assert material.youngs_modulus is not None
    skin = (material.youngs_modulus, material.poisson_ratio)
    flow = _fastest_flow(drawing, radius)
    figures = []
    for panel in skin_panels(drawing, radius):
        plate = (*skin, panel.thickness, panel.width)
        pressed, sheared = _stresses(points, panel, loads)
        alone = compression_limit(*plate, "turning", UNCURVED, 0.0), shear_limit(*plate, "turning")
        reserve = buckling_reserve(pressed, sheared, *alone)
        share = float(np.max(1.0 / reserve))
        where = f"skin {panel.side}, {1e3 * panel.begin:.0f} to {1e3 * panel.end:.0f} mm"
        figures.append(_figure(drawing, f"{where}: share of the load that buckles it", share, BUCKLING))
        if not isinstance(flow, Missing):
            bears = bulging_pressure(*skin, panel.thickness, panel.width, panel.rise)
            figures.append(_figure(drawing, f"{where}: share of the flow that bulges it", flow / bears, BULGING))
    return SkinScreens(tuple(figures), (flow,) if isinstance(flow, Missing) else ())


def skin_panels(drawing: BladeDrawing, radius: float) -> tuple[SkinPanel, ...]:
    """Skins between web and seam that no filler holds; the doubler's help is left out."""
    layout = section_layout(drawing, np.array([chord_at(drawing, radius)]))
    return tuple(
        _panel(drawing, layout, side, begin, end)
        for begin, end in _open_stretches(drawing, layout, radius)
        for side in SIDES
    )


def _open_stretches(drawing: BladeDrawing, layout: SectionLayout, radius: float) -> Iterator[tuple[float, float]]:
    spar, glue, filler = drawing.spar, drawing.adhesive, drawing.filler
    assert spar is not None
    assert glue is not None
    chord = float(layout.chord[0])
    ends = [float(layout.hollow[0, -1]) + spar.web, float(seam_closes(layout, glue)[0])]
    if filler is not None and filler_bears(drawing) and filler.inner <= radius <= filler.outer:
        ends[1:1] = [filler.front * chord, min(filler.back * chord, ends[1])]
    yield from (pair for at, pair in enumerate(itertools.pairwise(ends)) if at != 1 and pair[1] > pair[0])


def _panel(drawing: BladeDrawing, layout: SectionLayout, side: Side, begin: float, end: float) -> SkinPanel:
    x = np.linspace(begin, end, 41)
    both = [line[0] for line in heights(layout.outer, x[None])]
    z = both[SIDES.index(side)]
    width = float(np.hypot(end - begin, z[-1] - z[0]))
    off = np.abs(z - np.interp(x, x[[0, -1]], z[[0, -1]])) * (end - begin) / width
    thickness = drawing.skin.top_thickness if side == "top" else drawing.skin.bottom_thickness
    return SkinPanel(side, begin, end, thickness, width, float(off.max()), x, 0.5 * (both[0] + both[1]))


def _stresses(points: SectionPoints, panel: SkinPanel, loads: SectionLoads) -> tuple[Floats, Floats]:
    """Compression and shear in the middle of every element of a panel. [Pa]"""
    mesh = points.warping.mesh
    x, z = mesh.nodes[0, mesh.elements[:, 4]].T
    above = z > np.interp(x, panel.middle_x, panel.middle_z)
    beside = np.flatnonzero((mesh.layers == SKIN) & (above == (panel.side == "top")))
    at = beside[(x[beside] > panel.begin) & (x[beside] < panel.end)]
    if not at.size:  # a sliver between filler and seam, narrower than any element: the nearest one tells
        at = beside[[int(np.abs(x[beside] - 0.5 * (panel.begin + panel.end)).argmin())]]
    skin = next(point for point in points.points if point.part == "skin")
    strain = axial_strain(points.warping.stretching[0], loads, x[at], z[at])
    centre = np.zeros(len(at))
    shear = shear_strain(points.warping, 0, at, centre, centre, loads)
    return -skin.young * strain, skin.shear * np.hypot(*shear.T)


def _fastest_flow(drawing: BladeDrawing, radius: float) -> float | Missing:
    """``rho V**2 / sqrt(1 - M**2)`` [Pa] of the fastest rotor, at sea level and never-exceed speed."""
    what = "bulging of the skins in the air"
    rotor = drawing.rotor
    if rotor is None:
        return Missing(what, ("rotor",))
    turning = max(rotor.speeds.normal, rotor.speeds.power_off_greatest or 0.0)
    air = standard_air()
    speed = turning * radius + (rotor.never_exceed_speed or 0.0)
    try:
        return flow_pressure(air.density, speed, speed / air.sound_speed)
    except OutsideValidity:
        return Missing(f"{what} at this radius, too near the speed of sound for the screening", ())


def _figure(drawing: BladeDrawing, name: str, value: float, method: str) -> Figure:
    figure = Figure(name, value, "1", method=method, source=SOURCE, validated=drawing.materials_validated)
    return dataclasses.replace(figure, validity=f"{SCREENING}elastic, edges that turn, longer than wide")
