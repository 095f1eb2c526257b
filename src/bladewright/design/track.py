"""How high one blade's tip flies for its pitch and its section moment, with a soft and with a stiff control run."""

from dataclasses import dataclass

import numpy as np

from bladewright.design.conditions import hovering, lifting_part
from bladewright.design.section_flow import section_flow
from bladewright.design.spanwise import span_mass
from bladewright.drawing.file import BladeDrawing
from bladewright.engine.rotor.atmosphere import standard_air
from bladewright.engine.rotor.control_loads import limp_coning, section_moment
from bladewright.engine.rotor.track import MateDifference, Rise, TrackSplit, tip_rise_per_pitch, track_split
from bladewright.errors import CannotCarry


@dataclass(frozen=True, slots=True)
class TrackModel:
    """What pitch and section moment do to the height of the tip."""

    per_pitch: float  # [m/rad]
    windup_soft: float  # [rad] of pitch for a moment coefficient of one, control run at its softest
    windup_stiff: float  # [rad] the same at its stiffest


@dataclass(frozen=True, slots=True)
class _Pair:
    """How the drawn pair answers."""

    rise: Rise
    soft: float  # [N m/rad]
    stiff: float  # [N m/rad]
    per_coefficient: float  # section moment for a coefficient of one [N m]


def track_model(drawing: BladeDrawing) -> TrackModel | None:
    """The drawing's own; None where it leaves out rotor, stiffness or mass, or where the blade is not free to flap."""
    pair = _pair(drawing)
    if pair is None:
        return None
    flattening = pair.rise.propeller_stiffness
    return TrackModel(
        pair.rise.per_pitch,
        pair.per_coefficient / (pair.soft + flattening),
        pair.per_coefficient / (pair.stiff + flattening),
    )


def split_from_mate(drawing: BladeDrawing, pitch: float, moment: float) -> TrackSplit | None:
    """Height over a mate that has so much less effective pitch [rad] and moment coefficient [1]."""
    pair = _pair(drawing)
    if pair is None:
        return None
    return track_split(MateDifference(pitch, 0.0, moment * pair.per_coefficient), pair.rise, pair.soft, pair.stiff)


def _pair(drawing: BladeDrawing) -> _Pair | None:
    rotor, mass = drawing.rotor, span_mass(drawing)
    if rotor is None or rotor.control is None or mass is None or rotor.hub == "rigid":
        return None
    soft, stiff = rotor.control.stiffness_low, rotor.control.stiffness_high
    if not soft or not stiff:
        return None
    flow, air, speed = section_flow(drawing), standard_air(), rotor.speeds.normal
    blade = lifting_part(drawing, flow)
    try:
        coning = limp_coning(hovering(drawing, rotor, flow, speed, air).lift_moment, mass, speed)
    except CannotCarry:
        coning = 0.0  # only unlike flapping inertia would ask for it
    rise = Rise(
        per_pitch=tip_rise_per_pitch(
            blade.y, blade.chord, flow.lift_slope, air.density, mass.flap_inertia, drawing.planform.tip
        ),
        tip=drawing.planform.tip,
        flap_inertia=mass.flap_inertia,
        rotor_speed=speed,
        coning=coning,
        propeller_stiffness=speed**2 * float(np.trapezoid(mass.chordwise_inertia - mass.normal_inertia, mass.y)),
    )
    unit = section_moment(blade.y, blade.chord, np.ones_like(blade.y), speed, air.density)
    return _Pair(rise, soft, stiff, unit)
