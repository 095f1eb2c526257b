"""Buckling of long plates and cylinders against their known limits."""

import numpy as np

from bladewright.engine.structure.plate_buckling import compression_limit, shear_limit
from bladewright.engine.structure.skin_in_flow import bulging_pressure
from bladewright.selfcheck.case import Case

PLATE = "S. P. Timoshenko, J. M. Gere, Theory of Elastic Stability, 1961 (from memory)"
CYLINDER = (
    "R. Lorenz, 1911; S. P. Timoshenko, 1910: E t / (R sqrt(3 (1 - v^2))), 0.605 E t / R at v = 0.3 (from memory)"
)
SHEAR = "G. Gerard, H. Becker, NACA TN 3781, 1957: k = 5.35 (from memory)"
WALL = "wavy wall in incompressible flow against a plate's spring, closed form"
YOUNG, POISSON, THIN, WIDE = 72e9, 0.3, 0.8e-3, 0.1
UNIT = YOUNG * (THIN / WIDE) ** 2  # [Pa]

CASES: tuple[Case, ...] = (
    Case(
        PLATE,
        "long plate, edges that turn: stress over E (t/b)^2 [1]",
        lambda: compression_limit(YOUNG, POISSON, THIN, WIDE, "turning", 0.0, 1.0) / UNIT,
        3.615,
        1e-3,
        "three digits",
    ),
    Case(
        PLATE,
        "long plate, edges held: stress over E (t/b)^2 [1]",
        lambda: compression_limit(YOUNG, POISSON, THIN, WIDE, "held", 0.0, 1.0) / UNIT,
        6.30,
        0.02,
        "k of 6.97 or 6.98",
    ),
    Case(
        CYLINDER,
        "wide curved plate: stress over E t / R [1]",
        lambda: compression_limit(YOUNG, POISSON, THIN, 100.0, "turning", 1.0, 1.0) / (YOUNG * THIN),
        0.605,
        5e-4,
        "three digits",
    ),
    Case(
        SHEAR,
        "long plate in shear: stress over E (t/b)^2 [1]",
        lambda: shear_limit(YOUNG, POISSON, THIN, WIDE, "turning") / UNIT,
        4.83,
        0.01,
        "k of 5.34 or 5.35",
    ),
    Case(
        WALL,
        "flat skin: rho V^2 b^3 / D at which it bulges [1]",
        lambda: bulging_pressure(12.0 * (1.0 - POISSON**2), POISSON, 1.0, 1.0, 0.0),
        float(np.pi**3),
        1e-9,
    ),
)
