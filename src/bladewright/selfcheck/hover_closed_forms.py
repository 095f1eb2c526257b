"""Hover against momentum theory and the ideally twisted blade."""

import math

import numpy as np

from bladewright.engine.rotor.blade_element import LiftAlong, LiftingBlade, hover_at_pitch
from bladewright.engine.rotor.momentum import HoverMomentum, climb_induced_velocity, hover_momentum
from bladewright.selfcheck.case import Case

MOMENTUM = "W. Johnson, Helicopter Theory, 1980, ch. 2 (from memory); closed form"
TWISTED = "A. Gessow, G. C. Myers, Aerodynamics of the Helicopter, 1952, ch. 4 (from memory); closed form"
SPEED = 560.0 * math.pi / 30.0
RADIUS, CHORD, DENSITY = 3.0, 0.18, 1.225


def _hover() -> HoverMomentum:
    return hover_momentum(3600.0, RADIUS, CHORD, 2, SPEED, DENSITY, induced_factor=1.15, profile_drag=0.0095)


def _ideal() -> LiftAlong:
    y = np.linspace(1e-9, RADIUS, 401)
    twist = math.radians(6.0) * RADIUS / y
    blade = LiftingBlade(y, np.full_like(y, CHORD), twist, np.zeros_like(y), 5.73)
    return hover_at_pitch(blade, 2, SPEED, DENSITY, 0.0)


CASES: tuple[Case, ...] = (
    Case(MOMENTUM, "induced velocity [m/s]", lambda: _hover().induced_velocity, 7.2089501, 1e-6),
    Case(MOMENTUM, "thrust coefficient [1]", lambda: _hover().thrust_coefficient, 0.0033581356, 1e-9),
    Case(MOMENTUM, "power [W]", lambda: _hover().power, 38399.8, 0.06),
    Case(MOMENTUM, "figure of merit [1]", lambda: _hover().figure_of_merit, 0.67584259, 1e-7),
    Case(
        MOMENTUM, "climb 2 m/s: induced velocity [m/s]", lambda: climb_induced_velocity(7.2089501, 2.0), 6.2779778, 1e-6
    ),
    Case(TWISTED, "ideal twist: inflow ratio [1]", lambda: _ideal().inflow / (SPEED * RADIUS), 0.041566674, 1e-8),
    Case(
        TWISTED,
        "ideal twist: thrust coefficient [1]",
        lambda: _ideal().thrust / (DENSITY * math.pi * RADIUS**4 * SPEED**2),
        0.00345557678,
        1e-9,
    ),
)
