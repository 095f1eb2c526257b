"""One-sided tolerance limits of a normal population: the value that most of it exceeds, with stated confidence."""

import math
from dataclasses import dataclass

import numpy as np
from scipy.special import nctdtrit, ndtri

from bladewright.engine.arrays import Floats, require_finite
from bladewright.errors import MissingInput, OutsideValidity

B_BASIS = 0.90  # share of the population above the value; CMH-17 and MIL-HDBK-17 (from memory)
A_BASIS = 0.99
CONFIDENCE = 0.95
FEWEST = 3  # our rule: two values say next to nothing of a scatter


@dataclass(frozen=True, slots=True)
class LowerLimit:
    """A value that at least the stated share of a normal population exceeds, in the unit of the sample."""

    value: float  # mean less factor times deviation [unit of the sample]
    mean: float  # [unit of the sample]
    deviation: float  # standard deviation, divisor n - 1 [unit of the sample]
    factor: float  # [1]


def one_sided_factor(count: int, share: float = B_BASIS, confidence: float = CONFIDENCE) -> float:
    """Factor k with which mean less k standard deviations lies below the given share of a normal population.

    ``k = t'(C; n - 1, z_p sqrt(n)) / sqrt(n)`` with the quantile of the noncentral t distribution.

    Parameters
    ----------
    count : int
        Number n of values in the sample, at least 3. [1]
    share : float
        Share p of the population that shall exceed the limit, between 0.5 and 1. [1]
    confidence : float
        How often C samples of this size give a limit that holds, between 0.5 and 1. [1]

    Returns
    -------
    float
        k. [1]

    Raises
    ------
    MissingInput
        With fewer than three values.
    OutsideValidity
        If share or confidence is not between 0.5 and 1.

    Notes
    -----
    Holds for a random sample of one normal population; a drift or two lots in one sample make it untrue.

    Source: G. J. Resnikoff, G. J. Lieberman, Tables of the Non-Central t-Distribution, 1957 (from memory);
    CMH-17-1G, Composite Materials Handbook vol. 1, 2012, chapter 8 (printed factors read in quotation).
    """
    if count < FEWEST:
        raise MissingInput(
            "too few values to know their scatter", field="count", value=count, allowed=f"at least {FEWEST}",
            fix="measure more pieces; until then the limit counts as not met",
        )  # fmt: skip
    for field, value in (("share", share), ("confidence", confidence)):
        if not 0.5 < value < 1.0:
            raise OutsideValidity("not a share", field=field, value=value, allowed="between 0.5 and 1")
    root = math.sqrt(count)
    return float(nctdtrit(count - 1, float(ndtri(share)) * root, confidence)) / root


def lower_limit(values: Floats, share: float = B_BASIS, confidence: float = CONFIDENCE) -> LowerLimit:
    """The one-sided limit that a sample supports.

    ``mean - k s`` with ``s`` of divisor n - 1.

    Parameters
    ----------
    values : (n,) array
        The sample, any one unit. [unit of the sample]
    share : float
        As for ``one_sided_factor``. [1]
    confidence : float
        As for ``one_sided_factor``. [1]

    Returns
    -------
    LowerLimit

    Raises
    ------
    MissingInput
        With fewer than three values.
    BadInput
        If a value is not finite.
    OutsideValidity
        If share or confidence is not between 0.5 and 1.

    Notes
    -----
    An outlier is kept, explained and never deleted by rule; it widens the scatter, as it should.

    Source: as ``one_sided_factor``.
    """
    require_finite(values, "values")
    factor = one_sided_factor(len(values), share, confidence)
    mean, deviation = float(np.mean(values)), float(np.std(values, ddof=1))
    return LowerLimit(mean - factor * deviation, mean, deviation, factor)


def fewest_for_least(share: float = B_BASIS, confidence: float = CONFIDENCE) -> int:
    """Smallest sample whose least value is itself a limit, whatever the distribution.

    ``1 - p**n >= C``.

    Parameters
    ----------
    share : float
        Share p of the population that shall exceed the least value, between 0.5 and 1. [1]
    confidence : float
        How often C that shall hold, between 0.5 and 1. [1]

    Returns
    -------
    int
        n. [1]

    Raises
    ------
    Nothing.

    Notes
    -----
    Any continuous distribution.

    Source: S. S. Wilks, Determination of sample sizes for setting tolerance limits, 1941 (from memory).
    """
    return math.ceil(math.log1p(-confidence) / math.log(share))
