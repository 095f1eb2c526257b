"""A stress-life curve from a shop's own test pieces."""

from dataclasses import dataclass

import numpy as np

from bladewright.engine.arrays import Floats, require_finite
from bladewright.engine.strength.stress_life import PowerLaw, Scatter
from bladewright.errors import BadInput, MissingInput

FEWEST = 5  # our rule: two constants, and three pieces more to see a scatter


@dataclass(frozen=True, slots=True)
class Fitted:
    """Median curve and the scatter about it."""

    curve: PowerLaw
    scatter: Scatter


def fit_power_law(stress: Floats, cycles: Floats) -> Fitted:
    """Straight line through the logarithms of pieces that all broke.

    Least squares of ``log N`` on ``log S``; ``s**2 = sum e**2 / (n - 2)``; counts as ``n - 2`` pieces.

    Parameters
    ----------
    stress : (n,) array
        Equivalent stress of each piece, at two levels or more. [Pa]
    cycles : (n,) array
        At which it broke. [1]

    Returns
    -------
    Fitted

    Raises
    ------
    MissingInput
        With fewer than five pieces.
    BadInput
        If a value is not positive, all are at one stress, or lives do not fall as stress rises.

    Notes
    -----
    Pieces taken off unbroken do not belong in it; leaving them out makes it shorter where they are many. One scatter at
    all levels.

    Source: ASTM E739, Standard Practice for Statistical Analysis of Linearized Stress-Life Data (from memory).
    """
    count = stress.size
    if count < FEWEST or cycles.size != count:
        raise MissingInput(
            "too few broken pieces for a curve and its scatter", field="cycles", value=cycles.size,
            allowed=f"at least {FEWEST}, one for each stress",
        )  # fmt: skip
    for values, field in ((stress, "stress"), (cycles, "cycles")):
        require_finite(values, field)
        if np.any(values <= 0.0):
            at = int(np.argmax(values <= 0.0))
            raise BadInput("not positive", field=field, row=at + 1, value=float(values[at]), allowed="more than 0")
    x, y = np.log10(stress), np.log10(cycles)
    if np.ptp(x) == 0.0:
        raise BadInput("all at one stress", field="stress", value=float(stress[0]), allowed="two levels or more")
    slope = float(np.cov(x, y)[0, 1] / np.var(x, ddof=1))
    if not slope < 0.0:
        raise BadInput(
            "lives do not fall as stress rises", field="cycles", value=slope, allowed="a falling line",
            fix="look for a mix-up of pieces before fitting",
        )  # fmt: skip
    level = float(y.mean() - slope * x.mean())
    left = y - level - slope * x
    return Fitted(
        curve=PowerLaw(
            coefficient=float(10.0 ** (-level / slope)),
            exponent=-1.0 / slope,
            least_stress=float(stress.min()),
            greatest_stress=float(stress.max()),
        ),
        scatter=Scatter(deviation=float(np.sqrt((left**2).sum() / (count - 2))), count=count - 2),
    )
