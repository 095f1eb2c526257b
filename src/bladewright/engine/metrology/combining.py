"""Several standard uncertainties into one, and the factor that covers."""

import math
from collections.abc import Sequence
from dataclasses import dataclass

from scipy.special import stdtrit

from bladewright.engine.metrology.weighing import COVERAGE
from bladewright.errors import BadInput


@dataclass(frozen=True, slots=True)
class Contribution:
    """What one input adds to the uncertainty of the result, in the unit of the result."""

    standard: float  # sensitivity times standard uncertainty of the input [unit of the result]
    freedom: float = math.inf  # degrees of freedom it is known with [1]


@dataclass(frozen=True, slots=True)
class Combined:
    """All contributions together, in the unit of the result."""

    standard: float  # [unit of the result]
    freedom: float  # effective degrees of freedom, infinite if every contribution is known exactly [1]
    factor: float  # coverage factor [1]
    expanded: float  # factor times standard [unit of the result]


def combined(contributions: Sequence[Contribution], coverage: float = COVERAGE) -> Combined:
    """Root sum of squares, effective degrees of freedom, and expanded uncertainty.

    ``u_c**2 = sum u_i**2``; ``nu = u_c**4 / sum(u_i**4 / nu_i)``, cut to a whole number; ``U = t_p(nu) u_c``.

    Parameters
    ----------
    contributions : sequence of Contribution
        Independent of each other. [unit of the result]
    coverage : float
        How often the interval holds the true value, between 0 and 1. By default that of k = 2. [1]

    Returns
    -------
    Combined

    Raises
    ------
    BadInput
        If an uncertainty is negative or not finite, or a number of degrees of freedom is below one.

    Notes
    -----
    First order: good while the result is near linear in its inputs over their uncertainty. Contributions that share
    a cause are not independent and must be added before they come here.

    Source: JCGM 100:2008, Guide to the expression of uncertainty in measurement, 5.1.2 and G.4
    (formulas written out here).
    """
    for number, one in enumerate(contributions):
        if not (math.isfinite(one.standard) and one.standard >= 0.0):
            raise BadInput("not an uncertainty", field="standard", row=number + 1, value=one.standard, allowed=">= 0")
        if not one.freedom >= 1.0:
            raise BadInput("too few", field="freedom", row=number + 1, value=one.freedom, allowed="at least 1")
    standard = math.hypot(*(one.standard for one in contributions))
    # as shares of the whole, so that very small units do not vanish in the fourth power
    bottom = math.fsum((one.standard / standard) ** 4 / one.freedom for one in contributions) if standard else 0.0
    freedom = 1.0 / bottom if bottom > 0.0 else math.inf
    factor = float(stdtrit(math.floor(freedom) if math.isfinite(freedom) else 1e12, 0.5 + coverage / 2.0))
    return Combined(standard, freedom, factor, factor * standard)
