"""Height of the tip path for a pitch mismatch, against the Lock-number form of a uniform blade."""

import math

import numpy as np

from bladewright.engine.rotor.track import tip_rise_per_pitch
from bladewright.selfcheck.case import Case

_SOURCE = "W. Johnson, Helicopter Theory, 1980, chapter 5: R (gamma/8) dtheta in hover (from memory); closed form"
_LOCK = 2.9924171  # [1]
_TIP = 3.0  # [m]
_DENSITY, _SLOPE, _CHORD = 1.225, 5.7, 0.2


def _split(pitch: float) -> float:
    y = np.linspace(0.0, _TIP, 5)
    inertia = _DENSITY * _SLOPE * _CHORD * _TIP**4 / _LOCK
    return pitch * tip_rise_per_pitch(y, np.full(5, _CHORD), _SLOPE, _DENSITY, inertia, _TIP)


CASES: tuple[Case, ...] = (
    Case(_SOURCE, "track split for 0.1 deg [m]", lambda: _split(math.radians(0.1)), 0.0019585324, 1e-9),
    Case(
        _SOURCE, "track split for 0.1 mm of link at an arm of 0.15 m [m]", lambda: _split(1e-4 / 0.15), 0.00074810428,
        1e-10,
    ),
)  # fmt: skip
