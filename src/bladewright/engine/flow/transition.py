"""Where a laminar layer turns turbulent: amplification from a turbulence level, Michel's rule, steps and trips."""

import math

import numpy as np

from bladewright.engine.arrays import Floats
from bladewright.errors import BadInput, OutsideValidity

ONSET_WIDTH = 0.16  # of log10 Re_theta: growth sets in over this much, not at once, so that answers stay smooth
QUIET, LOUD = 0.0007, 0.0298  # turbulence levels between which Mack's fit was made (from memory)


def critical_amplification(turbulence: float) -> float:
    """How many e-foldings of the worst wave make transition, from the stream's turbulence level.

    ``n_crit = -8.43 - 2.4 ln(Tu)``.

    Parameters
    ----------
    turbulence : float
        Root mean square of the speed's fluctuation over the speed, 0.0007 to 0.0298. [1]

    Returns
    -------
    float
        [1]

    Raises
    ------
    OutsideValidity
        If the level is outside the fit.

    Notes
    -----
    A fit to plate measurements. What a blade meets in another blade's wake is not one number; 0.07 % is free air
    (common practice, no source).

    Source: L. M. Mack, JPL Publication 77-15, 1977 (from memory).
    """
    if not QUIET <= turbulence <= LOUD:
        raise OutsideValidity(
            "turbulence level", field="turbulence", value=turbulence, allowed=f"{QUIET:g} to {LOUD:g}"
        )
    return -8.43 - 2.4 * math.log(turbulence)


def amplification_rate(shape: Floats, re_theta: Floats, momentum: Floats) -> Floats:
    """Growth per length of the envelope of the amplified waves in a laminar layer.

    ``dn/dRe = 0.01 sqrt([2.4 H - 3.7 + 2.5 tanh(1.5 H - 4.65)]**2 + 0.25)``; ``dn/ds = dn/dRe (m + 1)/2 l/theta`` with
    ``l = (6.54 H - 14.07)/H**2``, ``m = [0.058 (H - 4)**2/(H - 1) - 0.068]/l``; nothing grows below
    ``log10 Re_0 = [1.415/(H - 1) - 0.489] tanh[20/(H - 1) - 12.9] + 3.295/(H - 1) + 0.44``.

    Parameters
    ----------
    shape, re_theta : (...) arrays
        Kinematic shape factor; momentum-thickness Reynolds number. [1]
    momentum : (...) array
        Momentum thickness. [chord]

    Returns
    -------
    (...) array
        [1/chord]

    Notes
    -----
    Envelope of linear stability of similar flows: it forgets which wave grew, so a layer whose shape changes fast
    is told less well.

    Source: M. Drela, M. B. Giles, AIAA J. 25, 1987, p. 1347 (from memory).
    """
    inverse = 1.0 / (shape - 1.0)
    onset = (1.415 * inverse - 0.489) * np.tanh(20.0 * inverse - 12.9) + 3.295 * inverse + 0.44
    slope = 0.01 * np.sqrt((2.4 * shape - 3.7 + 2.5 * np.tanh(1.5 * shape - 4.65)) ** 2 + 0.25)
    past = shape - 4.0
    pressure = 0.058 * past * past * inverse - 0.068  # m l
    length = (6.54 * shape - 14.07) / (shape * shape)
    past_onset = np.clip((np.log10(re_theta) - onset) / ONSET_WIDTH + 0.5, 0.0, 1.0)
    ramp = past_onset * past_onset * (3.0 - 2.0 * past_onset)
    rate: Floats = np.maximum(ramp * slope * 0.5 * (pressure + length) / momentum, 0.0)
    return rate


def michel_re_theta(re_x: Floats) -> Floats:
    """Momentum-thickness Reynolds number at which a layer on a smooth wall turns, by Michel's rule.

    ``Re_theta = 1.174 (1 + 22400/Re_x) Re_x**0.46``.

    Parameters
    ----------
    re_x : (...) array
        Of the distance from the stagnation point and the edge speed there, 1e5 to 4e7. [1]

    Returns
    -------
    (...) array
        [1]

    Raises
    ------
    BadInput
        If a Reynolds number is not positive.

    Notes
    -----
    Crosses a plate's growth at a flat angle: one per cent of the coefficient moves Re_x there by a quarter.

    Source: R. Michel, ONERA 1/1578A, 1951, in the form given by T. Cebeci, A. M. O. Smith, 1974 (from memory).
    """
    if np.any(re_x <= 0.0):
        raise BadInput("Reynolds number", field="re_x", value=float(np.min(re_x)), allowed="more than 0")
    result: Floats = 1.174 * (1.0 + 22400.0 / re_x) * re_x**0.46
    return result
