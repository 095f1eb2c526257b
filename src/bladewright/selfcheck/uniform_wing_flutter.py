"""Flutter and divergence of what does not turn, where others have published speeds: a section on springs, a wing."""

from collections.abc import Callable
from functools import cache

import numpy as np
from numpy.polynomial.legendre import leggauss

from bladewright.engine.arrays import Floats
from bladewright.engine.dynamics.divergence import divergence_factor
from bladewright.engine.dynamics.roots_in_air import Structure, roots_in_air
from bladewright.engine.dynamics.strip_air import Effects, StripAir, Strips, air_matrices
from bladewright.selfcheck.case import Case

BOOK = (
    "D. H. Hodges, G. A. Pierce, Introduction to Structural Dynamics and Aeroelasticity, 2002 (from memory): section "
    "on springs, mass ratio 20, a = -1/5, centre of mass at -1/10, radius**2 6/25, frequencies 2 to 5"
)
WING = "M. Goland, Y. L. Luke, J. Appl. Mech. 15, 1948, uniform cantilever wing (from memory)"
SIX_STATES = (
    "the book holds the wake by six states; put in place of Theodorsen's function they give our sum 2.165, 0.6545"
)
RULE = (
    "T. Theodorsen, I. E. Garrick, NACA Report 685, 1940, approximate rule sqrt(r**2 m/(pi rho b**2)/(1 + 2 (a + x))) "
    "(from memory): heavy section, soft in heave, a = -1/5, x = 1/5, r**2 = 1/4"
)
WING_BAND = "1 %: feet and pounds rounded on the way to SI"
HALVINGS = 20  # of the speeds looked through: a millionth of them is left
PLACES = 40  # of Gauss and Legendre along the wing; beyond 30 nothing changes

Flow = Callable[[float], tuple[Structure, StripAir, Strips]]


def _section(
    speed: float, heavy: float = 20.0, aft: float = 0.1, radius: float = 0.24, softer: float = 0.4
) -> tuple[Structure, StripAir, Strips]:
    """Half chord, density and torsion frequency one; rows are heave and pitch at the axis."""
    mass, one = heavy * np.pi, np.ones(1)
    inertia = np.array([[1.0, -aft], [-aft, radius]]) * mass
    spring = np.diag([softer**2, radius]) * mass
    heave, pitch, none = np.array([[1.0], [0.0]]), np.array([[0.0], [1.0]]), np.zeros((2, 1))
    strips = Strips(0.5 * one, one, heave, none, none, pitch, speed * one, 0.0)
    return Structure(inertia, 0.0 * inertia, spring), _plate(2.0, -0.3, 1.0), strips


def _heavy_section(speed: float) -> tuple[Structure, StripAir, Strips]:
    return _section(speed, 50.0, 0.2, 0.25, 0.1)


def _wing(speed: float) -> tuple[Structure, StripAir, Strips]:
    """Four bending and four twisting shapes of a cantilever."""
    length, chord, mass, inertia, bending, twisting = 6.096, 1.8288, 35.72, 8.64, 9.77e6, 0.987581e6
    aft = 0.10 * chord
    place, share = leggauss(PLACES)
    y, width = 0.5 * length * (place + 1.0), 0.5 * length * share
    wave = np.array([[1.87510407], [4.69409113], [7.85475744], [10.99554073]])  # cos cosh = -1
    lean = (np.cosh(wave) + np.cos(wave)) / (np.sinh(wave) + np.sin(wave))
    at = wave * y / length
    bent = np.cosh(at) - np.cos(at) - lean * (np.sinh(at) - np.sin(at))
    curved = (wave / length) ** 2 * (np.cosh(at) + np.cos(at) - lean * (np.sinh(at) + np.sin(at)))
    turn = (np.arange(4.0)[:, None] + 0.5) * np.pi / length
    none = np.zeros_like(bent)
    flap, curvature = np.vstack([bent, none]), np.vstack([curved, none])
    torsion, slope = np.vstack([none, np.sin(turn * y)]), np.vstack([none, turn * np.cos(turn * y)])
    centre = flap - aft * torsion
    masses = (centre * mass * width) @ centre.T + (torsion * (inertia - mass * aft**2) * width) @ torsion.T
    springs = (curvature * bending * width) @ curvature.T + (slope * twisting * width) @ slope.T
    zero = np.zeros_like(flap)
    strips = Strips(y, width, flap, zero, zero, torsion, np.full_like(y, speed), 0.0)
    return Structure(masses, 0.0 * masses, springs), _plate(chord, -0.08 * chord, 1.225, length), strips


def _plate(chord: float, centre: float, density: float, length: float = 1.0) -> StripAir:
    two = np.ones(2)
    slope, effects = 2.0 * np.pi * two, Effects(wake="shed")
    return StripAir(np.array([0.0, length]), chord * two, slope, centre * two, density, effects=effects)


@cache
def _flutter(flow: Flow, low: float, high: float) -> tuple[float, float]:
    """Speed and frequency at which the first motion no longer dies out, by bisection."""
    for _ in range(HALVINGS):
        speed = 0.5 * (low + high)
        roots = roots_in_air(*flow(speed))
        swings = roots.frequency > 0.0
        low, high = (low, speed) if roots.growth[swings].max() > 0.0 else (speed, high)
    roots = roots_in_air(*flow(high))
    return high, float(roots.frequency[np.argmax(roots.growth * (roots.frequency > 0.0))])


def _divergence(flow: Flow) -> float:
    """From the factor on the air at a speed of one, since the air's stiffness goes with the square."""
    structure, air, strips = flow(1.0)
    stiffness: Floats = np.real(air_matrices(air, strips).stiffness)
    return float(np.sqrt(divergence_factor(structure.stiffness, stiffness)))


CASES: tuple[Case, ...] = (
    Case(BOOK, "flutter speed [1]", lambda: _flutter(_section, 1.0, 3.0)[0], 2.165, 0.022, f"1 %: {SIX_STATES}"),
    Case(BOOK, "flutter frequency [1]", lambda: _flutter(_section, 1.0, 3.0)[1], 0.6545, 0.0066, f"1 %: {SIX_STATES}"),
    Case(BOOK, "divergence speed [1]", lambda: _divergence(_section), 2.828, 5e-4, "printed places"),
    Case(
        RULE, "flutter speed, mass ratio 50 [1]", lambda: _flutter(_heavy_section, 2.0, 5.0)[0],
        float(np.sqrt(50.0 * 0.25)), 0.11, "3 %: the rule leaves out the wake's lag and the spring of heave",
    ),
    Case(WING, "flutter speed [m/s]", lambda: _flutter(_wing, 50.0, 250.0)[0], 137.2, 1.4, WING_BAND),
    Case(WING, "flutter frequency [rad/s]", lambda: _flutter(_wing, 50.0, 250.0)[1], 70.7, 0.71, WING_BAND),
    Case(
        "uniform cantilever wing, pi/(2 L) sqrt(GJ/(rho/2 a c e)), closed form", "divergence speed [m/s]",
        lambda: _divergence(_wing),
        float(np.pi / (2.0 * 6.096) * np.sqrt(0.987581e6 / (0.5 * 1.225 * 2.0 * np.pi * 1.8288 * 0.08 * 1.8288))), 0.01,
    ),
)  # fmt: skip
