"""What a cycle about a mean stress is worth: the reversed amplitude, or pulsating maximum, that hurts as much.

A mean that presses counts as none: it may help, but no detail of a blade is known well enough to lean on it.
"""

from collections.abc import Callable

import numpy as np

from bladewright.engine.arrays import Bools, Floats, require_finite
from bladewright.engine.strength.refusals import require_positive
from bladewright.errors import BadInput

#: from amplitude and mean [Pa] to the fully reversed amplitude that hurts as much [Pa]
Correction = Callable[[Floats, Floats], Floats]


def _cycles(amplitude: Floats | float, mean: Floats | float) -> tuple[Floats, Floats]:
    amplitudes, means = np.broadcast_arrays(np.asarray(amplitude, dtype=float), np.asarray(mean, dtype=float))
    require_finite(amplitudes, "amplitude")
    require_finite(means, "mean")
    if np.any(amplitudes < 0.0):
        raise BadInput("an amplitude is negative", field="amplitude", value=float(amplitudes.min()), allowed=">= 0")
    return amplitudes, means


def _within(amplitudes: Floats, means: Floats, strength: float, field: str) -> None:
    greatest = np.asarray(amplitudes + np.maximum(means, 0.0))
    if np.any(greatest >= strength):
        at = int(np.argmax(greatest.ravel()))
        raise BadInput(
            "a cycle goes above the strength", field=field, row=at + 1, value=float(greatest.max()),
            allowed=f"below {strength:.6g} Pa", fix="it fails at once; lower the stress before asking for a life",
        )  # fmt: skip


def goodman(amplitude: Floats | float, mean: Floats | float, ultimate: float) -> Floats:
    """Straight line to the ultimate strength.

    ``S_a / (1 - S_m / S_u)``.

    Parameters
    ----------
    amplitude, mean : float or array
        [Pa]
    ultimate : float
        S_u. [Pa]

    Returns
    -------
    array
        Fully reversed amplitude. [Pa]

    Raises
    ------
    BadInput
        If an amplitude is negative, or a cycle reaches the ultimate strength.

    Notes
    -----
    Safe for metals without notch. A mean that presses counts as none.

    Source: J. Goodman, Mechanics Applied to Engineering, 1899 (from memory).
    """
    amplitudes, means = _cycles(amplitude, mean)
    require_positive({"ultimate": ultimate})
    _within(amplitudes, means, ultimate, "ultimate")
    return np.asarray(amplitudes / (1.0 - np.maximum(means, 0.0) / ultimate), dtype=np.float64)


def gerber(amplitude: Floats | float, mean: Floats | float, ultimate: float) -> Floats:
    """Parabola to the ultimate strength.

    ``S_a / (1 - (S_m / S_u)**2)``.

    Parameters
    ----------
    amplitude, mean : float or array
        [Pa]
    ultimate : float
        S_u. [Pa]

    Returns
    -------
    array
        Fully reversed amplitude. [Pa]

    Raises
    ------
    BadInput
        If an amplitude is negative, or a cycle reaches the ultimate strength.

    Notes
    -----
    The middle of test points of smooth ductile bars, so half of them lie below; kinder than Goodman.

    Source: W. Gerber, 1874 (from memory).
    """
    amplitudes, means = _cycles(amplitude, mean)
    require_positive({"ultimate": ultimate})
    _within(amplitudes, means, ultimate, "ultimate")
    return np.asarray(amplitudes / (1.0 - (np.maximum(means, 0.0) / ultimate) ** 2), dtype=np.float64)


def soderberg(amplitude: Floats | float, mean: Floats | float, yield_strength: float) -> Floats:
    """Straight line to the yield strength.

    ``S_a / (1 - S_m / S_y)``.

    Parameters
    ----------
    amplitude, mean : float or array
        [Pa]
    yield_strength : float
        S_y. [Pa]

    Returns
    -------
    array
        Fully reversed amplitude. [Pa]

    Raises
    ------
    BadInput
        If an amplitude is negative, or a cycle reaches the yield strength.

    Notes
    -----
    The safest of the three lines.

    Source: C. R. Soderberg, 1930 (from memory).
    """
    amplitudes, means = _cycles(amplitude, mean)
    require_positive({"yield_strength": yield_strength})
    _within(amplitudes, means, yield_strength, "yield_strength")
    return np.asarray(amplitudes / (1.0 - np.maximum(means, 0.0) / yield_strength), dtype=np.float64)


