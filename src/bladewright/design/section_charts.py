"""Pictures of the section: its shape, the pressure on it, and its table of forces."""

from collections.abc import Iterator

import numpy as np

from bladewright.design.outline import section_outline
from bladewright.design.section_flow import SectionFlow
from bladewright.design.section_theories import surface_pressure
from bladewright.drawing.file import BladeDrawing
from bladewright.engine.arrays import Floats
from bladewright.engine.flow.polar import look_up
from bladewright.figures import Axis, Chart, Curve, Level

CHORD = Axis("from the leading edge", "of chord")
LIFTS = (0.2, 0.6)  # at which pressure is drawn
ANGLES = np.radians(np.linspace(-8.0, 16.0, 97))
FEWEST = 8  # of the angles looked at, for a curve
LIFT, ANGLE = Axis("lift coefficient"), Axis("angle of attack", "deg")


def section_chart(drawing: BladeDrawing) -> Chart:
    """The finished section to scale, its reflex bent in."""
    outline = section_outline(drawing)
    lines = (("top", outline.top), ("bottom", outline.bottom), ("mean line", outline.mean_line))
    curves = tuple(Curve(name, plain(points[:, 0]), plain(points[:, 1])) for name, points in lines)
    note = "As drawn, to scale. The mean line is half-way between both skins."
    height = Axis("height", "of chord")
    return Chart("section", f"Section of {drawing.name}", CHORD, height, curves, _bend(drawing), note, true_scale=True)


def pressure_chart(drawing: BladeDrawing) -> Chart:
    """Pressure on both skins at a low and a high lift."""
    curves = []
    for lift in LIFTS:
        found = surface_pressure(drawing.section, drawing.reflex, lift)
        words = f"at a lift of {lift:g}, {np.degrees(found.angle):+.1f} deg"
        curves += [
            Curve(f"{side}, {words}", plain(points[:, 0]), plain(points[:, 1]))
            for side, points in (("top", found.top), ("bottom", found.bottom))
        ]
    note = "Potential flow about the drawn outline, without its boundary layer; suction is up."
    pressure = Axis("pressure coefficient", downward=True)
    return Chart("pressure", "Pressure on the section", CHORD, pressure, tuple(curves), _bend(drawing), note)


def polar_charts(flow: SectionFlow) -> Iterator[Chart]:
    """Lift over angle, drag and moment over lift, at each Mach number of the table; none where there is no table."""
    polar = flow.polar
    if not flow.tabled:
        return
    reynolds = float(polar.reynolds[0])
    read = ((f"Mach {mach:.2f}", _along(flow, reynolds, mach)) for mach in polar.mach if mach > 0.0)
    rows = [(name, row) for name, row in read if np.isfinite(row[0]).sum() >= FEWEST]
    note = f"Reynolds number as chord and standard air give it at each speed. {flow.method}. Only where computed."
    lifts = tuple(Curve(name, plain(np.degrees(ANGLES)), _known(row[0])) for name, row in rows)
    yield Chart("polar-lift", "Section: lift", ANGLE, LIFT, lifts, (), note)
    for name, words, which in (("polar-drag", "drag coefficient", 1), ("polar-moment", "moment coefficient", 2)):
        curves = tuple(
            Curve(label, plain(row[0][known]), _known(row[which][known]))
            for label, row in rows
            for known in (np.isfinite(row[0]),)
        )
        yield Chart(name, f"Section: {words.split()[0]}", LIFT, Axis(words), curves, (), note)


def plain(values: Floats) -> tuple[float, ...]:
    """An array as plain numbers."""
    return tuple(float(value) for value in values)


def _along(flow: SectionFlow, reynolds: float, mach: float) -> Floats:
    """Lift, drag and moment over the angles; not a number where not computed."""
    found = look_up(flow.polar, ANGLES, np.array(reynolds), np.array(mach))
    rows: Floats = np.where(found.computed, np.stack((found.lift, found.drag, found.moment)), np.nan)
    return rows


def _known(values: Floats) -> tuple[float | None, ...]:
    return tuple(float(value) if np.isfinite(value) else None for value in values)


def _bend(drawing: BladeDrawing) -> tuple[Level, ...]:
    bend = drawing.reflex
    return (Level(f"reflex {np.degrees(bend.angle):.2f} deg, {bend.side} skin", bend.start, True),) if bend else ()
