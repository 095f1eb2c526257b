"""A published form of two branches: rates, the jump where they meet, and times to a degree of cure.

One public listing of the first constant says per second where per minute is meant: sixty times too quick.
"""

from functools import partial

import numpy as np

from bladewright.engine.cure.dwell import dwell_to
from bladewright.engine.cure.kelvin import FREEZING
from bladewright.engine.cure.kinetics import Branch, Kinetics, Term, cure_rate
from bladewright.selfcheck.case import Case

SOURCE = (
    "W. I. Lee, A. C. Loos, G. S. Springer, J. Composite Materials 16, 1982 (constants read where they are cited, "
    "branch rule from memory)"
)
MINUTE = 60.0
TWO_BRANCHES = Kinetics(
    (
        Branch(
            (Term(2.101e9 / MINUTE, 80.7e3), Term(-2.014e9 / MINUTE, 77.8e3, power=1.0)),
            order=1.0, upto=0.3, ceiling=0.47, ceiling_order=1.0,
        ),
        Branch((Term(1.960e5 / MINUTE, 56.6e3),), order=1.0),
    )
)  # fmt: skip
#: degC: per minute at 0, 0.1, 0.3 on either side
RATES = {
    100: (0.00499022, 0.00267256, 0.000338216, 0.0016386),
    121: (0.0199519, 0.0108531, 0.00153197, 0.0043311),
    150: (0.107875, 0.0597242, 0.00940279, 0.0141466),
    177: (0.426988, 0.23959, 0.0406377, 0.0371291),
}
PLACES = ((0.0, 0), (0.1, 0), (0.3, 0), (0.3, 1))
#: degC: minutes to 0.3, 0.5, 0.8, 0.9, 0.95; the integral in partial fractions
TIMES = {
    100: (244.6199, 388.3587, 779.7920, 1075.8999, 1372.0078),
    121: (57.4357, 111.8169, 259.9094, 371.9370, 483.9647),
    150: (9.9484, 26.5977, 71.9375, 106.2357, 140.5339),
    177: (2.3997, 8.7432, 26.0182, 39.0862, 52.1542),
}
LEVELS = (0.3, 0.5, 0.8, 0.9, 0.95)


def _rate(celsius: float, cured: float, branch: int) -> float:
    kelvin = np.array(celsius + FREEZING)
    return MINUTE * float(cure_rate(TWO_BRANCHES, np.array(cured), kelvin, branch))


def _minutes(celsius: float, level: float) -> float:
    return float(dwell_to(TWO_BRANCHES, np.array(0.0), celsius + FREEZING, level, np.inf)) / MINUTE


CASES: tuple[Case, ...] = (
    *(
        Case(
            SOURCE, f"{celsius} degC, degree of cure {cured:g}, branch {branch + 1}: rate [1/min]",
            partial(_rate, celsius, cured, branch), rate, 1e-5 * rate, "six digits; R to all its digits",
        )
        for celsius, row in RATES.items()
        for (cured, branch), rate in zip(PLACES, row, strict=True)
    ),
    *(
        Case(
            SOURCE, f"{celsius} degC: time to {level:g} [min]", partial(_minutes, celsius, level), minutes,
            1e-4, "printed to four decimals",
        )
        for celsius, row in TIMES.items()
        for level, minutes in zip(LEVELS, row, strict=True)
    ),
)  # fmt: skip
