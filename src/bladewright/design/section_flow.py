"""What the finished section gives the rotor: its forces as a table, and what theories that know less say beside it."""

from dataclasses import dataclass
from functools import lru_cache

import numpy as np

from bladewright.design.outline import outline_of
from bladewright.design.section_theories import KEPT, mean_line_theory
from bladewright.drawing.blade import Reflex, Section
from bladewright.drawing.file import BladeDrawing
from bladewright.engine.flow.polar import Polar, straight_polar
from bladewright.engine.geometry.shape import section_shape
from bladewright.figures import Figure

THIN_METHOD = "thin-section theory of the mean line half-way between both surfaces; docs/theory/thin-section"
THIN_VALIDITY = (
    "thin, small angles, inviscid; reflex on a 12 % section does 1.01 to 1.07 times this without its boundary layer, "
    "some 10 to 30 % less with it"
)
THICKEST = 0.15  # of the chord; thicker is outside what the factor in THIN_VALIDITY was found for
LIFT_SLOPE = 5.73  # [1/rad] 0.1 per degree of a real 12 % section; common practice, no source
PROFILE_DRAG = 0.010  # [1] of a real 12 % section at a helicopter's Reynolds numbers; common practice, no source


@dataclass(frozen=True, slots=True, eq=False)
class SectionFlow:
    """What flight needs of the section; the same section is the same object, so that what rests on it can be kept."""

    polar: Polar  # known all round
    tabled: bool  # whether its forces depend on Reynolds and Mach number, or are straight lines
    zero_lift_angle: float  # against the drawing's chord line [rad]
    moment: float  # coefficient about the quarter chord [1]
    lift_slope: float  # [1/rad]
    zero_lift_spread: float | None  # k = 2 [rad]
    moment_spread: float | None  # k = 2 [1]
    thickness: float  # greatest [chord fraction]
    validated: bool  # a designation is its own source; coordinates need one
    method: str
    validity: str
    inside: bool
    source: str

    @property
    def figures(self) -> tuple[Figure, ...]:
        """As figures, with what they hold for."""
        rows = (
            ("zero-lift pitch", np.degrees(self.zero_lift_angle), "deg", self.zero_lift_spread, np.degrees(1.0)),
            ("section moment coefficient", self.moment, "1", self.moment_spread, 1.0),
        )
        return tuple(
            Figure(
                name,
                float(value),
                unit,
                None if spread is None else float(spread * scale),
                method=self.method,
                validity=self.validity,
                inside_validity=self.inside,
                source=self.source,
                validated=self.validated,
            )
            for name, value, unit, spread, scale in rows
        )


def section_flow(drawing: BladeDrawing) -> SectionFlow:
    """The drawn section, its reflex included."""
    return thin_flow(drawing)


def thin_flow(drawing: BladeDrawing) -> SectionFlow:
    """Thin theory of the drawn section, its reflex included: lift straight in the angle, one moment, one drag."""
    return _thin_flow(drawing.section, drawing.reflex)


@lru_cache(maxsize=KEPT)
def _thin_flow(section: Section, reflex: Reflex | None) -> SectionFlow:
    thin = mean_line_theory(section, reflex)
    thickness = section_shape(outline_of(section, reflex)).greatest_thickness
    return SectionFlow(
        polar=straight_polar(LIFT_SLOPE, thin.zero_lift_angle, PROFILE_DRAG, thin.moment),
        tabled=False,
        zero_lift_angle=thin.zero_lift_angle,
        moment=thin.moment,
        lift_slope=LIFT_SLOPE,
        zero_lift_spread=None,
        moment_spread=None,
        thickness=thickness,
        validated=section.designation is not None or bool(section.source),
        method=THIN_METHOD,
        validity=THIN_VALIDITY,
        inside=thickness <= THICKEST,
        source="H. Glauert, 1926",
    )
