"""Where integrals along a blade are summed, when its properties run straight between stations."""

import numpy as np
from numpy.polynomial.legendre import leggauss

from bladewright.engine.arrays import Floats

POINTS = 4  # of each stretch: exact for three straight properties times radius to the fourth


def span_points(stations: Floats) -> tuple[Floats, Floats]:
    """Points between the stations and the length each stands for.

    Parameters
    ----------
    stations : (n,) array
        Increasing radii. [m]

    Returns
    -------
    tuple of (q,) arrays
        Radii, lengths. [m]

    Notes
    -----
    Source: Gauss quadrature; any text on numerical methods.
    """
    place, share = leggauss(POINTS)
    half = 0.5 * np.diff(stations)[:, None]
    points = 0.5 * (stations[1:] + stations[:-1])[:, None] + half * place
    return points.ravel(), (half * share).ravel()
