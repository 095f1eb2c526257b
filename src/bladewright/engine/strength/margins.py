"""How much more load a part bears than is asked of it: one stress, or several that fail it together."""

import math
from collections.abc import Sequence
from dataclasses import dataclass

from bladewright.engine.strength.refusals import require_at_least_one, require_not_negative, require_positive

ROUNDS = 200  # halvings: more than the digits of a float


@dataclass(frozen=True, slots=True)
class Share:
    """One stress over its allowable, as it enters an interaction."""

    ratio: float  # factor times applied over allowable [1]
    exponent: float  # 1 where they add, 2 where they stand square to each other [1]

    def __post_init__(self) -> None:
        require_not_negative({"ratio": self.ratio})
        require_positive({"exponent": self.exponent})


def margin_of_safety(allowable: float, applied: float, factor: float) -> float:
    """Share of load that could still be added; below nought it fails.

    ``allowable / (factor applied) - 1``.

    Parameters
    ----------
    allowable : float
        What it bears, after every knock-down; nought where it bears nothing. [unit of both]
    applied : float
        At the limit load, its size without sign. [unit of both]
    factor : float
        From limit to ultimate, times any special factor; at least 1. [1]

    Returns
    -------
    float
        Infinite where nothing is applied and something is borne; -1 where nothing is borne. [1]

    Raises
    ------
    BadInput
        If a value is negative or not finite, or the factor is below one.

    Notes
    -----
    Stress in proportion to load. Where it grows faster, as in a bending single lap, put the factor on the load before
    the stress is worked out, and 1 here.

    Source: definition.
    """
    require_not_negative({"allowable": allowable, "applied": applied})
    require_at_least_one({"factor": factor})
    if allowable == 0.0:
        return -1.0
    return allowable / (factor * applied) - 1.0 if applied > 0.0 else math.inf


def combined_margin(shares: Sequence[Share]) -> float:
    """Margin of stresses that fail a part together, all growing with the load.

    The greatest ``L`` with ``sum (L r_i)**n_i <= 1``, less one.

    Parameters
    ----------
    shares : sequence of Share
        [1]

    Returns
    -------
    float
        Infinite where nothing is applied. [1]

    Raises
    ------
    Nothing.

    Notes
    -----
    Exponents are those of the interaction the allowables were tested with; without a test, 1 is safe.

    Source: F. R. Shanley, E. I. Ryder, Stress ratios, Aviation, 1937 (from memory).
    """
    loaded = [share for share in shares if share.ratio > 0.0]
    if not loaded:
        return math.inf
    high = min(1.0 / share.ratio for share in loaded)  # none alone may exceed one
    low = 0.0
    for _ in range(ROUNDS):
        middle = low + 0.5 * (high - low)  # no sum that may run over
        if math.fsum((middle * share.ratio) ** share.exponent for share in loaded) <= 1.0:
            low = middle
        else:
            high = middle
    return low + 0.5 * (high - low) - 1.0


def von_mises(direct: float, shear: float) -> float:
    """Pull that yields a ductile metal as soon as a direct and a shear stress together.

    ``sqrt(s**2 + 3 t**2)``.

    Parameters
    ----------
    direct, shear : float
        [Pa]

    Returns
    -------
    float
        [Pa]

    Raises
    ------
    Nothing.

    Notes
    -----
    Plane stress with one direct stress.

    Source: R. von Mises, 1913 (from memory).
    """
    return math.hypot(direct, math.sqrt(3.0) * shear)
