"""A change of level in a run of results against two published series and counts worked by hand."""

import itertools
import math

import numpy as np

from bladewright.engine.statistics.change_point import change_shares, rank_change
from bladewright.selfcheck.case import Case

PETTITT = (
    "A. N. Pettitt, A non-parametric approach to the change-point problem, Applied Statistics 28, 1979, table 1 "
    "(series and results read in quotation)"
)
SERIES = np.array([
    -1.05, 0.96, 1.22, 0.58, -0.98, -0.03, -1.54, -0.71, -0.35, 0.66, 0.44, 0.91, -0.02, -1.42, 1.26, -1.02, -0.81,
    1.66, 1.05, 0.97, 2.14, 1.22, -0.24, 1.60, 0.72, -0.12, 0.44, 0.03, 0.66, 0.56, 1.37, 1.66, 0.10, 0.80, 1.29, 0.49,
    -0.07, 1.18, 3.29, 1.84,
])  # fmt: skip
COBB = "G. W. Cobb, The problem of the Nile, Biometrika 65, 1978 (series and the last year before, 1898, from memory)"
#: yearly flow at Aswan, 1871 to 1970 [1e8 m^3]
NILE = np.array([
    1120, 1160, 963, 1210, 1160, 1160, 813, 1230, 1370, 1140, 995, 935, 1110, 994, 1020, 960, 1180, 799, 958, 1140,
    1100, 1210, 1150, 1250, 1260, 1220, 1030, 1100, 774, 840, 874, 694, 940, 833, 701, 916, 692, 1020, 1050, 969,
    831, 726, 456, 824, 702, 1120, 1100, 832, 764, 821, 768, 845, 864, 862, 698, 845, 744, 796, 1040, 759,
    781, 865, 845, 944, 984, 897, 822, 1010, 771, 676, 649, 846, 812, 742, 801, 1040, 860, 874, 848, 890,
    744, 749, 838, 1050, 918, 986, 797, 923, 975, 815, 1020, 906, 901, 1170, 912, 746, 919, 718, 714, 740,
], dtype=np.float64)  # fmt: skip
HAND = "two groups apart, 2 n1! n2! of n! orders do as much: closed form"
COUNTED = "every order of six unequal values written out and counted; closed form, no source needed"
SIX = np.array([3.1, 2.9, 3.0, 2.2, 2.6, 2.1])


def _enumerated() -> float:
    least = rank_change(SIX).statistic
    orders = [np.array(order) for order in itertools.permutations(SIX)]
    ranks = [np.argsort(np.argsort(order)) + 1 for order in orders]
    largest = [np.abs(2 * np.cumsum(rank) - 7 * np.arange(1, 7)).max() for rank in ranks]
    return float(np.mean(np.array(largest) >= least))


def _apart(first: int, second: int) -> float:
    return rank_change(np.concatenate((np.arange(first) + 100.0, np.arange(second)))).chance


def _fewest_orders(each: int) -> float:
    return 2 * math.factorial(each) ** 2 / math.factorial(2 * each)


def _last_year() -> float:
    shares = change_shares(NILE, 1.0)
    return 1871.0 + float(np.argmax(shares))


CASES: tuple[Case, ...] = (
    Case(PETTITT, "largest doubled sum of ranks [1]", lambda: rank_change(SERIES).statistic, 232.0, 0.0),
    Case(PETTITT, "chance [1]", lambda: rank_change(SERIES).chance, 0.0146, 5e-5, "printed to four places"),
    Case(PETTITT, "values before the change [1]", lambda: float(rank_change(SERIES).before), 17.0, 0.0),
    Case(COBB, "values before the change, by ranks [1]", lambda: float(rank_change(NILE).before), 28.0, 0.0),
    Case(COBB, "likeliest last year before the change [1]", _last_year, 1898.0, 0.0),
    Case(HAND, "five above five, exact chance [1]", lambda: _apart(5, 5), _fewest_orders(5), 1e-12),
    Case(HAND, "eight above eight, exact chance [1]", lambda: _apart(8, 8), _fewest_orders(8), 1e-12),
    Case(COUNTED, "exact chance [1]", lambda: rank_change(SIX).chance, _enumerated(), 1e-12),
)  # fmt: skip
