"""A turning blade brought down to its lowest shapes, with the strips its air is summed on."""

from dataclasses import dataclass
from typing import Literal

import numpy as np
from scipy import linalg

from bladewright.engine.arrays import Complexes, Floats, require_finite
from bladewright.engine.dynamics.blade_beam import BladeBeam
from bladewright.engine.dynamics.roots_in_air import Structure
from bladewright.engine.dynamics.strip_air import Strips
from bladewright.engine.dynamics.turning_blade import TurningBlade, narrowed
from bladewright.errors import BadInput, OutsideValidity

Motion = Literal["flap", "chordwise", "torsion"]

SHAPES = (
    12  # lowest in vacuum; twice as many move a margin by less than a twentieth of a millimetre on the example blade
)


@dataclass(frozen=True, slots=True)
class BladeInAir:
    """One rotor speed of one blade: structure and strips in its own lowest shapes."""

    structure: Structure
    strips: Strips
    basis: Floats  # (m, k) of the beam's degrees of freedom [-]


def blade_in_air(
    blade: TurningBlade, rotor_speed: float, forward_speed: float = 0.0, count: int = SHAPES
) -> BladeInAir:
    """The blade at a speed, in the shapes it would swing in without air.

    Parameters
    ----------
    blade : TurningBlade
        [-]
    rotor_speed : float
        [rad/s]
    forward_speed : float, optional
        Added to the air of every station, as if the advancing blade stayed there. [m/s]
    count : int, optional
        Shapes kept. [-]

    Returns
    -------
    BladeInAir

    Raises
    ------
    BadInput
        If a speed is nothing, negative or no number.

    Notes
    -----
    Structure is exact in these shapes; air couples them, and what it would bend beyond them is left out.

    Source: Rayleigh and Ritz; Lord Rayleigh, The theory of sound, 1877 (from memory).
    """
    require_finite(np.array([rotor_speed]), "rotor_speed")
    require_finite(np.array([forward_speed]), "forward_speed")
    if rotor_speed <= 0.0:
        raise BadInput("the rotor does not turn", field="rotor_speed", value=rotor_speed, allowed="more than zero")
    if forward_speed < 0.0:
        raise BadInput("is less than nothing", field="forward_speed", value=forward_speed, allowed="zero or more")
    basis = shapes_without_air(blade, rotor_speed, count)
    here = narrowed(blade, basis)
    strips = Strips(
        y=here.y,
        length=here.length,
        flap=here.flap,
        flap_slope=here.flap_slope,
        chordwise=here.chordwise,
        torsion=here.torsion,
        air_speed=rotor_speed * here.y + forward_speed,
        rotor_speed=rotor_speed,
    )
    return BladeInAir(structure_at(here, rotor_speed), strips, basis)


def most_energy(strips: Strips, beam: BladeBeam, shape: Complexes) -> Motion:
    """What most of a motion's energy is in: flap and chordwise of the feathering axis, or torsion about it.

    Parameters
    ----------
    strips : Strips
        [-]
    beam : BladeBeam
        [-]
    shape : (k,) array
        In the shapes of the strips. [-]

    Returns
    -------
    "flap", "chordwise" or "torsion"

    Notes
    -----
    Source: kinetic energy along the span, weights left out; elementary.
    """
    mass = np.interp(strips.y, beam.y, beam.mass_per_length) * strips.length
    inertia = np.interp(strips.y, beam.y, beam.chordwise_inertia + beam.normal_inertia) * strips.length
    shares: dict[Motion, float] = {
        "flap": float(np.abs(shape @ strips.flap) ** 2 @ mass),
        "chordwise": float(np.abs(shape @ strips.chordwise) ** 2 @ mass),
        "torsion": float(np.abs(shape @ strips.torsion) ** 2 @ inertia),
    }
    return max(shares, key=lambda motion: shares[motion])


def shapes_without_air(blade: TurningBlade, rotor_speed: float, count: int) -> Floats:
    """The lowest shapes of a blade that swings without air and without Coriolis.

    Parameters
    ----------
    blade : TurningBlade
        [-]
    rotor_speed : float
        [rad/s]
    count : int
        How many; fewer where the blade has fewer. [-]

    Returns
    -------
    (m, k) array
        One to a column, of unit mass. [1]

    Raises
    ------
    OutsideValidity
        If the mass of the beam cannot be told from nothing in some motion.

    Notes
    -----
    Source: Rayleigh and Ritz; Lord Rayleigh, The theory of sound, 1877 (from memory).
    """
    last = min(count, blade.mass.shape[0]) - 1
    try:
        _, basis = linalg.eigh(blade.stiffness(rotor_speed), blade.mass, subset_by_index=(0, last))
    except linalg.LinAlgError as error:
        raise OutsideValidity(
            "some motion of the blade moves no mass", field="mass", allowed="mass and inertia at every station",
            fix="look for a station with next to no mass, or with less inertia than its mass offset needs",
        ) from error  # fmt: skip
    return np.asarray(basis)


def structure_at(blade: TurningBlade, rotor_speed: float) -> Structure:
    """Mass, Coriolis and stiffness of a blade at a speed.

    Parameters
    ----------
    blade : TurningBlade
        [-]
    rotor_speed : float
        [rad/s]

    Returns
    -------
    Structure

    Notes
    -----
    Source: elementary.
    """
    return Structure(blade.mass, rotor_speed * blade.coriolis, blade.stiffness(rotor_speed))
