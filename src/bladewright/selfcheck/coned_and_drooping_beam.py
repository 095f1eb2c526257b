"""Steady shapes of uniform blades: coning on a free hinge, droop at rest."""

import math

import numpy as np

from bladewright.engine.dynamics.blade_beam import BladeBeam, PointMass, Root
from bladewright.engine.dynamics.held_shape import BentBlade, held_shape
from bladewright.selfcheck.case import Case

CONING = "W. Johnson, Helicopter Theory, 1980, ch. 5 (from memory); moment of lift over flap inertia, closed form"
DROOP = "elementary: uniform cantilever under its own weight, m g L^4 / (8 EI), m g L^2 / 2; closed form"
SPEED, GRAVITY = 560.0 * math.pi / 30.0, 9.80665
Y = np.linspace(0.0, 3.0, 31)


def _beam(stiffness: float) -> BladeBeam:
    """2.9 kg/m and 0.9 kg at the tip of 3 m."""
    one, none = np.ones_like(Y), np.zeros_like(Y)
    return BladeBeam(
        y=Y, twist=none, mass_per_length=2.9 * one, mass_x=none, mass_z=none, chordwise_inertia=0.006 * one,
        normal_inertia=none, product_of_inertia=none, axial=4e7 * one, flapwise=stiffness * one,
        chordwise=1e9 * one, bending_product=none, elastic_x=none, elastic_z=none, torsion=1e6 * one, shear_x=none,
        shear_z=none, gyration_squared=none, masses=(PointMass(3.0, 0.9),) if stiffness > 1e6 else (),
    )  # fmt: skip


def _coning(thrust: float, power: float) -> float:
    """Of a stiff blade under its weight and a thrust spread with a power of the radius. [deg]"""
    lift = thrust * (power + 1.0) * Y**power / 3.0 ** (power + 1.0)
    root = Root("hinged", math.inf)
    bent = held_shape(_beam(1e9), root, "collective", SPEED, lift, 0.0 * Y, 0.0 * Y, gravity=GRAVITY)
    return math.degrees(bent.coning)


def _drooping() -> BentBlade:
    none = 0.0 * Y
    return held_shape(_beam(5200.0), Root("clamped", math.inf), "collective", 0.0, none, none, none, gravity=GRAVITY)


CASES: tuple[Case, ...] = (
    Case(CONING, "free coning, lift with y^1 [deg]", lambda: _coning(1800.0, 1.0), 1.6784994, 2e-7),
    Case(
        CONING,
        "free coning, lift with y^2 [deg]",
        lambda: _coning(1800.0, 2.0),
        1.8977172,
        1.1e-3,
        "lift is straight between stations a thirtieth of the radius apart",
    ),
    Case(CONING, "free coning, the weight's part [deg]", lambda: _coning(0.0, 1.0), -0.07524272, 1e-8),
    Case(DROOP, "droop of the tip at rest [m]", lambda: -float(_drooping().flap[-1]), 0.055374569350961, 1e-12),
    Case(DROOP, "root moment at rest [N m]", lambda: -float(_drooping().flap_moment[0]), 127.9767825, 1e-9),
)
