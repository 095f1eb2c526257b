"""What a wake leaves of the lift of a swinging section, against printed values and against momentum."""

import math

import numpy as np

from bladewright.engine.dynamics.lift_deficiency import returning_wake, shed_wake
from bladewright.selfcheck.case import Case

TABLE = "T. Theodorsen, NACA Report 496, 1935, table of F and G (from memory)"
MOMENTUM = "momentum of a rotor whose swing does not change its mean flow, 1/(1 + pi h), closed form"
IN_STEP = "R. G. Loewy, J. Aeronaut. Sci. 24, 1957 (from memory): layers in step and close together, closed form"


def _shed(k: float) -> complex:
    return complex(shed_wake(np.array([k]))[0])


def _returning(k: float, spacing: float, turn: float) -> complex:
    return complex(returning_wake(np.array([k]), np.array([spacing]), np.array([turn]))[0])


def _printed(k: float, real: float, imaginary: float) -> tuple[Case, Case]:
    why = "four printed places"
    return (
        Case(TABLE, f"in step, k = {k:g} [1]", lambda: _shed(k).real, real, 1e-4, why),
        Case(TABLE, f"behind, k = {k:g} [1]", lambda: _shed(k).imag, imaginary, 1e-4, why),
    )


CASES: tuple[Case, ...] = (
    *_printed(0.05, 0.9090, -0.1306),
    *_printed(0.1, 0.8319, -0.1723),
    *_printed(0.2, 0.7276, -0.1886),
    *_printed(0.5, 0.5979, -0.1507),
    *_printed(1.0, 0.5394, -0.1003),
    *_printed(10.0, 0.5006, -0.0124),
    Case(
        MOMENTUM, "slow swing once per passage, wakes four half chords apart [1]",
        lambda: _returning(1e-5, 4.0, 2.0 * math.pi).real, 1.0 / (1.0 + math.pi / 4.0), 2e-4,
        "the closed form is the limit of no reduced frequency; what is left goes with k log k",
    ),
    Case(
        IN_STEP, "swing at k = 0.5 once per passage, wakes on one another [1]",
        lambda: _returning(0.5, 1e-9, 0.0).real, 0.2422684577**2 / (0.2422684577**2 + 0.9384698072**2), 1e-8,
        "J_1**2/(J_0**2 + J_1**2), Bessel functions from tables",
    ),
)  # fmt: skip
