"""Torsion of a turning blade: what its pull and its own flattening add."""

import math

import numpy as np

from bladewright.engine.dynamics.blade_beam import BladeBeam, PointMass, Root
from bladewright.engine.dynamics.blade_matrices import blade_matrices
from bladewright.engine.dynamics.blade_modes import blade_modes
from bladewright.engine.dynamics.held_shape import held_shape
from bladewright.selfcheck.case import Case

SOURCE = "J. C. Houbolt, G. W. Brooks, NACA Report 1346, 1958, torsion (from memory); closed form for a constant pull"
SPEED = 560.0 * math.pi / 30.0
LENGTH, STIFFNESS, PULL, SPREAD, INERTIA, FLATNESS = 2.7, 2600.0, 30000.0, 0.0019, 0.0062, 0.976
HELD = Root("clamped", math.inf)


def _beam(torsion: float, spread: float = 0.0, twist: float = 0.0, weight: float = 0.0) -> BladeBeam:
    """Nearly without mass of its own where a weight pulls, so that the pull is the same everywhere."""
    one, none = np.ones(2), np.zeros(2)
    inertia = 0.5 * INERTIA * one
    lean = 0.5 * INERTIA * FLATNESS * one
    return BladeBeam(
        y=np.array([0.0, LENGTH]), twist=np.array([0.0, twist * LENGTH]),
        mass_per_length=(1e-6 if weight else 1.0) * one, mass_x=none, mass_z=none,
        chordwise_inertia=inertia + (0.0 if weight else lean), normal_inertia=inertia - (0.0 if weight else lean),
        product_of_inertia=none, axial=1e9 * one, flapwise=1e7 * one, chordwise=1e7 * one, bending_product=none,
        elastic_x=none, elastic_z=none, torsion=torsion * one, shear_x=none, shear_z=none,
        gyration_squared=spread * one, masses=(PointMass(LENGTH, weight),) if weight else (),
    )  # fmt: skip


def _hertz(speed: float, torsion: float) -> float:
    modes = blade_modes(blade_matrices(_beam(torsion), HELD, "collective"), speed, 1)
    return float(modes.frequencies[0]) / (2.0 * math.pi)


def _under_pull() -> float:
    """Stiffness that torsion shows when a weight at the tip pulls, from its frequency."""
    beam = _beam(STIFFNESS, SPREAD, weight=PULL / (SPEED**2 * LENGTH))
    frequency = float(blade_modes(blade_matrices(beam, HELD, "collective"), SPEED, 1).frequencies[0])
    return INERTIA * (2.0 * frequency * LENGTH / math.pi) ** 2


def _untwist() -> float:
    """Torque on a blade twisted by one radian per metre, from how far it untwists."""
    rate = 1e-3
    beam = _beam(STIFFNESS, SPREAD, twist=rate, weight=PULL / (SPEED**2 * LENGTH))
    none = np.zeros(2)
    bent = held_shape(beam, HELD, "collective", SPEED, none, none, none)
    return -float(bent.twist[-1]) / LENGTH * (STIFFNESS + PULL * SPREAD) / rate


CASES: tuple[Case, ...] = (
    Case(SOURCE, "stiffness in torsion with the pull [N m^2]", _under_pull, 2657.0, 1e-3),
    Case(SOURCE, "first torsion at rest [Hz]", lambda: _hertz(0.0, STIFFNESS), 59.960752, 1e-6),
    Case(SOURCE, "first torsion turning [Hz]", lambda: _hertz(SPEED, STIFFNESS), 60.665577, 1e-6),
    Case(SOURCE, "first torsion per revolution [1]", lambda: _hertz(SPEED, STIFFNESS) * 60.0 / 560.0, 6.4998833, 1e-7),
    Case(SOURCE, "untwisting torque per twist [N m/(rad/m)]", _untwist, 57.0, 1e-3),
)
