"""Zero-lift pitch and moment of the finished section, from thin theory of its actual mean line."""

from dataclasses import dataclass

import numpy as np

from bladewright.design.outline import section_outline
from bladewright.drawing.file import BladeDrawing
from bladewright.engine.flow.thin_airfoil import sampled_thin_section
from bladewright.engine.geometry.shape import section_shape
from bladewright.figures import Figure

METHOD = "thin-section theory of the mean line half-way between both surfaces; docs/theory/thin-section"
VALIDITY = (
    "thin, small angles, inviscid; reflex on a 12 % section does 1.01 to 1.07 times this without its boundary layer, "
    "some 10 to 30 % less with it"
)
THICKEST = 0.15  # of the chord; thicker is outside what the factor in VALIDITY was found for


@dataclass(frozen=True, slots=True)
class SectionFlow:
    """What the control loads need of the section."""

    zero_lift_angle: float  # against the drawing's chord line [rad]
    moment: float  # coefficient about the quarter chord [1]
    thickness: float  # greatest [chord fraction]
    validated: bool  # a designation is its own source; coordinates need one

    @property
    def figures(self) -> tuple[Figure, ...]:
        """As figures, with what they hold for."""
        inside = self.thickness <= THICKEST
        return tuple(
            Figure(
                name,
                value,
                unit,
                method=METHOD,
                validity=VALIDITY,
                inside_validity=inside,
                source="H. Glauert, 1926",
                validated=self.validated,
            )
            for name, value, unit in (
                ("zero-lift pitch", float(np.degrees(self.zero_lift_angle)), "deg"),
                ("section moment coefficient", self.moment, "1"),
            )
        )


def section_flow(drawing: BladeDrawing) -> SectionFlow:
    """Thin theory of the drawn section, its reflex included."""
    outline = section_outline(drawing)
    thin = sampled_thin_section(outline.mean_line, outline.breaks)
    return SectionFlow(
        zero_lift_angle=thin.zero_lift_angle,
        moment=thin.moment,
        thickness=section_shape(outline).greatest_thickness,
        validated=drawing.section.designation is not None or bool(drawing.section.source),
    )
