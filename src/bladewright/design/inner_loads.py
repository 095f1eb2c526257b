"""What the blade bears inside in a case, along its span and in each section's own axes."""

import math
from dataclasses import dataclass

import numpy as np

from bladewright.design.blade_root import blade_root
from bladewright.design.control_runs import control_runs
from bladewright.design.load_cases import AirLoads, LoadCase
from bladewright.design.spanwise import outboard
from bladewright.drawing.rotor import Rotor
from bladewright.engine.arrays import Floats
from bladewright.engine.dynamics.blade_beam import BladeBeam, Root
from bladewright.engine.dynamics.held_shape import held_shape
from bladewright.engine.dynamics.inner_moments import in_section_axes
from bladewright.engine.rotor.atmosphere import GRAVITY

EVEN = 201  # stations even along the span, between which a moment's slope is taken


@dataclass(frozen=True, slots=True)
class InnerLoads:
    """At the beam's stations; bending in the section's own axes, about its elastic centre."""

    case: LoadCase
    y: Floats  # (n,) [m]
    tension: Floats  # [N]
    flap_moment: Floats  # bends the tip toward the top skin: presses the top skin [N m]
    chord_moment: Floats  # bends the tip aft: pulls the leading edge [N m]
    torque: Floats  # nose-up on what lies inboard [N m]
    flap_shear: Floats  # toward the top skin [N]
    chord_shear: Floats  # aft [N]


def at_rest(case: LoadCase, beam: BladeBeam) -> InnerLoads:
    """Standing still, held at its inner end: weight down, and the shaft's torque met by what the mass would not do."""
    y, mass = beam.y, beam.mass_per_length
    down = -case.weight_factor * GRAVITY * mass
    back = mass * y * case.torque / float(np.trapezoid(mass * y * y, y))
    flap, chord = arm_moment(down, y), arm_moment(back, y)
    torque = outboard(-down * beam.mass_x, y)
    return along_the_span(case, beam, np.zeros_like(y), flap, chord, torque, beam.twist)


def arm_moment(load: Floats, y: Floats) -> Floats:
    """Moment at each station of a load per length outboard of it."""
    moment: Floats = outboard(load * y, y) - y * outboard(load, y)
    return moment


def along_the_span(
    case: LoadCase, beam: BladeBeam, tension: Floats, flap: Floats, chord: Floats, torque: Floats, angle: Floats
) -> InnerLoads:
    """Bending up and aft of the disc, turned into each section's own axes at its angle [rad]."""
    up, aft = in_section_axes(flap, chord, angle)
    return InnerLoads(case, beam.y, tension, up, aft, torque, -_slope(up, beam.y), -_slope(aft, beam.y))


def _slope(values: Floats, y: Floats) -> Floats:
    """By even steps: stations at both sides of a part's end lie too close for a difference."""
    even = np.linspace(y[0], y[-1], EVEN)
    return np.asarray(np.interp(y, even, np.gradient(np.interp(even, y, values), even)))


def in_flight(case: LoadCase, beam: BladeBeam, air: AirLoads, rotor: Rotor) -> InnerLoads:
    """Turning: all blades alike, so that a teetering hub holds its blades at their cone."""
    lift, drag, moment = flight_loads(case, air)
    bent = held_shape(
        beam, softest_root(rotor), "collective", case.rotor_speed, lift, drag, moment, air.pitch, gravity=GRAVITY
    )
    angle = beam.twist + air.pitch  # the moments' axes twist with the blade already
    return along_the_span(case, beam, bent.tension, bent.flap_moment, bent.chord_moment, bent.torsion_moment, angle)


def softest_root(rotor: Rotor) -> Root:
    """The root with the softest control run that is entered, and held stiff where none is."""
    return blade_root(rotor, min((run.stiffness for run in control_runs(rotor)), default=math.inf))


def flight_loads(case: LoadCase, air: AirLoads) -> tuple[Floats, Floats, Floats]:
    """Lift, drag and moment about the feathering axis per length of a case. [N/m, N/m, N m/m]"""
    faster = case.rotor_speed / air.rotor_speed
    lift = case.load_factor * air.lift + case.gust * faster * air.gust
    return lift, case.load_factor * air.drag, faster**2 * air.moment + lift * air.ahead
