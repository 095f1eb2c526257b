"""How high one blade's tip flies for its pitch and its section moment, with a soft and with a stiff control run."""

from dataclasses import dataclass

import numpy as np

from bladewright.design.conditions import lifting_part
from bladewright.design.section_flow import section_flow
from bladewright.design.spanwise import span_mass
from bladewright.drawing.file import BladeDrawing
from bladewright.engine.matching.track import tip_rise_per_pitch
from bladewright.engine.rotor.atmosphere import standard_air
from bladewright.engine.rotor.control_loads import section_moment


@dataclass(frozen=True, slots=True)
class TrackModel:
    """What pitch and section moment do to the height of the tip."""

    per_pitch: float  # [m/rad]
    windup_soft: float  # [rad] of pitch for a moment coefficient of one, control run at its softest
    windup_stiff: float  # [rad] the same at its stiffest


def track_model(drawing: BladeDrawing) -> TrackModel | None:
    """The drawing's own; None where it leaves out rotor, stiffness or mass, or where the blade is not free to flap."""
    rotor, mass = drawing.rotor, span_mass(drawing)
    if rotor is None or rotor.control is None or mass is None or rotor.hub == "rigid":
        return None
    soft, stiff = rotor.control.stiffness_low, rotor.control.stiffness_high
    if not soft or not stiff:
        return None
    flow, air = section_flow(drawing), standard_air().density
    blade = lifting_part(drawing, flow)
    unit = section_moment(blade.y, blade.chord, np.ones_like(blade.y), rotor.speeds.normal, air)
    rise = tip_rise_per_pitch(blade.y, blade.chord, flow.lift_slope, air, mass.flap_inertia, drawing.planform.tip)
    return TrackModel(rise, unit / soft, unit / stiff)
