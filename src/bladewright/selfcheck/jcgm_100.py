"""The factor that few readings need, against the table of the guide to uncertainty."""

import math
from functools import partial

import numpy as np

from bladewright.engine.metrology.weighing import difference_from_master
from bladewright.selfcheck.case import Case

_SOURCE = "JCGM 100:2008, Guide to the expression of uncertainty in measurement, table G.2, p = 95.45 % (from memory)"
_TABLE = {1: 13.97, 2: 4.53, 3: 3.31, 4: 2.87, 5: 2.65, 10: 2.28, 20: 2.13, 50: 2.05}


def _factor(freedom: int) -> float:
    """Expanded over standard uncertainty of a difference from so many readings more than the model has unknowns."""
    n = freedom + 3
    of_blade = np.arange(n) % 2 == 0
    wiggle = np.cos(2.0 * np.arange(n))  # any readings with some scatter will do
    found = difference_from_master(17.0 + wiggle, of_blade, 0.0)
    centred = np.arange(n) - np.mean(np.arange(n))
    turn = of_blade - np.mean(of_blade)
    left = turn - centred * (turn @ centred) / (centred @ centred)
    return found.uncertainty * math.sqrt(float(left @ left)) / found.scatter


CASES: tuple[Case, ...] = tuple(
    Case(
        _SOURCE,
        f"coverage factor with {freedom} degrees of freedom [1]",
        partial(_factor, freedom),
        published,
        0.0051,
        "printed to two decimals",
    )
    for freedom, published in _TABLE.items()
)
