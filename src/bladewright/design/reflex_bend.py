"""Another reflex of the finished blade, and how well the worth of a degree of it is known."""

import numpy as np

from bladewright.design.departed import departed
from bladewright.design.records import Departure
from bladewright.design.section_flow import section_flow
from bladewright.design.section_theories import mean_line_theory, outline_theory
from bladewright.drawing.blade import Reflex
from bladewright.drawing.file import BladeDrawing
from bladewright.errors import MissingInput

ANGLE = "reflex.angle"
STEP = float(np.radians(0.5))  # [rad] for slopes
DOUBT = "uncertainty: greatest difference between the theories in the moment that reflex brings"


def bend_of(drawing: BladeDrawing) -> Reflex:
    if drawing.reflex is None:
        raise MissingInput(
            "the drawing has no reflex to size",
            field="reflex",
            allowed="a [reflex] table: side, start, angle, other_skin_follows",
            fix="enter where the bend begins and in which skin; any angle will do",
        )
    return drawing.reflex


def with_reflex(drawing: BladeDrawing, angle: float) -> BladeDrawing:
    """The drawing with another reflex of the finished blade [rad]."""
    return departed(drawing, [Departure(ANGLE, angle)])


def slope_doubt(drawing: BladeDrawing) -> float | None:
    """How far the moment that reflex brings differs between the theories, of what the section's table says. [1]

    None where the section has no table.
    """
    angle = bend_of(drawing).angle
    flows, beside = [], []
    for sign in (1.0, -1.0):
        bent = with_reflex(drawing, angle + sign * 0.5 * STEP)
        flows.append(section_flow(bent))
        beside.append([theory(bent.section, bent.reflex).moment for theory in (mean_line_theory, outline_theory)])
    if not all(flow.tabled for flow in flows):
        return None
    brought = flows[0].moment - flows[1].moment
    apart: float = max(abs(up - down - brought) for up, down in zip(*beside, strict=True))
    return apart / abs(brought)
