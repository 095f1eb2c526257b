"""The drawn blade as the air meets it strip by strip: lift slope, aerodynamic centre, and how each is known."""

import numpy as np

from bladewright.design.section_flow import SectionFlow, section_flow
from bladewright.drawing.file import BladeDrawing
from bladewright.engine.arrays import Floats
from bladewright.engine.dynamics.strip_air import StripAir
from bladewright.engine.flow.compressibility import prandtl_glauert_factor
from bladewright.engine.flow.polar import look_up
from bladewright.engine.rotor.atmosphere import standard_air
from bladewright.errors import OutsideValidity

QUARTER = 0.25
STATIONS = 61  # along the lifting part
BETWEEN = np.radians([0.0, 4.0])  # angles where a blade usually works, for slopes of lift and moment
FASTEST = 0.8  # Mach number: above it the linear rule for lift is no rule; common practice, no source
METHOD = "lift slope of the section, grown with the Mach number of each station (Prandtl-Glauert); its least drag"


def tip_mach(drawing: BladeDrawing, rotor_speed: float, forward: float = 0.0) -> float:
    """Of the advancing tip at a rotor speed [rad/s] and a flight speed [m/s], sea level. [1]"""
    return (rotor_speed * drawing.planform.tip + forward) / standard_air().sound_speed


def blade_air(drawing: BladeDrawing, rotor_speed: float, blades: int, forward: float = 0.0) -> StripAir:
    """The lifting part at a rotor speed [rad/s], air from ahead besides [m/s]; ``OutsideValidity``: tip too fast."""
    plan, air, flow = drawing.planform, standard_air(), section_flow(drawing)
    y = np.linspace(plan.airfoil_start, plan.tip, STATIONS)
    chord = np.interp(y, [s.radius for s in plan.stations], [s.chord for s in plan.stations])
    mach = (rotor_speed * y + forward) / air.sound_speed
    if mach[-1] > FASTEST:
        raise OutsideValidity(
            "the blade's tip is too near the speed of sound for a linear lift slope",
            field="limits.flutter.speed_factor",
            value=float(mach[-1]),
            allowed=f"a tip up to Mach {FASTEST:g}",
            fix="ask for a lower rotor speed or factor",
        )
    growth = np.array([prandtl_glauert_factor(float(one)) for one in mach]) / prandtl_glauert_factor(flow.mach)
    return StripAir(
        y=y,
        chord=chord,
        lift_slope=flow.lift_slope * growth,
        aerodynamic_centre=chord * (aerodynamic_centre(flow) - plan.feathering_axis),
        density=air.density,
        drag_coefficient=np.full_like(y, profile_drag(flow)),
        blades=blades,
    )


def aerodynamic_centre(flow: SectionFlow) -> float:
    """Where lift that comes with the angle acts, from the leading edge. [chord fraction]"""
    found = look_up(flow.polar, BETWEEN, np.array(flow.polar.reynolds[0]), np.array(flow.mach))
    rise: Floats = np.diff(np.stack((found.lift, found.moment)))
    return QUARTER - float(rise[1, 0] / rise[0, 0])


def profile_drag(flow: SectionFlow) -> float:
    """Least drag coefficient between the angles a blade works at: nothing else damps it chordwise. [1]"""
    found = look_up(flow.polar, BETWEEN, np.array(flow.polar.reynolds[0]), np.array(flow.mach))
    return float(found.drag.min())
