"""A blade against the master on one rig: the difference, free of steady drift, and how well it is known."""

import math
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray
from scipy.special import stdtrit

from bladewright.engine.arrays import Floats
from bladewright.errors import MissingInput

#: coverage of k = 2 for a normal distribution, so that the factor tends to 2 with many readings (JCGM 100:2008, G.3)
COVERAGE = math.erf(math.sqrt(2.0))


@dataclass(frozen=True, slots=True)
class Difference:
    """What the blade has more than the master, in the unit of the readings."""

    value: float  # blade minus master [unit of the readings]
    uncertainty: float  # expanded; tends to k = 2 with many readings [unit of the readings]
    scatter: float  # standard deviation of one reading about the fit [unit of the readings]
    drift: float  # per reading [unit of the readings]


def difference_from_master(readings: Floats, of_blade: NDArray[np.bool_], rig_uncertainty: float) -> Difference:
    """Least-squares difference of alternate readings of blade and master on a rig that drifts steadily.

    Each reading is taken as ``x_i = c + d i + D b_i``, with ``b_i`` one for the blade and zero for the master;
    ``U**2 = (t s(D))**2 + U_rig**2`` with Student's ``t`` for ``n - 3`` degrees of freedom.

    Parameters
    ----------
    readings : (n,) array
        In the order they were taken, all in one unit, like span moment. [kg m]
    of_blade : (n,) array
        True where the blade lay on the rig, False where the master did. [1]
    rig_uncertainty : float
        Expanded (k = 2) uncertainty the rig itself puts on a difference, in the same unit. [kg m]

    Returns
    -------
    Difference

    Raises
    ------
    MissingInput
        With fewer than four readings, or fewer than two of either.

    Notes
    -----
    Any one unit may be used for readings and uncertainty. Drift that is not steady shows as scatter.

    Source: JCGM 100:2008, Guide to the expression of uncertainty in measurement, 4.2, 5.1.2, annex G.3 and
    H.3 (least squares); formulas written out here, table G.2 checked from memory.
    """
    n, blades = len(readings), int(np.count_nonzero(of_blade))
    if min(blades, n - blades) < 2:
        raise MissingInput(
            "too few readings to know the scatter",
            field="readings",
            value=n,
            allowed="at least two of the blade and two of the master",
            fix="weigh blade and master again, in turn",
        )
    count = np.arange(n, dtype=np.float64)
    design = np.column_stack((np.ones(n), count - count.mean(), of_blade.astype(np.float64)))
    inverse = np.linalg.inv(design.T @ design)
    # fitted about the mean, or a small difference of large numbers would be lost
    middle = float(np.mean(readings))
    solution = inverse @ design.T @ (readings - middle)
    freedom = n - 3
    left = readings - middle - design @ solution
    scatter = math.sqrt(float(left @ left) / freedom)
    spread = float(stdtrit(freedom, 0.5 + COVERAGE / 2.0)) * scatter * math.sqrt(float(inverse[2, 2]))
    return Difference(
        value=float(solution[2]),
        uncertainty=math.hypot(spread, rig_uncertainty),
        scatter=scatter,
        drift=float(solution[1]),
    )
