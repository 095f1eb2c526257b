"""Five-digit mean lines that meet their stated design conditions exactly, instead of by rounded constants."""

import numpy as np

from bladewright.engine.flow.thin_airfoil import thin_section
from bladewright.engine.geometry.mean_lines import FiveDigitLine, mean_line_slope
from bladewright.errors import BadInput

FURTHEST_CAMBER = 0.3  # [chord fraction] the published families end at 0.25
JOIN_OVER_CAMBER = (1.01, 2.6)  # the join of every published line lies 1.1 to 1.6 (plain) or 1.3 to 1.8 times as far


def exact_five_digit_line(camber_place: float, ideal_lift: float, reflexed: bool) -> FiveDigitLine:
    """The plain or reflexed five-digit line with a given place of greatest camber and ideal lift.

    Plain: ``x_f = r (1 - sqrt(r/3))``. Reflexed: ``k2/k1 = [3 (r - x_f)**2 - r**3]/(1 - r)**3`` and r such that the
    moment about the quarter chord is zero. ``k1`` follows from the ideal lift, to which it is proportional.

    Parameters
    ----------
    camber_place : float
        Where the camber is greatest, 0.02 to 0.3. [chord fraction]
    ideal_lift : float
        Ideal lift coefficient. [1]
    reflexed : bool
        Whether the moment shall be zero. [-]

    Returns
    -------
    FiveDigitLine

    Raises
    ------
    BadInput
        If the place is outside the families.

    Notes
    -----
    Source: conditions from Jacobs, Pinkerton, Greenberg, NACA Report 537, 1935, solved to rounding by thin theory.
    """
    from scipy.optimize import brentq

    if not 0.02 <= camber_place <= FURTHEST_CAMBER:
        raise BadInput("place of greatest camber", field="camber_place", value=camber_place, allowed="0.02 to 0.3")

    def line(join: float, k1: float = 1.0) -> FiveDigitLine:
        if not reflexed:
            return FiveDigitLine(join, k1)
        ratio = (3.0 * (join - camber_place) ** 2 - join**3) / (1.0 - join) ** 3
        return FiveDigitLine(join, k1, ratio)

    def miss(join: float) -> float:
        if not reflexed:
            return float(join * (1.0 - np.sqrt(join / 3.0)) - camber_place)
        trial = line(join)
        return thin_section(lambda x: mean_line_slope(trial, x), trial.breaks).moment

    low, high = (camber_place * factor for factor in JOIN_OVER_CAMBER)
    join = float(brentq(miss, low, min(high, 0.9), xtol=1e-15, rtol=1e-14))
    unit = line(join)
    lift = thin_section(lambda x: mean_line_slope(unit, x), unit.breaks).ideal_lift
    return line(join, float(ideal_lift / lift))
