"""Flapwise frequencies of a uniform turning beam: clamped, hinged, with a tip mass, with a hub."""

import math
from collections.abc import Iterator
from functools import cache, partial
from typing import Literal

import numpy as np

from bladewright.engine.arrays import Floats
from bladewright.engine.dynamics.blade_beam import BladeBeam, PointMass, Root
from bladewright.engine.dynamics.blade_matrices import blade_matrices
from bladewright.engine.dynamics.blade_modes import blade_modes
from bladewright.selfcheck.case import Case

WRIGHT = (
    "A. D. Wright, C. E. Smith, R. W. Thresher, J. L. C. Wang, J. Appl. Mech. 49, 1982; D. H. Hodges, M. J. Rutkowski, "
    "AIAA J. 19, 1981 (tables from memory; figures by a power series of 40 digits)"
)
SOUTHWELL = (
    "R. V. Southwell, B. S. Gough, ARC R&M 766, 1921; R. T. Yntema, NACA TN 3459, 1955 (from memory; closed form)"
)
DIGITS = "as many digits as the figure has"

Held = Literal["clamped", "hinged"]
#: root, mode from nought, K, band
COEFFICIENTS: tuple[tuple[Held, int, float, float], ...] = (
    ("clamped", 0, 1.1933364, 1e-6),
    ("clamped", 1, 6.4782249, 1e-6),
    ("clamped", 2, 17.85952, 1e-5),
    ("hinged", 1, 6.3973948, 1e-6),
    ("hinged", 2, 17.905002, 1e-5),
)
#: rotor speed, tip mass, hub, then frequencies clamped and hinged; all over sqrt(EI / (m L**4)), m L, L
PUBLISHED: tuple[tuple[float, float, float, tuple[float, ...], tuple[float, ...]], ...] = (
    (0.0, 0.0, 0.0, (3.516015, 22.034492, 61.697214), (15.418206, 49.964862)),
    (1.0, 0.0, 0.0, (3.681647, 22.181011, 61.841763), (15.624242, 50.143687)),
    (5.0, 0.0, 0.0, (6.449545, 25.446080, 65.205041), (19.919662, 54.241938)),
    (10.0, 0.0, 0.0, (11.202328, 33.640366, 74.649295), (29.443927, 65.255442)),
    (5.0, 0.3, 0.0, (5.858992, 23.058888, 58.924188), (18.762771,)),
    (5.0, 0.1, 0.05, (6.296231, 23.667074, 60.171460), (5.170021, 18.988549)),
    (5.0, 0.0, 0.1, (6.741420, 25.865476, 65.677669), (5.361275, 20.478532)),
)


def _beam(hub: float, tip: float, length: float = 1.0, mass: float = 1.0, stiffness: float = 1.0) -> BladeBeam:
    one, none = np.ones(2), np.zeros(2)
    return BladeBeam(
        y=np.array([hub, hub + length]), twist=none, mass_per_length=mass * one, mass_x=none, mass_z=none,
        chordwise_inertia=1e-9 * one, normal_inertia=none, product_of_inertia=none, axial=1e9 * one,
        flapwise=stiffness * one, chordwise=1e5 * stiffness * one, bending_product=none, elastic_x=none,
        elastic_z=none, torsion=1e5 * stiffness * one, shear_x=none, shear_z=none, gyration_squared=none,
        masses=(PointMass(hub + length, tip),) if tip else (),
    )  # fmt: skip


@cache
def _found(speed: float, tip: float, hub: float, flap: Held) -> Floats:
    root = Root(flap, math.inf, hinge_offset=hub)
    return blade_modes(blade_matrices(_beam(hub, tip), root, "collective"), speed, 4).frequencies


def _frequency(speed: float, tip: float, hub: float, flap: Held, number: int) -> float:
    return float(_found(speed, tip, hub, flap)[number])


def _published() -> Iterator[Case]:
    for speed, tip, hub, clamped, hinged in PUBLISHED:
        told = f"speed {speed:g}, tip mass {tip:g}, hub {hub:g}"
        first = 0 if hub else 1  # with the hinge on the axis the first is the rotor speed itself
        both: tuple[tuple[Held, tuple[float, ...]], ...] = (("clamped", clamped), ("hinged", hinged))
        for flap, values in both:
            skip = first if flap == "hinged" else 0
            for number, value in enumerate(values):
                yield Case(
                    WRIGHT,
                    f"{flap}, {told}, frequency {number + skip + 1} [1]",
                    partial(_frequency, speed, tip, hub, flap, number + skip),
                    value,
                    2e-6,
                    DIGITS,
                )


@cache
def _southwell(flap: Held) -> Floats:
    matrices = blade_matrices(_beam(0.0, 0.0), Root(flap, math.inf), "collective")
    still = blade_modes(matrices, 0.0, 4).vectors
    return np.asarray(np.einsum("ki,ij,kj->k", still, matrices.centrifugal, still))


def _coefficients() -> Iterator[Case]:
    for flap, number, value, band in COEFFICIENTS:
        name = f"coefficient K of {flap} mode {number + 1} [1]"
        yield Case(SOUTHWELL, name, partial(_coefficient, flap, number), value, band, DIGITS)


def _coefficient(flap: Held, number: int) -> float:
    return float(_southwell(flap)[number])


def _per_rev() -> float:
    speed = 560.0 * math.pi / 30.0
    beam = _beam(0.0, 0.0, 3.0, 2.9, 5200.0)
    return float(
        blade_modes(blade_matrices(beam, Root("clamped", math.inf), "collective"), speed, 1).frequencies[0] / speed
    )


CASES: tuple[Case, ...] = (
    *_published(),
    *_coefficients(),
    Case(
        SOUTHWELL,
        "frequency 1 at speed 5 by the sum [1]",
        lambda: math.sqrt(float(_found(0.0, 0.0, 0.0, "clamped")[0]) ** 2 + 25.0 * float(_southwell("clamped")[0])),
        6.4958273,
        1e-6,
    ),
    Case(WRIGHT, "first flap per revolution, 5200 N m^2, 2.9 kg/m, 3 m, 560 rev/min [1]", _per_rev, 1.0934338, 1e-7),
)
