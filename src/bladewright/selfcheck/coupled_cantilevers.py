"""Cantilevers at rest whose bending is coupled: with torsion by an offset mass, flap with chordwise by twist."""

import math
from dataclasses import replace
from functools import cache
from typing import Any

import numpy as np

from bladewright.engine.arrays import Floats
from bladewright.engine.dynamics.blade_beam import BladeBeam, Root
from bladewright.engine.dynamics.blade_matrices import blade_matrices
from bladewright.engine.dynamics.blade_modes import blade_modes
from bladewright.selfcheck.case import Case

WING = "M. Goland, J. Appl. Mech. 12, 1945, uniform wing; J. R. Banerjee, J. Sound Vib. 224, 1999 (from memory)"
TWISTED = "K. B. Subrahmanyam, S. V. Kulkarni, J. S. Rao, 1981, strip twisted by 45 deg (from memory)"
ROUNDED = "half the last digit remembered"
NO_SHEAR = "remembered to a tenth; theirs lets shear bend the strip too"

ABSENT = dict.fromkeys(
    (
        *("twist", "mass_x", "mass_z", "normal_inertia", "product_of_inertia", "bending_product"),
        *("elastic_x", "elastic_z", "shear_x", "shear_z", "gyration_squared"),
    ),
    0.0,
) | {"axial": 1e9}


def _beam(length: float, **values: float) -> BladeBeam:
    y = np.linspace(0.0, length, 9)
    arrays: dict[str, Any] = {name: np.full(9, value) for name, value in (ABSENT | values).items()}
    return BladeBeam(y, **arrays)


def _frequencies(beam: BladeBeam) -> Floats:
    return blade_modes(blade_matrices(beam, Root("clamped", math.inf), "collective"), 0.0, 6).frequencies


@cache
def _wing() -> Floats:
    return _frequencies(
        _beam(
            6.0, mass_per_length=35.75, mass_x=0.18, chordwise_inertia=8.65, flapwise=9.75e6, chordwise=1e12,
            torsion=9.88e5,
        )
    )  # fmt: skip


@cache
def _strip() -> Floats:
    """Steel, 152.4 by 25.4 by 1.7272 mm."""
    length, width, thickness, modulus, density = 0.1524, 0.0254, 0.0017272, 206.85e9, 7857.6
    mass = density * width * thickness
    beam = _beam(
        length, mass_per_length=mass, chordwise_inertia=mass * width**2 / 12.0,
        normal_inertia=mass * thickness**2 / 12.0, flapwise=modulus * width * thickness**3 / 12.0,
        chordwise=modulus * thickness * width**3 / 12.0,
        torsion=82.74e9 * width * thickness**3 / 3.0 * (1.0 - 0.63 * thickness / width),
    )  # fmt: skip
    turned = replace(beam, twist=beam.y / length * math.pi / 4.0)
    return _frequencies(turned) / (2.0 * math.pi)


CASES: tuple[Case, ...] = (
    Case(WING, "uniform wing, frequency 1 [rad/s]", lambda: float(_wing()[0]), 49.6, 0.05, ROUNDED),
    Case(WING, "uniform wing, frequency 2 [rad/s]", lambda: float(_wing()[1]), 97.0, 0.05, ROUNDED),
    Case(WING, "uniform wing, frequency 3 [rad/s]", lambda: float(_wing()[2]), 248.9, 0.05, ROUNDED),
    Case(WING, "uniform wing, frequency 4 [rad/s]", lambda: float(_wing()[3]), 355.6, 0.05, ROUNDED),
    Case(WING, "uniform wing, frequency 5 [rad/s]", lambda: float(_wing()[4]), 451.5, 0.05, ROUNDED),
    Case(TWISTED, "twisted strip, frequency 1 [Hz]", lambda: float(_strip()[0]), 62.0, 0.1, NO_SHEAR),
    Case(TWISTED, "twisted strip, frequency 2 [Hz]", lambda: float(_strip()[1]), 305.1, 0.5, NO_SHEAR),
)
