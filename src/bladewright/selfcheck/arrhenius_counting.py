"""Minutes counted by one activation energy, against the closed form and figures worked out from it.

The energies are assumed for the comparison; none is a property of a film.
"""

import math
from functools import partial

import numpy as np

from bladewright.engine.cure.equivalent_time import equivalent_rate, equivalent_time
from bladewright.engine.cure.kelvin import FREEZING, GAS_CONSTANT
from bladewright.selfcheck.case import Case

RATE = "S. Arrhenius, Z. Phys. Chem. 4, 1889 (from memory): rate over that at 121 degC, recomputed; closed form"
RAMP = (
    "M. Abramowitz, I. A. Stegun, Handbook of Mathematical Functions, 1964, ch. 5 (from memory): "
    "exponential integral of a straight ramp, recomputed; closed form"
)
REFERENCE = 121.0 + FREEZING
MIDDLE = 80e3
#: at so many degC with so many kJ/mol
RATES = {
    (130, 60): 1.5049, (125, 80): 1.27794, (118, 80): 0.829254, (115, 100): 0.623947, (110, 80): 0.496169,
    (105, 60): 0.46086, (100, 80): 0.253138, (90, 100): 0.0739155, (25, 80): 0.000385817, (-18, 60): 4.659e-05,
}  # fmt: skip
#: minutes held at so many degC
STEPS = ((20.0, 100.0), (15.0, 110.0), (10.0, 115.0), (30.0, 121.0), (12.0, 118.0))


def _rate(celsius: float, energy: float) -> float:
    return float(equivalent_rate(np.array(celsius + FREEZING), 1e3 * energy, REFERENCE))


def _steps() -> float:
    total = 0.0
    for minutes, celsius in STEPS:
        held = np.full(2, celsius + FREEZING)
        total += equivalent_time(np.array([0.0, minutes]), held, MIDDLE, REFERENCE)[-1]
    return total


def ramp(first: float, last: float, minutes: float, energy: float = MIDDLE) -> float:
    """Minutes counted on a straight ramp between two temperatures in degC."""
    ends = np.array([first, last]) + FREEZING
    return float(equivalent_time(np.array([0.0, minutes]), ends, energy, REFERENCE)[-1])


def ramp_in_closed_form(first: float, last: float, minutes: float, energy: float = MIDDLE) -> float:
    """The same by ``T exp(-u) - (E/R) E1(u)``, ``u = E/RT``."""
    from scipy.special import exp1

    slope = energy / GAS_CONSTANT

    def integral(celsius: float) -> float:
        kelvin = celsius + FREEZING
        return float(kelvin * math.exp(-slope / kelvin) - slope * exp1(slope / kelvin))

    return math.exp(slope / REFERENCE) * (integral(last) - integral(first)) * minutes / (last - first)


CASES: tuple[Case, ...] = (
    *(
        Case(
            RATE, f"rate at {celsius} degC, {energy} kJ/mol [1]", partial(_rate, celsius, energy), rate, 5e-6 * rate,
            "printed to six digits",
        )
        for (celsius, energy), rate in RATES.items()
    ),
    Case(RATE, "a stepped cure of 87 minutes, 80 kJ/mol [min]", _steps, 59.3131, 1e-4, "printed to four decimals"),
    Case(RAMP, "25 to 121 degC in 38.4 min, 80 kJ/mol [min]", partial(ramp, 25.0, 121.0, 38.4), 5.984093, 1e-6),
    *(
        Case(
            RAMP, f"{first:g} to {last:g} degC in an hour, {energy / 1e3:g} kJ/mol [min]",
            partial(ramp, first, last, 60.0, energy),
            published := ramp_in_closed_form(first, last, 60.0, energy), 1e-10 * published,
        )
        for first, last, energy in ((-18.0, 177.0, 100e3), (121.0, 35.0, 60e3))
    ),
)  # fmt: skip
