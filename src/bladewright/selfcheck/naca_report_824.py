"""Four smooth sections at Re 6e6 in quiet air against the figures of NACA Report 824."""

from dataclasses import dataclass, replace
from functools import cache, partial

import numpy as np

from bladewright.engine.flow.section_polar import Surface, section_flow_field
from bladewright.engine.geometry.designated import designated_outline
from bladewright.engine.geometry.mean_lines import designated_mean_line
from bladewright.selfcheck.case import Case

SOURCE = "I. H. Abbott, A. E. von Doenhoff, L. S. Stivers, NACA Report 824, 1945 (from memory)"
RECALLED = "read off graphs once, and recalled"
#: Figures we are known not to meet, and why
DISAGREE = {
    "4412: zero-lift angle [deg]": "likely too much laminar flow at that angle",
    "4412: moment about it [1]": "likely too much laminar flow at that angle",
    "23012: least drag [1]": "likely too much laminar flow",
}
ANGLES = np.radians(np.arange(-5.0, 7.0))
#: zero-lift angle [deg], moment about the aerodynamic centre, its place, least drag
FIGURES = {
    "0012": (0.0, 0.0, 0.250, 0.0058),
    "2412": (-2.0, -0.047, 0.247, 0.0060),
    "4412": (-3.9, -0.093, 0.246, 0.0062),
    "23012": (-1.4, -0.014, 0.241, 0.0062),
}


@dataclass(frozen=True, slots=True)
class Figures:
    """What the report tabulates."""

    zero_lift: float  # [deg]
    moment: float  # about the aerodynamic centre [1]
    centre: float  # [chord fraction]
    least_drag: float  # [1]


@cache
def figures(designation: str) -> Figures:
    """The same figures from our polar."""
    outline = designated_outline(designated_mean_line(designation), 0.12, "open")
    one = np.ones(ANGLES.size)
    field = section_flow_field(outline, ANGLES, 6e6 * one, 0.1 * one, Surface())
    slope, moment = np.polyfit(field.lift, field.moment, 1)
    zero = np.interp(0.0, field.lift, np.degrees(ANGLES))
    return Figures(float(zero), float(moment), float(0.25 - slope), float(field.drag.min()))


def _figure(designation: str, name: str) -> float:
    return float(getattr(figures(designation), name))


CASES: tuple[Case, ...] = tuple(
    replace(case, disagrees=DISAGREE.get(case.quantity, ""))
    for name, (zero, moment, centre, drag) in FIGURES.items()
    for case in (
        Case(SOURCE, f"{name}: aerodynamic centre [1]", partial(_figure, name, "centre"), centre, 0.006, RECALLED),
        Case(SOURCE, f"{name}: zero-lift angle [deg]", partial(_figure, name, "zero_lift"), zero, 0.3, RECALLED),
        Case(SOURCE, f"{name}: moment about it [1]", partial(_figure, name, "moment"), moment, 0.006, RECALLED),
        Case(SOURCE, f"{name}: least drag [1]", partial(_figure, name, "least_drag"), drag, 0.0008, RECALLED),
    )
)
