"""Flutter and divergence of a stiff hinged blade, against a fully stated model problem worked by other means."""

from dataclasses import replace

import numpy as np
from numpy.polynomial.legendre import leggauss

from bladewright.engine.dynamics.pitch_flap import (
    PitchFlap,
    pitch_flap_divergence,
    pitch_flap_flutter,
    pitch_flap_roots,
    strip_pitch_damping,
)
from bladewright.engine.dynamics.roots_in_air import Structure, roots_in_air
from bladewright.engine.dynamics.strip_air import Effects, StripAir, Strips
from bladewright.selfcheck.case import Case

MODEL = (
    "pitch and flap of a stiff hinged blade as in W. Johnson, Helicopter Theory, 1980, ch. 12, and R. H. Miller, C. W. "
    "Ellis, J. Am. Helicopter Soc. 1, 1956 (both from memory); a numerical example recomputed to 1e-8"
)
PLATE = PitchFlap(5.0, 1.0, 0.0007, strip_pitch_damping(5.0, 0.06), 3.0)


def _held(frequency: float) -> PitchFlap:
    return replace(PLATE, control_frequency=frequency)


def _flutter(frequency: float) -> float:
    offset = pitch_flap_flutter(_held(frequency))
    return float("nan") if offset is None else offset


def _divergence(arm: float) -> float:
    return pitch_flap_divergence(replace(PLATE, aerodynamic_centre=arm))


def _root(which: int) -> complex:
    return complex(pitch_flap_roots(PLATE, 0.004)[which])


def _by_strips(which: int) -> complex:
    """The same blade by strips of air along it, the smaller effects off: radius, speed and density one."""
    place, share = leggauss(8)
    y, length, inertia = 0.5 * (place + 1.0), 0.5 * share, 2.0 * np.pi * 0.06 / 5.0
    flap, pitch = np.vstack([y, 0.0 * y]), np.vstack([0.0 * y, np.ones_like(y)])
    strips = Strips(y, length, flap, 0.0 * flap, 0.0 * flap, pitch, y, 1.0)
    ends, bare = np.array([0.0, 1.0]), Effects(pitch_rate_lift=False, coned_turning=False, apparent_mass=False)
    air = StripAir(ends, np.full(2, 0.06), np.full(2, 2.0 * np.pi), np.zeros(2), 1.0, effects=bare)
    mass = np.array([[1.0, -0.004], [-0.004, 0.0007]]) * inertia
    stiffness = np.array([[1.0, -0.004], [-0.004, 0.0007 * 10.0]]) * inertia
    return complex(roots_in_air(Structure(mass, 0.0 * mass, stiffness), air, strips).values[which])


CASES: tuple[Case, ...] = (
    Case(MODEL, "growth, first pair [1/rad]", lambda: _root(2).real, -0.51151019, 1e-8),
    Case(MODEL, "frequency, first pair [1/rad]", lambda: _root(2).imag, 0.85254478, 1e-8),
    Case(MODEL, "growth, second pair [1/rad]", lambda: _root(3).real, -0.21948396, 1e-8),
    Case(MODEL, "frequency, second pair [1/rad]", lambda: _root(3).imag, 2.5658944, 1e-7),
    Case(MODEL, "growth by strips, first pair [1/rad]", lambda: _by_strips(0).real, -0.51151019, 1e-8),
    Case(MODEL, "frequency by strips, first pair [1/rad]", lambda: _by_strips(0).imag, 0.85254478, 1e-8),
    Case(MODEL, "growth by strips, second pair [1/rad]", lambda: _by_strips(1).real, -0.21948396, 1e-8),
    Case(MODEL, "frequency by strips, second pair [1/rad]", lambda: _by_strips(1).imag, 2.5658944, 1e-7),
    Case(MODEL, "flutter offset, control 2 per rev [1]", lambda: _flutter(2.0), 0.00343700, 1e-8),
    Case(MODEL, "flutter offset, control 3 per rev [1]", lambda: _flutter(3.0), 0.00665432, 1e-8),
    Case(MODEL, "flutter offset, control 4 per rev [1]", lambda: _flutter(4.0), 0.01246232, 1e-8),
    Case(
        MODEL, "blades that flutter, control 5 per rev [1]",
        lambda: float(pitch_flap_flutter(_held(5.0)) is not None), 0.0, 0.5,
    ),
    Case(MODEL, "divergence offset, 2 per rev [1]", lambda: pitch_flap_divergence(_held(2.0)), 0.00555070, 1e-8),
    Case(MODEL, "divergence offset, 3 per rev [1]", lambda: pitch_flap_divergence(_held(3.0)), 0.01100618, 1e-8),
    Case(MODEL, "divergence offset, 4 per rev [1]", lambda: pitch_flap_divergence(_held(4.0)), 0.01849282, 1e-8),
    Case(MODEL, "divergence offset, 5 per rev [1]", lambda: pitch_flap_divergence(_held(5.0)), 0.02787663, 1e-8),
    Case(MODEL, "divergence, lift behind by 0.0006 R [1]", lambda: _divergence(0.0006), 0.011778044, 1e-8),
    Case(MODEL, "divergence, lift ahead by 0.0006 R [1]", lambda: _divergence(-0.0006), 0.010232474, 1e-8),
)  # fmt: skip
