"""What a trim tab does to the track: its lift lifts, its moment winds the blade down, and the control run decides."""

import math
from functools import cache

import numpy as np

from bladewright.engine.flow.thin_airfoil import flap_derivatives
from bladewright.engine.rotor.track import MateDifference, Rise, TrackSplit, tip_rise_per_pitch, track_split
from bladewright.selfcheck.case import Case

SOURCE = (
    "W. Johnson, Helicopter Theory, 1980, ch. 5 with H. Glauert, ARC R&M 1095, 1927 (from memory): rigid see-saw "
    "blades, recomputed"
)
SPEED, TIP, INERTIA, CHORD, DENSITY = 560.0 * math.pi / 30.0, 3.0, 34.2, 0.18, 1.225
PROPELLER = 7e-4 * INERTIA * SPEED**2  # [N m/rad]
SOFT, STIFF = (w**2 * PROPELLER for w in (2.0, 5.0))


@cache
def _tab() -> MateDifference:
    """10 % of the chord from 2.0 to 2.3 m, 2 degrees trailing edge down."""
    flap, down = flap_derivatives(0.10), math.radians(-2.0)
    pressure = 0.5 * DENSITY * SPEED**2
    return MateDifference(
        pitch=0.0,
        flap_moment=pressure * CHORD * (2.3**4 - 2.0**4) / 4.0 * flap.lift * down,
        feathering_moment=pressure * CHORD**2 * (2.3**3 - 2.0**3) / 3.0 * flap.moment * down,
    )


@cache
def _split() -> TrackSplit:
    y = np.linspace(0.0, TIP, 5)
    per_pitch = tip_rise_per_pitch(y, np.full(5, CHORD), 5.73, DENSITY, INERTIA, TIP)
    return track_split(_tab(), Rise(per_pitch, TIP, INERTIA, SPEED, 0.0, PROPELLER), SOFT, STIFF)


CASES: tuple[Case, ...] = (
    Case(SOURCE, "flap moment of the tab's lift [N m]", lambda: _tab().flap_moment, 98.614518, 1e-6),
    Case(SOURCE, "feathering moment of the tab [N m]", lambda: _tab().feathering_moment, -1.7868486, 1e-7),
    Case(SOURCE, "pitch, control run twice per rev [deg]", lambda: math.degrees(_split().wind_up_soft), -0.24870411,
         1e-8),
    Case(SOURCE, "tip height, control run twice per rev [m]", lambda: _split().soft, -0.0023555757, 1e-10),
    Case(SOURCE, "pitch, control run five times per rev [deg]", lambda: math.degrees(_split().wind_up_stiff),
         -0.047827713, 1e-9),
    Case(SOURCE, "tip height, control run five times per rev [m]", lambda: _split().stiff, 0.0015786536, 1e-10),
    Case(SOURCE, "the stiffness decides which flies high: yes is 1 [1]",
         lambda: float(_split().direction == "not determined"), 1.0, 0.0),
)  # fmt: skip
