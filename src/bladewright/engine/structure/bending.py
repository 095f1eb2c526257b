"""Stiffness of a section in pulling and bending, from stiffness moments (modulus times area moments)."""

from dataclasses import dataclass

import numpy as np

from bladewright.engine.arrays import Floats
from bladewright.engine.structure.moments import centre, moments_about


@dataclass(frozen=True, slots=True)
class Bending:
    """Pulling and bending stiffness; bending about axes through the elastic centre."""

    axial: Floats  # E A [N]
    centre_x: Floats  # elastic centre, aft [m]
    centre_z: Floats  # elastic centre, up [m]
    flapwise: Floats  # integral of E z**2 [N m^2]
    chordwise: Floats  # integral of E x**2 [N m^2]
    product: Floats  # integral of E x z [N m^2]
    least: Floats  # principal [N m^2]
    greatest: Floats  # principal [N m^2]
    weak_axis: Floats  # from +x toward +z to the axis of least stiffness [rad]


def bending(stiffness: Floats) -> Bending:
    """Elastic centre, bending stiffness and principal axes.

    ``tan 2a = 2 EI_xz / (EI_xx - EI_zz)`` for the axis about which the section bends most easily.

    Parameters
    ----------
    stiffness : (..., 6) array
        Modulus times the integrals of 1, x, z, x**2, z**2, x z, summed over the parts. [N, N m, N m^2]

    Returns
    -------
    Bending

    Notes
    -----
    Plane sections stay plane; every part is bonded to its neighbours.

    Source: transformed-section method; any text on strength of materials.
    """
    x, z = centre(stiffness)
    axial, _, _, xx, zz, xz = np.moveaxis(moments_about(stiffness, x, z), -1, 0)
    middle, half = 0.5 * (xx + zz), 0.5 * (xx - zz)
    radius = np.hypot(half, xz)
    return Bending(
        axial=axial,
        centre_x=x,
        centre_z=z,
        flapwise=zz,
        chordwise=xx,
        product=xz,
        least=middle - radius,
        greatest=middle + radius,
        weak_axis=0.5 * np.arctan2(2.0 * xz, 2.0 * half),
    )
