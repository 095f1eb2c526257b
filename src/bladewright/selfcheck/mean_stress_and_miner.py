"""One cycle about a mean by five rules, and the damage of three blocks an hour on an invented curve."""

from functools import partial

import numpy as np

from bladewright.engine.strength.margins import margin_of_safety
from bladewright.engine.strength.mean_stress import gerber, goodman, smith_watson_topper, soderberg, walker
from bladewright.engine.strength.miner import MinerSum, miner_sum
from bladewright.engine.strength.stress_life import PowerLaw, lives
from bladewright.selfcheck.case import Case

RULES = "Goodman 1899, Gerber 1874, Soderberg 1930, Smith, Watson, Topper 1970, Walker 1970 (from memory); recomputed"
MINER = "A. Palmgren, 1924; M. A. Miner, 1945 (from memory); invented curve, recomputed"
AMPLITUDE, MEAN, ULTIMATE, YIELD = 55e6, 90e6, 441e6, 324e6
CURVE = PowerLaw(coefficient=900e6, exponent=0.15, least_stress=50e6, greatest_stress=300e6)
LEVELS, COUNTS = np.array([60e6, 85e6, 110e6]), np.array([2000.0, 300.0, 20.0])


def _sum() -> MinerSum:
    return miner_sum(COUNTS, lives(CURVE, LEVELS).cycles)


def _cycles(number: int) -> float:
    return float(lives(CURVE, LEVELS).cycles[number])


CASES: tuple[Case, ...] = (
    *(
        Case(RULES, f"{name} [Pa]", rule, published, 1.0, "to the pascal")
        for name, rule, published in (
            ("Goodman", lambda: float(goodman(AMPLITUDE, MEAN, ULTIMATE)), 69102564.0),
            ("Gerber", lambda: float(gerber(AMPLITUDE, MEAN, ULTIMATE)), 57390265.0),
            ("Soderberg", lambda: float(soderberg(AMPLITUDE, MEAN, YIELD)), 76153846.0),
            ("Smith, Watson, Topper", lambda: float(smith_watson_topper(AMPLITUDE, MEAN)), 89302855.0),
            ("Walker, exponent one half", lambda: float(walker(AMPLITUDE, MEAN, 0.5)), 89302855.0),
        )
    ),
    *(
        Case(MINER, f"cycles at {level} MPa [1]", partial(_cycles, number), published, 1e-6 * published, "seven digits")
        for number, (level, published) in enumerate(((60, 6.928008e7), (85, 6794496.0), (110, 1218051.0)))
    ),
    Case(MINER, "damage per hour [1/h]", lambda: _sum().total, 8.944139e-5, 1e-10, "seven digits"),
    Case(MINER, "hours until the sum is one [h]", lambda: _sum().until_one, 11180.51, 0.01),
    Case(MINER, "hours with a factor of four [h]", lambda: _sum().until_one / 4.0, 2795.127, 0.001),
    Case(
        MINER, "Goodman margin to 97 MPa [1]",
        lambda: margin_of_safety(97e6, float(goodman(AMPLITUDE, MEAN, ULTIMATE)), 1.0), 0.403711, 1e-6,
    ),
)  # fmt: skip
