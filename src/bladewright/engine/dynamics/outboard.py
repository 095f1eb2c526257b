"""What lies further out on a blade."""

import numpy as np

from bladewright.engine.arrays import Floats, Integers
from bladewright.engine.dynamics.blade_beam import BladeBeam


def outboard_pull(beam: BladeBeam, radii: Floats) -> Floats:
    """Centrifugal pull of all that lies further out, exact for mass straight between stations.

    ``T / W**2 = integral from y to R of m y dy``, weights included, for a rotor speed of one.

    Parameters
    ----------
    beam : BladeBeam
        [-]
    radii : (p,) array
        On the blade; the pull of a weight reaches its own radius. [m]

    Returns
    -------
    (p,) array
        [N per (rad/s)^2]

    Notes
    -----
    Source: definition; no source needed.
    """
    y, m = beam.y, beam.mass_per_length
    growth = np.diff(m) / np.diff(y)
    base = m[:-1] - growth * y[:-1]

    def within(low: Floats, high: Floats, at: Integers) -> Floats:
        piece: Floats = base[at] * (high**2 - low**2) / 2.0 + growth[at] * (high**3 - low**3) / 3.0
        return piece

    each = within(y[:-1], y[1:], np.arange(len(base)))
    outboard = np.concatenate((np.cumsum(each[::-1])[::-1], [0.0]))
    at = np.clip(np.searchsorted(y, radii, side="right") - 1, 0, len(base) - 1)
    pull = outboard[at + 1] + within(radii, y[at + 1], at)
    for weight in beam.masses:
        pull = pull + weight.mass * weight.y * (radii <= weight.y)
    return pull
