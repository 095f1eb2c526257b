"""Twisting of solid bars and a thick tube by the stress function on a grid."""

import numpy as np

from bladewright.engine.structure.solid_block import FREE, OUTER, solid_block
from bladewright.selfcheck.case import Case

SERIES = "B. de Saint-Venant's series, as tabled in S. P. Timoshenko, J. N. Goodier, Theory of Elasticity (from memory)"
TUBE = "polar moment of a thick tube, pi/2 (a^4 - b^4): closed form"
LOW = "33 points a side: the grid is 0.4 % low; the tabled figure has three or four digits"


def _bar(width: float) -> float:
    nodes = np.stack(np.meshgrid(np.linspace(0.0, width, 33), np.linspace(0.0, 1.0, 33), indexing="ij"), -1)
    held = np.full((33, 33), FREE)
    held[[0, -1]] = held[:, [0, -1]] = OUTER
    return float(solid_block(nodes, np.ones((32, 32)), held, 0).own) / width


def _tube() -> float:
    angle, radius = np.linspace(0.0, 0.5 * np.pi, 49), np.linspace(2.0, 1.0, 17)
    nodes = np.stack((radius * np.cos(angle)[:, None], radius * np.sin(angle)[:, None]), axis=-1)
    held = np.full((49, 17), FREE)
    held[:, 0], held[:, -1] = OUTER, 1
    quarter = solid_block(nodes, np.ones((48, 16)), held, 1)
    area = 4.0 * float(quarter.areas[0]) + np.pi
    return area**2 / float(quarter.flexibility[0, 0]) + 4.0 * float(quarter.own)


CASES: tuple[Case, ...] = (
    Case(SERIES, "square bar: J over side^4 [1]", lambda: _bar(1.0), 0.1406, 0.0007, LOW),
    Case(SERIES, "bar twice as wide: J over width depth^3 [1]", lambda: _bar(2.0), 0.229, 0.0015, LOW),
    Case(TUBE, "tube of radii 2 and 1: J [m^4]", _tube, 7.5 * np.pi, 0.03, "straight sides: 0.1 % low"),
)
