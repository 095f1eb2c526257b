"""How the lift near the tip is lost because the blades are few."""

import numpy as np

from bladewright.engine.arrays import Floats


def tip_loss(blades: int, to_tip: Floats, inflow: Floats) -> Floats:
    """Prandtl's factor: mean over the circle of the induced velocity, as a share of that at the blade.

    ``F = (2/pi) acos(exp(-f))``, ``f = (N/2) (1 - r)/lambda``.

    Parameters
    ----------
    blades : int
        N, how many. [-]
    to_tip : array
        ``1 - r``, the way left to the tip as a share of the radius. [1]
    inflow : array
        lambda, velocity through the disc over tip speed, of either sign. [1]

    Returns
    -------
    array
        0 at the tip, near 1 inboard. [1]

    Notes
    -----
    For lightly loaded blades; the wake is taken as sheets that neither contract nor roll up.

    Source: L. Prandtl in A. Betz, 1919; H. Glauert, 1935 (from memory).
    """
    spacing = 0.5 * blades * to_tip / np.maximum(np.abs(inflow), np.finfo(float).tiny)
    factor: Floats = 2.0 / np.pi * np.arccos(np.exp(-spacing))
    return factor
