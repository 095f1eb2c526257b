"""Twisting and shearing of solid bars and a thick tube by finite elements."""

import numpy as np

from bladewright.engine.structure.section_mesh import Patch, section_mesh
from bladewright.engine.structure.section_warping import SectionWarping, section_warping
from bladewright.selfcheck.case import Case

SERIES = "B. de Saint-Venant's series, as tabled in S. P. Timoshenko, J. N. Goodier, Theory of Elasticity (from memory)"
TUBE = "polar moment of a thick tube, pi/2 (a^4 - b^4): closed form"
SHEAR = "parabolic shear over the depth, S. P. Timoshenko, Strength of Materials (from memory); closed form"
ONE = np.ones(1)


def _bar(width: float) -> SectionWarping:
    nodes = np.stack(np.meshgrid(np.linspace(0.0, width, 17), np.linspace(0.0, 1.0, 17), indexing="ij"), -1)
    return section_warping(section_mesh([Patch(nodes[None], (0,) * 8)]), ONE, ONE)


def _tube() -> float:
    angle, radius = np.linspace(0.0, 2.0 * np.pi, 65), np.linspace(2.0, 1.0, 5)
    nodes = np.stack((radius * np.cos(angle)[:, None], radius * np.sin(angle)[:, None]), axis=-1)
    return float(section_warping(section_mesh([Patch(nodes[None], (0, 0))]), ONE, ONE).torsion[0])


CASES: tuple[Case, ...] = (
    Case(SERIES, "square bar: J over side^4 [1]", lambda: float(_bar(1.0).torsion[0]), 0.1406, 5e-5, "four digits"),
    Case(
        SERIES,
        "bar twice as wide: J over width depth^3 [1]",
        lambda: float(_bar(2.0).torsion[0]) / 2.0,
        0.229,
        5e-4,
        "three digits",
    ),
    Case(TUBE, "tube of radii 2 and 1: J [m^4]", _tube, 7.5 * np.pi, 1e-3, "curved sides: 0.002 % off"),
    Case(
        SHEAR,
        "bar: shear stiffness over G A [1]",
        lambda: 0.5 / float(_bar(2.0).giving[0, 1, 1]),
        5.0 / 6.0,
        5e-5,
        "the cubic field taken by 8 quadratic pieces",
    ),
)
