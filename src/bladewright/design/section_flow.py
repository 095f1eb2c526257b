"""What the finished section gives the rotor: its forces as a table, and how far from it lesser theories stand."""

from dataclasses import dataclass
from functools import lru_cache

import numpy as np

from bladewright.design.outline import chord_at, outline_of
from bladewright.design.section_tables import USUAL_TRIP, section_table
from bladewright.design.section_theories import KEPT, USUAL_LIFT, mean_line_theory, outline_theory
from bladewright.drawing.blade import Reflex, Section
from bladewright.drawing.file import BladeDrawing
from bladewright.engine.arrays import Floats
from bladewright.engine.flow.past_stall import extended
from bladewright.engine.flow.polar import Polar, look_up, straight_polar
from bladewright.engine.geometry.shape import section_shape
from bladewright.engine.rotor.atmosphere import standard_air
from bladewright.errors import BladewrightError
from bladewright.figures import Figure

THIN_METHOD = "thin-section theory of the mean line half-way between both surfaces; docs/theory/thin-section"
THIN_VALIDITY = (
    "thin, small angles, inviscid; reflex on a 12 % section does 1.01 to 1.07 times this without its boundary layer, "
    "some 10 to 45 % less with it, more at more lift"
)
METHOD = "outline by panels with boundary layer and wake, read from a table; docs/theory/boundary-layer"
VALIDITY = "smooth skin, attached flow, subsonic all over; beyond that a cited rule, marked; layer turbulent from "
SPREAD = "uncertainty: greatest difference to the outline without layer and to the mean line alone"
FALLBACK = "NO SOLUTION with a boundary layer was found for this section, so this is its mean line alone: "
THICKEST = 0.15  # of the chord; thicker is outside what the factor in THIN_VALIDITY was found for
LIFT_SLOPE = 5.73  # [1/rad] 0.1 per degree of a real 12 % section; common practice, no source
PROFILE_DRAG = 0.010  # [1] of a real 12 % section at a helicopter's Reynolds numbers; common practice, no source
USUAL_PLACE = 0.75  # of the radius: where a section stands for the blade
USUAL_MACH = 0.40  # there, where the drawing names no rotor speed; our own choice
LOOKED_AT = np.radians(np.linspace(-6.0, 9.0, 61))


@dataclass(frozen=True, slots=True, eq=False)
class SectionFlow:
    """What flight needs of the section; the same section is the same object, so that what rests on it can be kept."""

    polar: Polar  # known all round
    tabled: bool  # whether its forces depend on Mach number, or are straight lines
    mach: float  # at three quarters of the radius, normal speed: where the figures below are read [1]
    zero_lift_angle: float  # against the drawing's chord line [rad]
    moment: float  # about the quarter chord, at the usual lift [1]
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
        where = f"at Mach {self.mach:.2f}, lift {USUAL_LIFT:g}; {SPREAD}; " if self.tabled else ""
        return tuple(
            Figure(
                name,
                float(value),
                unit,
                None if spread is None else float(spread * scale),
                method=where + self.method,
                validity=self.validity,
                inside_validity=self.inside,
                source=self.source,
                validated=self.validated,
            )
            for name, value, unit, spread, scale in rows
        )

    def moment_at(self, lift: float) -> float | None:
        """Moment coefficient at a lift; None where the table does not reach it."""
        rows = _read(self.polar, self.mach)
        known = rows[:, rows[2] > 0.0]
        if not known.size or not known[0].min() <= lift <= known[0].max():
            return None
        return float(np.interp(lift, known[0], known[1]))


def section_flow(drawing: BladeDrawing) -> SectionFlow:
    """The drawn section, its reflex included; the mean line alone, and said so, where its layers have no solution."""
    try:
        return tabled_flow(drawing)
    except (BladewrightError, np.linalg.LinAlgError):
        return _thin(drawing.section, _in_the_air(drawing.reflex), FALLBACK)


def tabled_flow(drawing: BladeDrawing) -> SectionFlow:
    """Panels, boundary layer and wake of the drawn section."""
    plan, air = drawing.planform, standard_air()
    place = USUAL_PLACE * plan.tip
    chord = chord_at(drawing, place)
    speed = drawing.rotor.speeds.normal * place if drawing.rotor is not None else USUAL_MACH * air.sound_speed
    per_mach = air.density * air.sound_speed * chord / air.viscosity
    mach = round(speed / air.sound_speed, 2)
    slender = max(1, round(plan.tip / chord))
    return _tabled(drawing.section, _in_the_air(drawing.reflex), per_mach, mach, slender)


