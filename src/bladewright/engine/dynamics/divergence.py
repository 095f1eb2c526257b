"""Whether the air twists a blade off faster than it springs back, without any swinging."""

import numpy as np

from bladewright.engine.arrays import Floats, require_finite

REAL = 1e-9  # an eigenvalue whose imaginary part is smaller beside the greatest is real


def divergence_factor(stiffness: Floats, air_stiffness: Floats) -> float:
    """By how much the air's stiffness may be multiplied before the blade no longer springs back.

    The least ``f > 0`` for which ``K + f A`` lets some shape stand by itself.

    Parameters
    ----------
    stiffness : (m, m) array
        Elastic and centrifugal, of a blade that springs back without air. [N/m]
    air_stiffness : (m, m) array
        Force of the air is ``-A x``; need not be symmetric. [N/m]

    Returns
    -------
    float
        Below one: it has diverged. Infinite where no air does it. [1]

    Raises
    ------
    BadInput
        If a stiffness is not finite.

    Notes
    -----
    Air frozen as it meets the blade, lift in step with the twist. On a rotor both grow with the square of the speed,
    so a factor above one is a margin on lift slope, density or offset rather than on speed.

    Source: elementary; the condition is that of R. L. Bisplinghoff, H. Ashley, R. L. Halfman, Aeroelasticity, 1955
    (from memory).
    """
    require_finite(stiffness, "stiffness")
    require_finite(air_stiffness, "air_stiffness")
    softened = np.linalg.eigvals(-np.linalg.solve(stiffness, air_stiffness))
    real = softened.real[np.abs(softened.imag) <= REAL * np.abs(softened).max(initial=0.0)]
    greatest = float(real.max(initial=0.0))
    return 1.0 / greatest if greatest > 0.0 else np.inf
