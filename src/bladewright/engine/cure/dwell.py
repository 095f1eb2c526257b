"""How long a cure held at one temperature takes from one degree of cure to another."""

import numpy as np

from bladewright.engine.arrays import Floats
from bladewright.engine.cure.kelvin import require_kelvin
from bladewright.engine.cure.kinetics import Kinetics, cure_rate
from bladewright.errors import BadInput

EXACT = 1e-9  # of the time; what the quadrature is asked for
SLOWEST = 1e-30  # [1/s] nothing in the life of the world, and still a number


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
    require_kelvin(np.array(temperature), "temperature")
    if not 0.0 < target < 1.0:
        raise BadInput("is no degree of cure to reach", field="target", value=target, allowed="between 0 and 1")
    now = np.asarray(begun, dtype=float)
    power = kinetics.least_power
    least = "above 0" if power >= 1.0 else "0"
    if not ((now >= 0.0) & (now < 1.0)).all() or (power >= 1.0 and (now == 0.0).any()):
        raise BadInput("is no degree of cure to start from", field="begun", allowed=f"{least} to below 1")
    less = power if power < 1.0 else 0.0
    times = [_time(kinetics, float(one), temperature, target, less) for one in now.ravel()]
    found = np.array(times).reshape(now.shape)
    return np.where(found <= longest, found, np.nan)


def _time(kinetics: Kinetics, begun: float, temperature: float, target: float, less: float) -> float:
    """One of them, each to its own error: a cure that never ends must not blur one that does."""
    from scipy.integrate import quad_vec

    share, total, bottom = 1.0 - less, 0.0, 0.0
    for number, branch in enumerate(kinetics.branches):
        low, high = max(begun, bottom) ** share, min(branch.upto, target) ** share
        bottom = branch.upto
        if high <= low:
            continue

        def along(state: float, number: int = number) -> float:
            rate = cure_rate(kinetics, np.array(state ** (1.0 / share)), np.array(temperature), number, less)
            return 1.0 / max(share * float(rate), SLOWEST)

        total += float(quad_vec(along, low, high, epsrel=EXACT, epsabs=EXACT)[0])
    return total
