"""Frequencies and shapes of a turning blade."""

from dataclasses import dataclass

import numpy as np
from scipy.linalg import LinAlgError, eigh

from bladewright.engine.arrays import Floats
from bladewright.engine.dynamics.blade_matrices import BladeMatrices
from bladewright.errors import BadInput, NotConverged

STILL = 1e-9  # of the greatest eigenvalue: below is a movement without stiffness


@dataclass(frozen=True, slots=True)
class Modes:
    """The lowest modes at one rotor speed; every shape has unit modal mass."""

    rotor_speed: float  # [rad/s]
    frequency: Floats  # (k,) [rad/s]
    vectors: Floats  # (k, m) of the matrices' unknowns
    share: Floats  # (k, 3) of its kinetic energy that is flap, chordwise, torsion [1]


def blade_modes(matrices: BladeMatrices, rotor_speed: float, count: int = 10) -> Modes:
    """Lowest modes at a rotor speed.

    ``(K - w**2 M) u = 0``.

    Parameters
    ----------
    matrices : BladeMatrices
        Of the blade. [-]
    rotor_speed : float
        Not negative. [rad/s]
    count : int
        How many modes. [-]

    Returns
    -------
    Modes

    Raises
    ------
    BadInput
        If the blade gives way without ringing: some movement has less than no stiffness.
    NotConverged
        If the mass matrix cannot be inverted.

    Notes
    -----
    Source: definition; no source needed.
    """
    try:
        square, vectors = eigh(
            matrices.stiffness(rotor_speed), matrices.mass, subset_by_index=(0, min(count, len(matrices.mass)) - 1)
        )
    except LinAlgError as error:
        raise NotConverged("mass and stiffness are too unlike in size to be solved", field="mass") from error
    scale = STILL * np.trace(matrices.elastic) / np.trace(matrices.mass)
    if square[0] < -scale:
        raise BadInput(
            "the blade gives way without ringing",
            field="rotor_speed",
            value=f"{rotor_speed:g} rad/s",
            allowed="a blade that turns the stiffer the faster",
            fix="look at the places of mass centre and elastic centre",
        )
    rows = np.ascontiguousarray(vectors.T)
    return Modes(rotor_speed, np.sqrt(np.maximum(square, 0.0)), rows, _shares(matrices, rows))


def _shares(matrices: BladeMatrices, rows: Floats) -> Floats:
    """Kinetic energy of each field alone, of their sum."""
    f = matrices.fields
    kinds = [np.abs(field).max(axis=1) > 0.0 for field in (f.flap_slope, f.chordwise_slope, f.torsion)]
    alone = [np.einsum("ki,ij,kj->k", rows * kind, matrices.mass, rows * kind) for kind in kinds]
    energy = np.stack(alone, axis=-1)
    return energy / energy.sum(axis=-1, keepdims=True)