def smith_watson_topper(amplitude: Floats | float, mean: Floats | float) -> Floats:
    """Greatest stress times amplitude decides.

    ``sqrt(S_max S_a)``.

    Parameters
    ----------
    amplitude, mean : float or array
        [Pa]

    Returns
    -------
    array
        Fully reversed amplitude. [Pa]

    Raises
    ------
    BadInput
        If an amplitude is negative.

    Notes
    -----
    Needs no strength; good for aluminium. A mean that presses counts as none.

    Source: K. N. Smith, P. Watson, T. H. Topper, J. Materials 5, 1970 (from memory).
    """
    return walker(amplitude, mean, 0.5)


def walker(amplitude: Floats | float, mean: Floats | float, exponent: float) -> Floats:
    """Like ``smith_watson_topper``, with an exponent fitted to the metal.

    ``S_max ((1 - R) / 2)**g``, which is ``S_max**(1 - g) S_a**g``.

    Parameters
    ----------
    amplitude, mean : float or array
        [Pa]
    exponent : float
        g, between 0 and 1; near 1 the mean matters little. [1]

    Returns
    -------
    array
        Fully reversed amplitude. [Pa]

    Raises
    ------
    BadInput
        If an amplitude is negative or the exponent is not between 0 and 1.

    Notes
    -----
    A mean that presses counts as none.

    Source: K. Walker, ASTM STP 462, 1970 (from memory).
    """
    amplitudes, means = _cycles(amplitude, mean)
    if not 0.0 < exponent <= 1.0:
        raise BadInput("not an exponent of this form", field="exponent", value=exponent, allowed="above 0, up to 1")
    greatest = amplitudes + np.maximum(means, 0.0)
    return np.asarray(greatest ** (1.0 - exponent) * amplitudes**exponent, dtype=np.float64)


def equivalent_maximum(amplitude: Floats | float, mean: Floats | float, exponent: float) -> Floats:
    """Greatest stress of the cycle from nought that hurts as much, as handbook curves of S_max and R use it.

    ``S_eq = S_max (1 - R)**m``, R the least over the greatest stress.

    Parameters
    ----------
    amplitude, mean : float or array
        [Pa]
    exponent : float
        m, of the curve it is used with. [1]

    Returns
    -------
    array
        Greatest stress at R = 0. [Pa]

    Raises
    ------
    BadInput
        If an amplitude is negative or the exponent is not between 0 and 1.

    Notes
    -----
    A mean that presses counts as none. Whether R lies in the range of the curve's tests is the caller's to say.

    Source: MIL-HDBK-5J, 2003, 9.3.4 (from memory).
    """
    return np.asarray(2.0**exponent * walker(amplitude, mean, exponent), dtype=np.float64)


def ratio_tested(amplitude: Floats | float, mean: Floats | float, least: float, greatest: float) -> Bools:
    """Whether the ratio of least to greatest stress lies where a curve's tests reach.

    ``R = (S_m - S_a) / (S_m + S_a)``.

    Parameters
    ----------
    amplitude, mean : float or array
        [Pa]
    least, greatest : float
        Ratios of the tests. [1]

    Returns
    -------
    array of bool
        True also for a cycle that never pulls; it does not crack.

    Raises
    ------
    BadInput
        If an amplitude is negative, or the ratios are no range below one.

    Notes
    -----
    A correction for the mean holds about as far as its tests, so an answer from outside is to be marked.

    Source: definition.
    """
    amplitudes, means = _cycles(amplitude, mean)
    if not least <= greatest < 1.0:
        raise BadInput("not a range of ratios", field="greatest", value=greatest, allowed=f"from {least:g} to below 1")
    top, bottom = means + amplitudes, means - amplitudes
    edge = 1e-9 * np.abs(top)  # a ratio worked out from amplitude and mean misses its own by rounding
    return np.asarray((top <= 0.0) | ((bottom >= least * top - edge) & (bottom <= greatest * top + edge)))
