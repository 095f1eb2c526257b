"""Blade elements with annulus momentum: untwisted without and with tip loss, ideally twisted, and the optimum blade."""

import math
from dataclasses import dataclass
from functools import cache, partial

import numpy as np

from bladewright.engine.arrays import Floats
from bladewright.engine.flow.polar import straight_polar
from bladewright.engine.rotor.atmosphere import standard_air
from bladewright.engine.rotor.hover import Hover, hover_sweep
from bladewright.engine.rotor.rotor_blade import plain_blade
from bladewright.selfcheck.case import Case

RINGS = "A. Gessow, NACA TN 1542, 1948 (from memory): untwisted blade in closed form, recomputed"
LOSSY = "L. Prandtl in A. Betz, 1919 (from memory): tip factor in the rings of NACA TN 1542, recomputed"
TWISTED = "A. Gessow, G. C. Myers, Aerodynamics of the Helicopter, 1952, ch. 4 (from memory): rings, closed form"
SPEED = 560.0 * math.pi / 30.0
RADIUS, CHORD, SLOPE = 3.0, 0.18, 5.73
CUT = 0.1  # [1] the twisted blades begin here: their pitch has no end at the axis
SOLIDITY = 2.0 * CHORD / (math.pi * RADIUS)


@dataclass(frozen=True, slots=True)
class _Coefficients:
    thrust: float
    induced: float
    profile: float


def _coefficients(found: Hover) -> _Coefficients:
    force = standard_air().density * math.pi * RADIUS**2 * (SPEED * RADIUS) ** 2
    power = force * SPEED * RADIUS
    return _Coefficients(found.thrust / force, found.induced_power / power, found.profile_power / power)


@cache
def _untwisted(degrees: float, lossy: bool) -> _Coefficients:
    y, ones = np.array([0.0, RADIUS]), np.ones(2)
    blade = plain_blade(y, CHORD * ones, 0.0 * ones, straight_polar(SLOPE, 0.0, 0.0, 0.0))
    (found,) = hover_sweep(blade, 2, SPEED, standard_air(), np.radians([degrees]), lossy_tip=lossy)
    return _coefficients(found)


def _shaped(chord: Floats, pitch: Floats, drag: float) -> Hover:
    blade = plain_blade(_radii(), chord, pitch, straight_polar(SLOPE, 0.0, drag, 0.0))
    (found,) = hover_sweep(blade, 2, SPEED, standard_air(), np.zeros(1), lossy_tip=False)
    return found


def _radii() -> Floats:
    return RADIUS * np.geomspace(CUT, 1.0, 400)


@cache
def _ideal() -> Hover:
    r = _radii() / RADIUS
    return _shaped(np.full_like(r, CHORD), math.radians(6.0) / r, 0.0)


@cache
def _optimum() -> Hover:
    r = _radii() / RADIUS
    inflow = math.sqrt(0.6 * SOLIDITY * 0.9 / 8.0)
    return _shaped(0.6 * CHORD / r, 0.9 / SLOPE + inflow / r, 0.0105)


_UNTWISTED = {
    False: {
        4.0: (0.0012340962, 0.0000331005), 6.0: (0.0021026856, 0.0000732867), 8.0: (0.0030290887, 0.0001263565),
        10.0: (0.0039938893, 0.0001909197), 12.0: (0.0049865951, 0.0002659520),
    },
    True: {
        4.0: (0.001193813, 0.000032884), 6.0: (0.002027669, 0.000073593), 8.0: (0.002915285, 0.000128210),
        10.0: (0.003838614, 0.000195628), 12.0: (0.004787936, 0.000275029),
    },
}  # fmt: skip
_PRINTED = {False: 1e-10, True: 1e-9}

CASES: tuple[Case, ...] = (
    *(
        Case(
            LOSSY if lossy else RINGS, f"{name} coefficient at {degrees:g} deg [1]",
            partial(lambda d, loss, at: getattr(_untwisted(d, loss), at), degrees, lossy, at), value, _PRINTED[lossy],
            "as many digits as are known",
        )
        for lossy, rows in _UNTWISTED.items()
        for degrees, values in rows.items()
        for name, at, value in zip(("thrust", "induced power"), ("thrust", "induced"), values, strict=True)
    ),
    *(
        Case(
            TWISTED, f"{which} [1]",
            partial(lambda of, at, power: getattr(_coefficients(of()), at) / (1.0 - CUT**power), of, at, power),
            value, 2e-5 * value, "drawn with straight lines between 400 stations; scaled to the whole disc from 0.1 R",
        )
        for which, of, at, power, value in (
            ("ideal twist: thrust coefficient", _ideal, "thrust", 2, 0.00345557678),
            ("ideal twist: induced power coefficient", _ideal, "induced", 2, 0.00014363683),
            ("optimum blade: thrust coefficient", _optimum, "thrust", 2, 0.0051566202),
            ("optimum blade: profile power coefficient", _optimum, "profile", 3, 4.0107046e-05),
        )
    ),
    Case(
        TWISTED, "ideal twist: inflow ratio half-way out [1]",
        lambda: float(np.interp(1.5, _ideal().parts.y, _ideal().inflow)) / (SPEED * RADIUS), 0.041566674, 5e-7,
        "drawn with straight lines between 400 stations",
    ),
)  # fmt: skip
