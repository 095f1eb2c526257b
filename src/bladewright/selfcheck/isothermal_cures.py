"""Cures at one temperature that integrate exactly: n-th order, autocatalytic, and orders that add to two."""

from functools import partial

import numpy as np

from bladewright.engine.cure.conversion import conversion
from bladewright.engine.cure.kelvin import FREEZING
from bladewright.engine.cure.kinetics import Branch, Diffusion, Kinetics, Term, cure_rate
from bladewright.selfcheck.case import Case

CLOSED = "isothermal integrals of n-th order and autocatalytic forms, recomputed; closed form"
TWO = (
    "P. Hubert, A. Johnston, A. Poursartip, K. Nelson, SAMPE 2001 (constants read where they are cited, the paper from "
    "memory)"
)
MINUTE = 60.0
#: degree of cure after 30 min at 0.05 per minute
ORDERS = {1.0: 0.776870, 1.5: 0.673469, 2.0: 0.600000}
AUTOCATALYTIC = Kinetics((Branch((Term(0.002 / MINUTE, 0.0), Term(0.15 / MINUTE, 0.0, power=1.0)), order=1.0),))
SUM_OF_TWO = Kinetics((Branch((Term(7.0e4, 65e3, power=0.5),), order=1.5),))
SLOWED = Kinetics(SUM_OF_TWO.branches, Diffusion(30.0, -1.5148, 5.171e-3))
#: degC: after an hour from 0, from 0.01
HOUR = {121: (0.085874, 0.142110), 130: (0.185501, 0.250249), 180: (0.942663, 0.945253)}
#: degC: rate at a degree of cure of 0.5
RATES = {121: 2.844886e-05, 150: 1.648350e-04, 180: 5.631263e-04}
STEPPED = "printed to six decimals; stepped"


def nth_order(order: float) -> Kinetics:
    """0.05 per minute at any temperature."""
    return Kinetics((Branch((Term(0.05 / MINUTE, 0.0),), order),))


def held(kinetics: Kinetics, seconds: float, celsius: float, start: float) -> float:
    """Degree of cure after a time at one temperature."""
    return float(conversion(kinetics, np.array([0.0, seconds]), np.full(2, celsius + FREEZING), start)[-1])


def _slowed(celsius: float) -> float:
    return float(cure_rate(SLOWED, np.array(0.5), np.array(celsius + FREEZING), 0))


CASES: tuple[Case, ...] = (
    *(
        Case(
            CLOSED, f"order {order:g}, 30 min [1]", partial(held, nth_order(order), 1800.0, 121.0, 0.0), cured, 1e-6,
            STEPPED,
        )
        for order, cured in ORDERS.items()
    ),
    Case(
        CLOSED, "autocatalytic, 30 min [1]", partial(held, AUTOCATALYTIC, 1800.0, 121.0, 0.0), 0.554470, 1e-6, STEPPED
    ),
    *(
        Case(
            TWO, f"{celsius} degC, an hour from {start:g} [1]", partial(held, SUM_OF_TWO, 3600.0, celsius, start),
            cured, 1e-6, STEPPED,
        )
        for celsius, row in HOUR.items()
        for start, cured in zip((0.0, 0.01), row, strict=True)
    ),
    *(
        Case(TWO, f"{celsius} degC, slowed, rate at 0.5 [1/s]", partial(_slowed, celsius), rate, 1e-6 * rate)
        for celsius, rate in RATES.items()
    ),
)  # fmt: skip
