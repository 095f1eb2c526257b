"""Drag from what leaves the trailing edge, and the plate laws it is checked against."""

import numpy as np

from bladewright.engine.arrays import Floats
from bladewright.errors import BadInput


def wake_drag(momentum: Floats, shape: Floats, speed: Floats) -> Floats:
    """Drag coefficient from one layer at the trailing edge, or from a wake part-way downstream.

    ``cd = 2 (theta/c) (u/U)**((H + 5)/2)``, to be summed over both sides.

    Parameters
    ----------
    momentum : (...) array
        Momentum thickness. [chord]
    shape : (...) array
        H at the same place, displacement over momentum thickness. [1]
    speed : (...) array
        Edge speed over flight speed. [1]

    Returns
    -------
    (...) array
        [1]

    Notes
    -----
    Assumes that ln(U/u) falls to nothing in step with H - 1 in the wake. Less sure where the layer is separated at
    the trailing edge; far down the wake the exponent no longer matters.

    Source: H. B. Squire, A. D. Young, ARC R&M 1838, 1937 (from memory).
    """
    drag: Floats = 2.0 * momentum * speed ** (0.5 * (shape + 5.0))
    return drag


def schoenherr_drag(reynolds: float) -> float:
    """Drag coefficient of one side of a smooth plate, turbulent from its edge.

    ``0.242/sqrt(CF) = log10(Re CF)``.

    Parameters
    ----------
    reynolds : float
        Of the plate's length, 1e5 to 1e9. [1]

    Returns
    -------
    float
        [1]

    Raises
    ------
    BadInput
        If the Reynolds number is outside the law.

    Notes
    -----
    The laws of this kind differ from each other by up to 6 %.

    Source: K. E. Schoenherr, Trans. SNAME 40, 1932 (from memory).
    """
    from scipy.optimize import brentq

    if not 1e5 <= reynolds <= 1e10:
        raise BadInput("Reynolds number", field="reynolds", value=reynolds, allowed="1e5 to 1e10")
    return float(brentq(lambda cf: 0.242 / np.sqrt(cf) - np.log10(reynolds * cf), 1e-4, 0.05, xtol=1e-14))


def rough_plate_drag(length_over_grain: float) -> float:
    """Drag coefficient of one side of a fully rough plate: ``CF = (1.89 + 1.62 log10(L/k))**-2.5``.

    Parameters
    ----------
    length_over_grain : float
        Length over equivalent sand grain, 1e2 to 1e6. [1]

    Returns
    -------
    float
        [1]

    Raises
    ------
    BadInput
        If the ratio is outside the law.

    Notes
    -----
    Holds where the grain stands well above the viscous sublayer all along.

    Source: L. Prandtl, H. Schlichting, Werft Reederei Hafen 15, 1934, in the form of Schlichting's Boundary-Layer
    Theory (from memory).
    """
    if not 1e2 <= length_over_grain <= 1e6:
        raise BadInput("length over grain", field="length_over_grain", value=length_over_grain, allowed="1e2 to 1e6")
    return float((1.89 + 1.62 * np.log10(length_over_grain)) ** -2.5)
