"""Laminar separation on a linearly retarded flow and on the circular cylinder: Thwaites' integral, and the march."""

import math
from functools import cache

import numpy as np

from bladewright.engine.flow.laminar import Thwaites, thwaites
from bladewright.engine.flow.layer import march
from bladewright.selfcheck.case import Case
from bladewright.selfcheck.falkner_skan import course

THWAITES = "B. Thwaites, Aero. Quart. 1, 1949 (from memory); its integrals: closed form"
HOWARTH = "L. Howarth, Proc. Roy. Soc. A 164, 1938: 0.120; the full equations recomputed: 0.11977"
TERRILL = "R. M. Terrill, Phil. Trans. A 253, 1960: 104.5 deg; the full equations recomputed: 104.44"
INTEGRAL = "an integral method is not to be judged against the full equations tighter than this"
QUADRATURE = "trapezoid rule on 20001 points"
POINTS = 20001
#: Under a given speed the march is ill-conditioned at separation: 105.3 to 106.9 deg by number of steps and start.
STATIONS = 800


@cache
def _retarded() -> Thwaites:
    x = np.linspace(0.0, 0.2, POINTS)
    return thwaites(x, 1.0 - x, -np.ones(POINTS), 1.0)


@cache
def _cylinder() -> Thwaites:
    x = np.linspace(0.0, 2.2, POINTS)
    return thwaites(x, 2.0 * np.sin(x), 2.0 * np.cos(x), 1.0)


def _marched(place: np.ndarray, speed: np.ndarray, exponent: float) -> float:
    """Where the march's wall shear goes through zero, read between two stations."""
    friction = march(course(place, speed, exponent)).friction[:, 0]
    at = int(np.argmax(friction < 0.0))
    return float(np.interp(0.0, -friction[at - 1 : at + 1], place[at - 1 : at + 1]))


def _howarth() -> float:
    x = np.linspace(0.01, 0.36, STATIONS) ** 2
    return _marched(x, 1.0 - x, 0.0)


def _round() -> float:
    x = np.linspace(0.02, 1.95, STATIONS)
    return math.degrees(_marched(x, 2.0 * np.sin(x), 1.0))


CASES: tuple[Case, ...] = (
    Case(THWAITES, "retarded flow: separation [1]", lambda: _retarded().separation, 0.1231414254, 1e-6, QUADRATURE),
    Case(
        THWAITES,
        "retarded flow: momentum thickness at 0.1 [1]",
        lambda: float(_retarded().momentum[(POINTS - 1) // 2]),
        0.25714924,
        1e-6,
        QUADRATURE,
    ),
    Case(
        THWAITES, "cylinder: separation [deg]", lambda: math.degrees(_cylinder().separation), 103.1105, 1e-3, QUADRATURE
    ),
    Case(HOWARTH, "retarded flow: separation by the march [1]", _howarth, 0.11977, 0.0036, INTEGRAL),
    Case(TERRILL, "cylinder: separation by the march [deg]", _round, 104.44, 1.5, INTEGRAL),
)
