"""A limit that most of a population exceeds, from the sample's own order: no shape of scatter is assumed."""

import numpy as np

from bladewright.engine.arrays import Floats, require_finite
from bladewright.engine.statistics.tolerance import CONFIDENCE
from bladewright.errors import BadInput, MissingInput

SHARE = 0.95  # of the population beyond the limit; usual in bounding by drawn runs


def order_for(count: int, share: float = SHARE, confidence: float = CONFIDENCE) -> int:
    """Which of the smallest values of a sample bounds the population from below: 1 the smallest, 0 none.

    The greatest r with ``P(fewer than r of n below the (1 - p) quantile) <= 1 - C``.

    Parameters
    ----------
    count : int
        Size n of the sample. [1]
    share : float
        Share p of the population that shall exceed the limit, between 0 and 1. [1]
    confidence : float
        How often C samples of this size give a limit that holds, between 0 and 1. [1]

    Returns
    -------
    int

    Raises
    ------
    BadInput
        If share or confidence is outside 0 to 1.

    Notes
    -----
    Source: S. S. Wilks, Ann. Math. Stat. 12, 1941 (from memory).
    """
    from scipy.stats import binom

    for name, value in (("share", share), ("confidence", confidence)):
        if not 0.0 < value < 1.0:
            raise BadInput("is no share", field=name, value=value, allowed="between 0 and 1")
    fewer = binom.cdf(np.arange(count), count, 1.0 - share)
    return int(np.count_nonzero(fewer <= 1.0 - confidence))


def lower_by_order(values: Floats, share: float = SHARE, confidence: float = CONFIDENCE) -> Floats:
    """Limit that most of the population exceeds, along the first axis.

    Parameters
    ----------
    values : (n, ...) array
        Any quantity, drawn independently. [any]
    share : float
        Of the population that shall exceed the limit. [1]
    confidence : float
        How often such limits hold. [1]

    Returns
    -------
    array
        [any]

    Raises
    ------
    MissingInput
        If the sample is too small for any limit: 59 are needed for 95 % with 95 %.
    BadInput
        If a value is not finite, or share or confidence is outside 0 to 1.

    Notes
    -----
    Source: S. S. Wilks, Ann. Math. Stat. 12, 1941 (from memory).
    """
    require_finite(values, "values")
    order = order_for(len(values), share, confidence)
    if order == 0:
        raise MissingInput(
            "too few values for a limit",
            field="values",
            value=len(values),
            allowed=f"so many that {share:g} to the power of their number is at most {1.0 - confidence:.3g}",
        )
    limit: Floats = np.sort(values, axis=0)[order - 1]
    return limit
