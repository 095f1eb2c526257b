"""The section outline a drawing describes: by designation or coordinates, with the finished blade's reflex."""

import numpy as np

from bladewright.drawing.blade import Reflex, Section
from bladewright.drawing.file import BladeDrawing
from bladewright.engine.geometry.designated import USUAL_POINTS, designated_outline
from bladewright.engine.geometry.mean_lines import designated_mean_line
from bladewright.engine.geometry.outline import Outline, outline_from_surfaces, scaled
from bladewright.engine.geometry.reflex import reflexed
from bladewright.engine.geometry.spacing import cosine_spacing
from bladewright.errors import BadInput, MissingInput

PERCENT = 0.01


def plain_outline(drawing: BladeDrawing, count: int = USUAL_POINTS) -> Outline:
    """The section before its reflex, in chord fractions."""
    return outline_of(drawing.section, None, count)


def section_outline(drawing: BladeDrawing, count: int = USUAL_POINTS) -> Outline:
    """The finished section, its reflex bent in, in chord fractions."""
    return outline_of(drawing.section, drawing.reflex, count)


def outline_of(section: Section, bend: Reflex | None, count: int = USUAL_POINTS) -> Outline:
    """A section with a reflex bent in, in chord fractions."""
    outline = _unbent(section, count)
    if bend is None or bend.angle == 0.0:
        return outline
    return reflexed(outline, bend.side, bend.start, bend.angle, bend.other_skin_follows)


def _unbent(section: Section, count: int) -> Outline:
    try:
        if section.designation is not None:
            if section.trailing_edge is None:
                raise MissingInput(
                    "how the thickness form ends is not entered",
                    field="trailing_edge",
                    allowed='"open", "closed" or "rescaled"',
                )
            line = designated_mean_line(section.designation)
            return designated_outline(line, PERCENT * int(section.designation[-2:]), section.trailing_edge, count)
        if section.top is None or section.bottom is None:
            raise MissingInput("top and bottom coordinates are not entered", allowed="both lists, or a designation")
        return outline_from_surfaces(np.array(section.top), np.array(section.bottom), cosine_spacing(count))
    except BadInput as error:
        error.field = f"section.{error.field}" if error.field else "section"
        raise


def chord_at(drawing: BladeDrawing, radius: float) -> float:
    """Chord at a radius [m], straight between the drawing's stations. [m]"""
    stations = drawing.planform.stations
    return float(np.interp(radius, [s.radius for s in stations], [s.chord for s in stations]))


def twist_at(drawing: BladeDrawing, radius: float) -> float:
    """Twist at a radius [m], straight between the drawing's stations. [rad]"""
    stations = drawing.planform.stations
    return float(np.interp(radius, [s.radius for s in stations], [s.twist for s in stations]))


def outline_at(drawing: BladeDrawing, radius: float, count: int = USUAL_POINTS) -> Outline:
    """The finished section at a radius [m], in metres from its own leading edge."""
    return scaled(section_outline(drawing, count), chord_at(drawing, radius))
