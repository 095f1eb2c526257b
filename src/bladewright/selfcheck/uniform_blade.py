"""A uniform blade with a weight at its tip: mass, moments and pull, in closed form."""

import numpy as np

from bladewright.design.spanwise import STEP, Spanwise
from bladewright.engine.rotor.span_mass import SpanMass
from bladewright.selfcheck.case import Case

SOURCE = "uniform bar and point mass, closed form; as in W. Johnson, Helicopter Theory, 1980 (from memory)"
SPEED = 560.0 * np.pi / 30.0  # [rad/s]
SPREAD = "the tip weight is spread over the last thousandth of a millimetre"


def _blade() -> Spanwise:
    y = np.concatenate((np.linspace(0.0, 3.0 - STEP, 3001), [3.0 - 0.999 * STEP, 3.0]))
    one, none = np.ones_like(y), np.zeros_like(y)
    mass = 2.9 * one
    mass[-2:] += 0.9 / (0.9995 * STEP)
    return Spanwise(y, 0.18 * one, none, SpanMass(y, mass, none, none, none, none, none))


def _pull(radius: float) -> float:
    blade = _blade()
    return float(np.interp(radius, blade.y, blade.centrifugal_force(SPEED)))


CASES: tuple[Case, ...] = (
    Case(SOURCE, "mass [kg]", lambda: _blade().total_mass, 9.6, 1e-5, SPREAD),
    Case(SOURCE, "span moment [kg m]", lambda: _blade().span_moment, 15.75, 1e-5, SPREAD),
    Case(SOURCE, "flapping inertia [kg m^2]", lambda: _blade().flap_inertia, 34.2, 2e-5, SPREAD),
    Case(SOURCE, "pull at the axis [N]", lambda: _pull(0.0), 54164.389, 0.05, SPREAD),
    Case(SOURCE, "pull at 0.30 m [N]", lambda: _pull(0.30), 53715.598, 0.05, SPREAD),
)
