"""An invented two-blade training rotor for the tests of flight."""

import math

import numpy as np

from bladewright.engine.flow.past_stall import extended
from bladewright.engine.flow.polar import Polar
from bladewright.engine.rotor.atmosphere import standard_air
from bladewright.engine.rotor.rotor import Flight, Rotor
from bladewright.engine.rotor.rotor_blade import RotorBlade, plain_blade
from bladewright.engine.rotor.span_mass import SpanMass

SPEED = 500.0 * math.pi / 30.0
RADIUS, CHORD, WEIGHT = 3.55, 0.2, 4707.0
AIR = standard_air()


def stalling() -> Polar:
    """Stalls at 13 degrees with lift 1.46, drag rising with the square of lift."""
    angle = np.radians(np.arange(-12.0, 19.0))
    lift = np.where(angle < math.radians(13.0), 5.9 * (angle + 0.02), 1.457 - 2.0 * (angle - math.radians(13.0)))
    lift, moment = lift[:, None, None], np.full((angle.size, 1, 1), -0.004)
    return extended(
        Polar(
            angle, np.array([1.5e6]), np.array([0.3]), lift, 0.008 + 0.006 * lift**2, moment,
            np.ones(lift.shape, dtype=np.bool_),
        ), RADIUS / CHORD,
    )  # fmt: skip


def blade(wash_out: float = -0.07, polar: Polar | None = None, root: float = 0.45) -> RotorBlade:
    y = np.array([root, RADIUS])
    return plain_blade(y, np.full(2, CHORD), wash_out * (y / RADIUS - 0.75), polar or stalling())


def mass(chordwise: float = 0.0, above: float = 0.0) -> SpanMass:
    """4 kg/m with a heavier tip; its centre aft of the feathering axis by an entered way."""
    y = np.linspace(0.25, RADIUS, 67)
    along = np.where(y < 3.25, 4.0, 7.0)
    flat = np.ones_like(y)
    return SpanMass(
        y=y, mass_per_length=along, chordwise_centre=chordwise * flat, normal_centre=above * flat,
        chordwise_inertia=along * (0.0021 + chordwise**2), normal_inertia=along * (2.5e-5 + above**2),
        product_of_inertia=along * chordwise * above,
    )  # fmt: skip


def teetering(**changed: object) -> Rotor:
    return Rotor(**{"blade": blade(), "mass": mass(), "blades": 2, "hub": "teetering"} | changed)  # type: ignore[arg-type]


def flight(speed: float, weight: float = WEIGHT, drag_area: float = 0.6) -> Flight:
    return Flight(speed, weight, drag_area, AIR)
