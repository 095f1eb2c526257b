"""What a bent blade bears inside, from its curvature at the beam's stations."""

from dataclasses import dataclass
from typing import Generic, TypeVar

import numpy as np
from numpy.typing import NDArray

from bladewright.engine.arrays import Floats
from bladewright.engine.dynamics.blade_beam import BladeBeam
from bladewright.engine.dynamics.blade_matrices import BladeMatrices

Number = TypeVar("Number", np.float64, np.complex128)


@dataclass(frozen=True, slots=True)
class InnerMoments(Generic[Number]):
    """Moments of the inner forces about each section's elastic centre, in disc axes that twist with it."""

    flap: NDArray[Number]  # (n,) bends the tip up [N m]
    chord: NDArray[Number]  # (n,) bends the tip aft [N m]
    torsion: NDArray[Number]  # (n,) borne by shear, twists the tip nose-up [N m]


def inner_moments(
    beam: BladeBeam, matrices: BladeMatrices, pitch: float, unknowns: NDArray[Number]
) -> InnerMoments[Number]:
    """Stiffness times curvature and twist per length.

    ``M_w = EI_ZZ w'' + EI_XZ v''``, ``M_v = EI_XX v'' + EI_XZ w''``, ``M_p = G J p'``.

    Parameters
    ----------
    beam : BladeBeam
        [-]
    matrices : BladeMatrices
        Of that beam. [-]
    pitch : float
        They were made with. [rad]
    unknowns : (m,) array
        Real, or complex for what swings. [-]

    Returns
    -------
    InnerMoments

    Notes
    -----
    The axes are the disc's where the loads do not twist the blade, and turn with that twist; so to a section they lie
    at its built-in twist and the lever's pitch, for ``in_section_axes``. The pull bears part of the torque besides, in
    fibres that wind round the elastic centre: it loads no shear.

    Source: beam theory, any text.
    """
    fields, at = matrices.fields, matrices.stations
    up, aft = unknowns @ fields.flap_curvature[:, at], unknowns @ fields.chordwise_curvature[:, at]
    sin, cos = np.sin(beam.twist + pitch), np.cos(beam.twist + pitch)
    chordwise, flapwise, both = beam.chordwise, beam.flapwise, beam.bending_product
    across = (flapwise - chordwise) * sin * cos + both * (cos**2 - sin**2)
    return InnerMoments(
        flap=(chordwise * sin**2 - 2.0 * both * sin * cos + flapwise * cos**2) * up + across * aft,
        chord=(chordwise * cos**2 + 2.0 * both * sin * cos + flapwise * sin**2) * aft + across * up,
        torsion=beam.torsion * (unknowns @ fields.torsion_slope[:, at]),
    )


def in_section_axes(flap: Floats, chord: Floats, angle: Floats) -> tuple[Floats, Floats]:
    """Bending moments of the disc's axes turned into those of a section.

    Parameters
    ----------
    flap, chord : (n,) arrays
        Out of the plane of rotation and in it; up and aft positive. [N m]
    angle : (n,) array
        Of the section, nose-up: twist and pitch. [rad]

    Returns
    -------
    tuple of arrays
        Square to the chord line, top skin pressed; along it, trailing edge pressed. [N m]

    Notes
    -----
    Source: turning of axes; no source needed.
    """
    sin, cos = np.sin(angle), np.cos(angle)
    return flap * cos + chord * sin, chord * cos - flap * sin
