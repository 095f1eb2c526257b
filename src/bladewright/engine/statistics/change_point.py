"""Whether a run of results changed, by its ranks, exactly for short runs; and after which result, by likelihood."""

import math
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from bladewright.engine.arrays import Floats, require_finite
from bladewright.errors import BadInput, MissingInput

FEWEST = 4  # two on either side is the least a change can stand between
EXACT_UP_TO = 16  # values: 65,536 subsets are counted in a moment, and each value more doubles them


@dataclass(frozen=True, slots=True)
class RankChange:
    """The likeliest change of level by ranks, and how often chance alone would make one as marked."""

    before: int  # how many values stand before the change [1]
    statistic: float  # largest absolute sum of ranks off its expectation, doubled [1]
    chance: float  # share of all orders of these values that show as much or more [1]
    exact: bool  # every order was counted; else the limit for long runs


def rank_change(values: Floats) -> RankChange:
    """Test a run of results for one change of level, without assuming a shape of scatter.

    ``U_t = 2 sum_(i<=t) R_i - t (n + 1)``, ``K = max |U_t|``; by ``2 exp(-6 K**2 / (n**3 + n**2))`` for long runs.

    Parameters
    ----------
    values : (n,) array
        Results in the order they came, at least four. Equal ones share their ranks. [any]

    Returns
    -------
    RankChange

    Raises
    ------
    MissingInput
        With fewer than four values.
    BadInput
        If a value is not finite.

    Notes
    -----
    Up to 16 values the chance is exact, for these very values, ties included: all orders are counted by the subsets
    they pass through. Beyond, the formula is the first term of a limit and rather too large. A steady drift shows as a
    change too; a single wild value hardly does. Results are taken to be independent of each other.

    Source: A. N. Pettitt, A non-parametric approach to the change-point problem, Applied Statistics 28 (1979) 126-135
    (from memory); the exact count is ours.
    """
    from scipy.stats import rankdata

    _require_some(values)
    count = len(values)
    doubled = np.rint(2.0 * rankdata(values)).astype(np.int64)  # mid-ranks are halves
    sums = (np.cumsum(doubled) - np.arange(1, count + 1) * (count + 1))[:-1]
    at = int(np.argmax(np.abs(sums)))
    statistic = int(np.abs(sums[at]))
    exact = count <= EXACT_UP_TO
    chance = _counted(doubled, statistic) if exact else _in_the_limit(statistic, count)
    return RankChange(at + 1, float(statistic), chance, exact)


def _counted(doubled: NDArray[np.int64], statistic: int) -> float:
    """Share of all orders whose largest sum reaches the statistic: what is left of those that stay below."""
    count = len(doubled)
    subsets = np.arange(1 << count)
    holds = (subsets[:, None] >> np.arange(count)) & 1
    sizes = holds.sum(axis=1)
    below = np.abs(holds @ doubled - sizes * (count + 1)) < max(statistic, 1)
    ways = np.zeros(1 << count)
    ways[0] = 1.0
    for size in range(1, count + 1):
        of_size = subsets[(sizes == size) & below]
        for one in range(count):
            with_it = of_size[holds[of_size, one] == 1]
            ways[with_it] += ways[with_it ^ (1 << one)]
    return 1.0 if statistic == 0 else 1.0 - float(ways[-1]) / math.factorial(count)


def _in_the_limit(statistic: int, count: int) -> float:
    return min(1.0, 2.0 * math.exp(-6.0 * statistic**2 / (count**3 + count**2)))


def normal_scores(values: Floats) -> Floats:
    """Results as their ranks would fall in a normal sample, so that one wild result weighs no more than its rank.

    ``z_i = Phi^-1(R_i / (n + 1))``.

    Parameters
    ----------
    values : (n,) array
        Results, equal ones sharing their ranks. [any]

    Returns
    -------
    (n,) array
        [1]

    Notes
    -----
    Order is kept and distance is not: what is told of size is told from the results themselves.

    Source: B. L. van der Waerden, 1952 (from memory).
    """
    from scipy.special import ndtri
    from scipy.stats import rankdata

    return np.asarray(ndtri(rankdata(values) / (len(values) + 1)))


def change_shares(values: Floats, resolution: float) -> Floats:
    """How the change of level, if there was one, is shared among the places it may stand at.

    ``P_t ~ (t (n - t))**-1/2 S_t**-(n - 2)/2`` with ``S_t`` the squares about both means, ``t`` values before.

    Parameters
    ----------
    values : (n,) array
        Results in the order they came, at least four. [any]
    resolution : float
        Scatter below which two results are not told apart, above zero. [unit of the values]

    Returns
    -------
    (n - 1,) array
        Share of each place, after the first value to before the last; they add up to one. [1]

    Raises
    ------
    MissingInput
        With fewer than four values.
    BadInput
        If a value is not finite, or the resolution is not above zero.

    Notes
    -----
    One step between two levels of equal normal scatter, no place likelier than another beforehand, both levels and the
    scatter unknown (flat, and flat in its logarithm). It says where, given a step; not whether there was one.

    Source: A. F. M. Smith, A Bayesian approach to inference about a change-point in a sequence of random variables,
    Biometrika 62 (1975) 407-416 (from memory); re-derived.
    """
    _require_some(values)
    if not resolution > 0.0:
        raise BadInput("is no scatter", field="resolution", value=resolution, allowed="above 0")
    count = len(values)
    squares = squares_about_levels(values) + count * resolution**2
    before = np.arange(1, count)
    weights = -0.5 * np.log(before * (count - before)) - 0.5 * (count - 2) * np.log(squares)
    shares = np.exp(weights - weights.max())
    return np.asarray(shares / shares.sum())


def squares_about_levels(values: Floats) -> Floats:
    """Sum of squares about one mean before and one after each place.

    ``S_t = sum x**2 - (sum_(i<=t) x)**2 / t - (sum_(i>t) x)**2 / (n - t)``.

    Parameters
    ----------
    values : (n,) array
        Results in the order they came. [any]

    Returns
    -------
    (n - 1,) array
        [unit of the values squared]

    Notes
    -----
    Taken about the common mean first, so that a small scatter on a large level keeps its digits.

    Source: definition; no source needed.
    """
    count = len(values)
    about = values - values.mean()
    sums = np.cumsum(about)[:-1]
    before = np.arange(1, count)
    left = (about**2).sum() - sums**2 / before - sums**2 / (count - before)
    return np.asarray(np.maximum(left, 0.0))


def likely_places(shares: Floats, content: float = 0.95) -> tuple[int, ...]:
    """The fewest places that hold so much of the shares.

    Parameters
    ----------
    shares : (m,) array
        Share of each place; they add up to one. [1]
    content : float
        How much the named places hold together, between 0 and 1. [1]

    Returns
    -------
    tuple
        Numbers of values before the change, in order; 1 is after the first value. [1]

    Notes
    -----
    They need not stand side by side.

    Source: definition; no source needed.
    """
    order = np.argsort(-shares, kind="stable")
    needed = int(np.searchsorted(np.cumsum(shares[order]), content - 1e-12)) + 1
    return tuple(sorted(int(place) + 1 for place in order[:needed]))


def _require_some(values: Floats) -> None:
    require_finite(values, "values")
    if len(values) < FEWEST:
        raise MissingInput(
            "too few results to tell a change", field="values", value=len(values), allowed=f"at least {FEWEST}",
            fix="wait for more; nothing is known until then",
        )  # fmt: skip
