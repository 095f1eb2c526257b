"""Whether a run of results drifts, by how much from one to the next, and whether a step explains it better."""

from dataclasses import dataclass

import numpy as np

from bladewright.engine.arrays import Floats, require_finite
from bladewright.engine.statistics.change_point import FEWEST, squares_about_levels
from bladewright.errors import MissingInput


@dataclass(frozen=True, slots=True)
class Drift:
    """The median slope of a run of results, and how often chance alone would order them as much."""

    slope: float  # from one result to the next [unit of the values]
    least: float  # low end, 95 % [unit of the values]
    greatest: float  # high end, 95 % [unit of the values]
    chance: float  # of an order as marked, either way, without any drift [1]


def drift(values: Floats) -> Drift:
    """Test a run of results for a steady drift, without assuming a shape of scatter.

    Median of ``(x_j - x_i) / (j - i)`` over all pairs; the chance by Kendall's count of pairs in order.

    Parameters
    ----------
    values : (n,) array
        Results in the order they came, at least four. [any]

    Returns
    -------
    Drift

    Raises
    ------
    MissingInput
        With fewer than four values.
    BadInput
        If a value is not finite.

    Notes
    -----
    The chance is exact for short runs without ties. A single step shows as a drift too.

    Source: H. B. Mann, Econometrica 13, 1945; M. G. Kendall, Biometrika 30, 1938; H. Theil, 1950; P. K. Sen, J. Am.
    Stat. Assoc. 63, 1968 (all from memory), as scipy computes them.
    """
    from scipy.stats import kendalltau, theilslopes

    require_finite(values, "values")
    if len(values) < FEWEST:
        raise MissingInput(
            "too few results to tell a drift", field="values", value=len(values), allowed=f"at least {FEWEST}"
        )
    places = np.arange(len(values), dtype=np.float64)
    if np.ptp(values) == 0.0:
        return Drift(0.0, 0.0, 0.0, 1.0)
    slope, _, least, greatest = theilslopes(values, places, 0.95)
    return Drift(float(slope), float(least), float(greatest), float(kendalltau(places, values).pvalue))


def step_over_drift(values: Floats, resolution: float) -> float:
    """How much better one step explains a run of results than a straight drift does.

    ``n ln(S_line / S_step) - ln n``: the difference of both Schwarz criteria, the step having its place to choose.

    Parameters
    ----------
    values : (n,) array
        Results in the order they came, at least four. [any]
    resolution : float
        Scatter below which two results are not told apart, above zero. [unit of the values]

    Returns
    -------
    float
        Above zero: the step; below: the drift. Within 2 of zero neither. [1]

    Raises
    ------
    MissingInput
        With fewer than four values.

    Notes
    -----
    Rough for short runs. The band of 2 is where such a difference is not worth mentioning.

    Source: G. Schwarz, Ann. Stat. 6, 1978; R. E. Kass, A. E. Raftery, J. Am. Stat. Assoc. 90, 1995 (both from memory).
    """
    count = len(values)
    if count < FEWEST:
        raise MissingInput("too few results to tell", field="values", value=count, allowed=f"at least {FEWEST}")
    floor = count * resolution**2
    places = np.arange(count) - 0.5 * (count - 1)
    about = values - values.mean()
    line = float(((about - places * (places @ about) / (places @ places)) ** 2).sum())
    step = float(squares_about_levels(values).min())
    return float(count * np.log((line + floor) / (step + floor)) - np.log(count))
