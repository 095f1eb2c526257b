"""Measured thrust of a stubby two-blade model rotor. Simple theory must come out high; nothing is tuned to it."""

import math
from functools import partial

import numpy as np

from bladewright.engine.flow.polar import straight_polar
from bladewright.engine.rotor.atmosphere import standard_air
from bladewright.engine.rotor.hover import hover_sweep
from bladewright.engine.rotor.rotor_blade import plain_blade
from bladewright.selfcheck.case import Case

SOURCE = "F. X. Caradonna, C. Tung, NASA TM 81232, 1981 (thrust from memory)"
RADIUS, CHORD = 1.143, 0.1905
WHY = "aspect ratio 6: the other blade's tip vortex is close, so blade elements lie high, by less than this"


def _thrust_coefficient(degrees: float) -> float:
    air = standard_air()
    y, ones = np.array([0.0, RADIUS]), np.ones(2)
    blade = plain_blade(y, CHORD * ones, 0.0 * ones, straight_polar(5.73, 0.0, 0.0, 0.0))
    tip_speed = 0.439 * air.sound_speed
    (found,) = hover_sweep(blade, 2, tip_speed / RADIUS, air, np.radians([degrees]))
    return found.thrust / (air.density * math.pi * RADIUS**2 * tip_speed**2)


def _ratio(degrees: float, measured: float) -> float:
    return _thrust_coefficient(degrees) / measured


CASES: tuple[Case, ...] = (
    Case(SOURCE, "computed over measured thrust, 5 deg [1]", partial(_ratio, 5.0, 0.00213), 1.225, 0.225, WHY),
    Case(SOURCE, "computed over measured thrust, 8 deg [1]", partial(_ratio, 8.0, 0.00459), 1.175, 0.175, WHY),
    Case(
        "NACA TN 1542, 1948 with Prandtl's tip factor, on the same rotor: recomputed",
        "thrust coefficient, 5 deg [1]", partial(_thrust_coefficient, 5.0), 0.002893, 5e-7, "as many digits as known",
    ),
    Case(
        "NACA TN 1542, 1948 with Prandtl's tip factor, on the same rotor: recomputed",
        "thrust coefficient, 8 deg [1]", partial(_thrust_coefficient, 8.0), 0.005618, 5e-7, "as many digits as known",
    ),
)  # fmt: skip
