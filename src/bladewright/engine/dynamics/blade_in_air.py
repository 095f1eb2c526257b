"""A turning blade brought down to its lowest shapes, with the strips its air is summed on."""

from dataclasses import dataclass

import numpy as np
from scipy import linalg

from bladewright.engine.arrays import Floats, require_finite
from bladewright.engine.dynamics.roots_in_air import Structure
from bladewright.engine.dynamics.strip_air import Strips
from bladewright.engine.dynamics.turning_blade import TurningBlade
from bladewright.errors import BadInput, OutsideValidity

SHAPES = 12  # lowest in vacuum; twice as many move a margin by less than a twentieth of a millimetre on our blades


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
    OutsideValidity
        If the mass of the beam cannot be told from nothing in some motion.

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
    stiffness = blade.stiffness(rotor_speed)
    last = min(count, stiffness.shape[0]) - 1
    try:
        _, basis = linalg.eigh(stiffness, blade.mass, subset_by_index=(0, last))
    except linalg.LinAlgError as error:
        raise OutsideValidity(
            "some motion of the blade moves no mass", field="mass", allowed="mass and inertia at every station",
            fix="look for a station with next to no mass, or with less inertia than its mass offset needs",
        ) from error  # fmt: skip
    structure = in_shapes(blade, basis, rotor_speed)
    fields = blade.fields
    told = fields.weights > 0.0
    strips = Strips(
        y=fields.y[told],
        length=fields.weights[told],
        flap=basis.T @ fields.flap[:, told],
        flap_slope=basis.T @ fields.flap_slope[:, told],
        chordwise=basis.T @ fields.chordwise[:, told],
        torsion=basis.T @ fields.torsion[:, told],
        air_speed=rotor_speed * fields.y[told] + forward_speed,
        rotor_speed=rotor_speed,
    )
    return BladeInAir(structure, strips, basis)


def in_shapes(blade: TurningBlade, basis: Floats, rotor_speed: float) -> Structure:
    """Mass, Coriolis and stiffness of a blade at a speed, in chosen shapes.

    Parameters
    ----------
    blade : TurningBlade
        [-]
    basis : (m, k) array
        Of the beam's degrees of freedom. [-]
    rotor_speed : float
        [rad/s]

    Returns
    -------
    Structure

    Notes
    -----
    Source: Rayleigh and Ritz; Lord Rayleigh, The theory of sound, 1877 (from memory).
    """
    return Structure(
        mass=basis.T @ blade.mass @ basis,
        damping=rotor_speed * (basis.T @ blade.coriolis @ basis),
        stiffness=basis.T @ blade.stiffness(rotor_speed) @ basis,
    )
