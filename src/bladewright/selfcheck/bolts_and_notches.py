"""Bolts that share, a bolt's slip, and notches whose factor is known in closed form."""

import math

import numpy as np

from bladewright.engine.strength.fastener_share import InPlane, bolt_flexibility, pattern_loads, row_shares
from bladewright.engine.strength.notch import fatigue_factor, nick_factor, worst_nick_factor
from bladewright.selfcheck.case import Case

ALIKE = "bolts between plates that do not stretch share alike: closed form, no source needed"
ROW = "three like bolts in like plates by compatibility, P (1 + q)/(3 + 2 q), as in NACA TN 1051, 1946; closed form"
GROUP = "elastic bolt group, a moment on a square of bolts, M / (4 h sqrt 2): closed form, no source needed"
HUTH = "H. Huth, ASTM STP 927, 1986 (formula from memory); worked by hand"
KIRSCH = "G. Kirsch, 1898, hole in a wide plate, 3; C. E. Inglis, 1913, ellipse (from memory); closed form"
PETERSON = "R. E. Peterson, 1959, 1 + (K_t - 1)/(1 + a/r) (from memory); closed form"
PLATE, PITCH, SLIP, HALF = 57.6e6, 0.04, 2e-9, 0.03
CORNERS_X, CORNERS_Y = HALF * np.array([1.0, -1.0, -1.0, 1.0]), HALF * np.array([1.0, 1.0, -1.0, -1.0])
_Q = PITCH / (PLATE * SLIP)


def _end_of_three() -> float:
    return float(row_shares(52000.0, np.full(2, PITCH), np.full(3, SLIP), PLATE, PLATE)[0])


def _corner() -> float:
    return float(pattern_loads(InPlane(0.0, 0.0, 120.0, 0.0, 0.0), CORNERS_X, CORNERS_Y, np.ones(4)).size[0])


CASES: tuple[Case, ...] = (
    Case(
        ALIKE, "one of four bolts under 52 kN [N]",
        lambda: float(row_shares(52000.0, np.full(3, 0.04), np.full(4, 1e-8), math.inf, math.inf)[2]), 13000.0, 1e-6,
    ),
    Case(ROW, "end bolt of three [N]", _end_of_three, 52000.0 * (1.0 + _Q) / (3.0 + 2.0 * _Q), 1e-6),
    Case(GROUP, "each bolt [N]", _corner, 120.0 / (4.0 * HALF * math.sqrt(2.0)), 1e-9),
    # 3 times (7/19.06)**0.4 times (1/0.003 + 1/0.004) times (1/72e9 + 1/400e9)
    Case(
        HUTH, "slip of a 9.53 mm steel bolt in 3 and 4 mm aluminium [m/N]",
        lambda: bolt_flexibility(0.00953, 0.003, 0.004, 72e9, 200e9), 1.92122229e-8, 1e-15, "eight digits",
    ),
    Case(KIRSCH, "a half-round nick [1]", lambda: nick_factor(0.0004, 0.0004), 3.0, 1e-12),
    Case(KIRSCH, "a nick four times as deep as its radius [1]", lambda: nick_factor(0.0004, 0.0001), 5.0, 1e-12),
    Case(PETERSON, "half of the excess at a radius of the material's length [1]",
         lambda: fatigue_factor(3.0, 0.0005, 0.0005), 2.0, 1e-12),
    Case(PETERSON, "worst radius of a nick four times the material's length [1]",
         lambda: worst_nick_factor(0.002, 0.0005), 3.0, 1e-12),
)  # fmt: skip
