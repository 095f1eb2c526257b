"""Shape factors of small cracks and of a crack in a strip, where they have another form."""

import math
from functools import partial

from bladewright.engine.strength.crack_shapes import central_crack, corner_crack, edge_crack, surface_crack
from bladewright.engine.strength.cracks import CrackStress, Growth, critical_length, growth_cycles
from bladewright.selfcheck.case import Case

ISIDA = "M. Isida, Eng. Fract. Mech. 5, 1973, crack in the middle of a strip (from memory)"
KOITER = "W. T. Koiter, 1965, crack in the edge of a half plane, 1.1215 (from memory)"
GROSS = "B. Gross, J. E. Srawley, W. F. Brown, NASA TN D-2395, 1964, edge crack in a strip (from memory)"
PARIS = "P. C. Paris, F. Erdogan, J. Basic Eng. 85, 1963; integral with a factor that stays the same, closed form"
IRWIN = "G. R. Irwin, 1957; a = (K / (Y S))**2 / pi, closed form"
GREATEST, RATIO, TOUGHNESS = 90e6, 0.1, 33e6
LAW = Growth(constant=1e-27, exponent=2.9, ratio_exponent=1.0)


def _exact_growth(start: float, end: float) -> float:
    m, drive = LAW.exponent, GREATEST * (1.0 - RATIO) * math.sqrt(math.pi)
    power = 1.0 - 0.5 * m
    return float((end**power - start**power) / (power * LAW.constant * drive**m))


_EXACT = _exact_growth(1e-3, 0.03)
_CRITICAL = (TOUGHNESS / (1.12 * 150e6)) ** 2 / math.pi

CASES: tuple[Case, ...] = (
    *(
        Case(ISIDA, f"crack {share:g} of the strip [1]", partial(central_crack, 0.5 * share, 1.0), published,
             0.004 * published, "0.4 %: the secant is a fit to 0.3 %, and three digits")
        for share, published in ((0.2, 1.025), (0.4, 1.109), (0.6, 1.303), (0.8, 1.814))
    ),
    Case(KOITER, "shallow edge crack [1]", partial(edge_crack, 1e-9, 1.0), 1.1215, 0.005, "the fit has 1.12"),
    Case(GROSS, "edge crack of half the strip [1]", partial(edge_crack, 0.5, 1.0), 2.83, 0.03, "1 %: three digits"),
    Case("I. N. Sneddon, 1946, raised by the surface, 1.14 (J. C. Newman, I. S. Raju, 1981; from memory)",
         "small half-round crack [1]", partial(surface_crack, 1e-9, 1.0), 1.14 * 2.0 / math.pi, 0.01,
         "1.5 %: read off curves"),
    Case("J. C. Newman, I. S. Raju, NASA TM 85793, 1984, small quarter-round crack, 1.13 (from memory)",
         "small corner crack [1]", partial(corner_crack, 1e-9, 1.0), 1.13 * 2.0 / math.pi, 0.01,
         "1.5 %: read off curves"),
    Case(PARIS, "cycles from 1 to 30 mm [1]",
         lambda: growth_cycles(CrackStress(GREATEST, RATIO), 1e-3, 0.03, lambda _: 1.0, LAW), _EXACT, 1e-6 * _EXACT),
    Case(IRWIN, "critical length of an edge crack in a wide part [m]",
         lambda: critical_length(150e6, TOUGHNESS, lambda _: 1.12, 1.0), _CRITICAL, 1e-9),
)  # fmt: skip