def _turbulent_from(section: Section) -> str:
    if section.turbulent_from is not None:
        return f"{100.0 * section.turbulent_from:g} % of chord, as entered"
    return f"{100.0 * USUAL_TRIP:g} % of chord, usual in service where the drawing does not say"


def thin_flow(drawing: BladeDrawing) -> SectionFlow:
    """Thin theory of the drawn section, its reflex included: lift straight in the angle, one moment, one drag."""
    return _thin(drawing.section, _in_the_air(drawing.reflex), "")


@lru_cache(maxsize=KEPT)
def _tabled(section: Section, reflex: Reflex | None, per_mach: float, mach: float, slender: int) -> SectionFlow:
    polar = extended(section_table(section, reflex, per_mach), float(slender))
    angle = LOOKED_AT
    lift, moment, _ = _read(polar, mach)
    zero, slope = _zero_lift(angle, lift)
    at_lift = float(np.interp(USUAL_LIFT, lift[_rising(lift)], moment[_rising(lift)]))
    beside = (mean_line_theory(section, reflex), outline_theory(section, reflex))
    return SectionFlow(
        polar=polar,
        tabled=True,
        mach=mach,
        zero_lift_angle=zero,
        moment=at_lift,
        lift_slope=slope,
        zero_lift_spread=max(abs(zero - theory.zero_lift_angle) for theory in beside),
        moment_spread=max(abs(at_lift - theory.moment) for theory in beside),
        thickness=section_shape(outline_of(section, reflex)).greatest_thickness,
        validated=_sourced(section),
        method=METHOD,
        validity=VALIDITY + _turbulent_from(section),
        inside=True,
        source="own method; A. E. P. Veldman, 1981; H. B. Squire, A. D. Young, 1937 (from memory)",
    )


@lru_cache(maxsize=KEPT)
def _thin(section: Section, reflex: Reflex | None, caution: str) -> SectionFlow:
    thin = mean_line_theory(section, reflex)
    thickness = section_shape(outline_of(section, reflex)).greatest_thickness
    return SectionFlow(
        polar=straight_polar(LIFT_SLOPE, thin.zero_lift_angle, PROFILE_DRAG, thin.moment),
        tabled=False,
        mach=0.0,
        zero_lift_angle=thin.zero_lift_angle,
        moment=thin.moment,
        lift_slope=LIFT_SLOPE,
        zero_lift_spread=None,
        moment_spread=None,
        thickness=thickness,
        validated=_sourced(section),
        method=THIN_METHOD,
        validity=caution + THIN_VALIDITY,
        inside=thickness <= THICKEST and not caution,
        source="H. Glauert, 1926",
    )


def _in_the_air(reflex: Reflex | None) -> Reflex | None:
    """What the air meets of it, so that a measured loose skin, say, is no other section."""
    if reflex is None:
        return None
    return Reflex.model_construct(
        side=reflex.side, start=reflex.start, angle=reflex.angle, other_skin_follows=reflex.other_skin_follows
    )


def _sourced(section: Section) -> bool:
    return section.designation is not None or bool(section.source)


def _read(polar: Polar, mach: float) -> Floats:
    """Lift, moment and whether computed over the angles looked at; any Reynolds number does. (3, n)"""
    found = look_up(polar, LOOKED_AT, np.array(polar.reynolds[0]), np.array(mach))
    return np.array([found.lift, found.moment, found.computed.astype(np.float64)])


def _zero_lift(angle: Floats, lift: Floats) -> tuple[float, float]:
    """Where the lift passes through nought, and its mean slope from there to the usual lift."""
    run = _rising(lift)
    zero, usual = np.interp([0.0, USUAL_LIFT], lift[run], angle[run])
    return float(zero), float(USUAL_LIFT / (usual - zero))


def _rising(lift: Floats) -> slice:
    """Where lift goes up with the angle without a turn, about the middle."""
    middle = int(np.argmin(np.abs(lift)))
    steps = np.diff(lift) > 0.0
    low, high = middle, middle
    while low > 0 and steps[low - 1]:
        low -= 1
    while high < len(steps) and steps[high]:
        high += 1
    return slice(low, high + 1)
