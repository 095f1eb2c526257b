"""The four-digit thickness form and its three ways of ending, which are three different shapes."""

from functools import cache
from typing import Literal

import numpy as np

from bladewright.engine.arrays import Floats
from bladewright.errors import BadInput

TrailingEdge = Literal["open", "closed", "rescaled"]

# coefficients of sqrt(x), x, x**2, x**3 for a thickness of 0.2; Jacobs, Ward, Pinkerton, NACA Report 460, 1933
ROOT, FIRST, SECOND, THIRD = 0.2969, -0.1260, -0.3516, 0.2843
FOURTH_OPEN = -0.1015  # Report 460
FOURTH_CLOSED = -0.1036  # common practice, no source


def half_thickness(thickness: float, trailing_edge: TrailingEdge, x: Floats) -> Floats:
    """Half the thickness along the chord, square to the mean line.

    ``y = 5 t (0.2969 sqrt(x) - 0.1260 x - 0.3516 x**2 + 0.2843 x**3 - k x**4)``: open with k = 0.1015 (a blunt base
    of 0.0126 t each side), closed with k = 0.1036, rescaled by running the open form on to its own zero and
    shrinking both axes until the chord is one again.

    Parameters
    ----------
    thickness : float
        The nominal ratio, 0.12 for the last two digits 12. [chord fraction]
    trailing_edge : {"open", "closed", "rescaled"}
        How the form ends. [-]
    x : (n,) array
        Places from 0 to 1. [chord fraction]

    Returns
    -------
    (n,) array
        [chord fraction]

    Raises
    ------
    BadInput
        If the thickness is not between 0 and 1.

    Notes
    -----
    The greatest thickness is 1.0003 t at x = 0.2998 when open; 0.991 t when rescaled.

    Source: Jacobs, Ward, Pinkerton, NACA Report 460, 1933; closed form common practice; rescaled form as on public
    turbulence-model validation pages for the 12 % symmetric section (zero at 1.008930411).
    """
    if not 0.0 < thickness < 1.0:
        raise BadInput("thickness ratio", field="thickness", value=thickness, allowed="between 0 and 1")
    if trailing_edge == "rescaled":
        zero = rescaling_length()
        return 5.0 * thickness * np.maximum(_form(x * zero, FOURTH_OPEN), 0.0) / zero
    fourth = FOURTH_OPEN if trailing_edge == "open" else FOURTH_CLOSED
    return 5.0 * thickness * np.maximum(_form(x, fourth), 0.0)


def nose_radius(thickness: float, trailing_edge: TrailingEdge) -> float:
    """Leading-edge radius of the thickness form, ``r = (5 t 0.2969)**2 / 2``, shrunk with the form when rescaled.

    Parameters
    ----------
    thickness : float
        The nominal ratio. [chord fraction]
    trailing_edge : {"open", "closed", "rescaled"}
        How the form ends. [-]

    Returns
    -------
    float
        [chord fraction]

    Notes
    -----
    Its centre lies on the tangent of the mean line at the leading edge.

    Source: NACA Report 460, 1933 (1.1019 t**2).
    """
    scale = rescaling_length() if trailing_edge == "rescaled" else 1.0
    return 0.5 * (5.0 * thickness * ROOT) ** 2 / scale


@cache
def rescaling_length() -> float:
    """Where the open form's thickness runs out, aft of its trailing edge.

    Returns
    -------
    float
        [chord fraction]

    Notes
    -----
    Source: root of the Report 460 form; 1.008930411365 on public turbulence-model validation pages.
    """
    from scipy.optimize import brentq

    return float(brentq(lambda x: float(_form(np.array([x]), FOURTH_OPEN)[0]), 1.0, 1.02, xtol=1e-15))


def _form(x: Floats, fourth: float) -> Floats:
    return ROOT * np.sqrt(x) + x * (FIRST + x * (SECOND + x * (THIRD + x * fourth)))
