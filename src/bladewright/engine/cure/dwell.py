"""How long a cure held at one temperature takes from one degree of cure to another."""

import numpy as np

from bladewright.engine.arrays import Floats
from bladewright.engine.cure.kelvin import require_kelvin
from bladewright.engine.cure.kinetics import Kinetics, cure_rate
from bladewright.errors import BadInput

EXACT = 1e-9  # of the time; what the quadrature is asked for


def dwell_to(kinetics: Kinetics, begun: Floats, temperature: float, target: float, longest: float) -> Floats:
    """Time at one temperature until a degree of cure is reached: ``int da / (da/dt)``, branch by branch.

    Parameters
    ----------
    kinetics : Kinetics
        [-]
    begun : (...) array
        Degree of cure now: of the film as delivered, or the lowest credible one after a fault. [1]
    temperature : float
        Of the bondline, held; its way there is left out, which is the safe side. [K]
    target : float
        Degree of cure to reach. [1]
    longest : float
        The longest dwell that is allowed. [s]

    Returns
    -------
    array
        Zero where it is reached already, not a number where the longest does not reach it. [s]

    Raises
    ------
    OutsideValidity
        If the temperature cannot be one of a cure in kelvin.
    BadInput
        If a degree of cure is outside 0 to 1, or zero where the form does not begin by itself.

    Notes
    -----
    Says what heat could do. Whether a second dwell may be done is for the adhesive maker's entered permission and a
    named person.

    Source: the integral of the entered kinetics; ``a**(1 - m)`` as in ``conversion``.
    """
    from scipy.integrate import quad_vec

    require_kelvin(np.array(temperature), "temperature")
    if not 0.0 < target < 1.0:
        raise BadInput("is no degree of cure to reach", field="target", value=target, allowed="between 0 and 1")
    now = np.asarray(begun, dtype=float)
    power = kinetics.least_power
    least = "above 0" if power >= 1.0 else "0"
    if not ((now >= 0.0) & (now < 1.0)).all() or (power >= 1.0 and (now == 0.0).any()):
        raise BadInput("is no degree of cure to start from", field="begun", allowed=f"{least} to below 1")
    less = power if power < 1.0 else 0.0
    share = 1.0 - less
    total = np.zeros(now.shape)
    bottom = 0.0
    for number, branch in enumerate(kinetics.branches):
        low = np.clip(now, bottom, None) ** share
        width = np.maximum(min(branch.upto, target) ** share - low, 0.0)

        def along(part: float, number: int = number, low: Floats = low, width: Floats = width) -> Floats:
            cured = (low + part * width) ** (1.0 / share)
            rate = share * cure_rate(kinetics, cured, np.array(temperature), number, less)
            with np.errstate(divide="ignore"):
                needed: Floats = np.where(width > 0.0, width / np.where(width > 0.0, rate, 1.0), 0.0)
            return np.minimum(needed, np.finfo(float).max ** 0.5)  # a rate of nothing lasts long enough

        total = total + quad_vec(along, 0.0, 1.0, epsrel=EXACT, epsabs=EXACT, norm="max")[0]
        bottom = branch.upto
    return np.where(total <= longest, total, np.nan)
