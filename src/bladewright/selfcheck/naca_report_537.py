"""The reflexed 231 mean line: exact design conditions, and what the published rounded constants leave."""

import math
from functools import cache

from bladewright.engine.flow.exact_lines import exact_five_digit_line
from bladewright.engine.flow.thin_airfoil import ThinSection, thin_section
from bladewright.engine.geometry.mean_lines import FiveDigitLine, designated_mean_line, mean_line_slope
from bladewright.selfcheck.case import Case

SOURCE = (
    "E. N. Jacobs, R. M. Pinkerton, H. Greenberg, NACA Report 537, 1935, conditions of the 231 line; closed form, "
    "solved with 40-digit arithmetic"
)
ROUNDED = (
    "C. L. Ladson, C. W. Brooks, A. S. Hill, D. W. Sproles, NASA TM 4741, 1996, constants as in public "
    "transcriptions; closed form from them"
)


@cache
def _exact() -> FiveDigitLine:
    return exact_five_digit_line(0.15, 0.3, reflexed=True)


def _thin(line: FiveDigitLine) -> ThinSection:
    return thin_section(lambda x: mean_line_slope(line, x), line.breaks)


def _published() -> ThinSection:
    line = designated_mean_line("23112")
    assert isinstance(line, FiveDigitLine)
    return _thin(line)


CASES: tuple[Case, ...] = (
    Case(SOURCE, "231 exact: join [chord]", lambda: _exact().join, 0.216014503, 1e-9),
    Case(SOURCE, "231 exact: k1 [1]", lambda: _exact().k1, 15.6909755, 1e-6),
    Case(SOURCE, "231 exact: k2/k1 [1]", lambda: _exact().ratio, 0.00621341377, 1e-10),
    Case(SOURCE, "231 exact: moment [1]", lambda: _thin(_exact()).moment, 0.0, 1e-12),
    Case(SOURCE, "231 exact: zero-lift angle [deg]", lambda: _degrees(_thin(_exact())), -0.7770511, 1e-6),
    Case(ROUNDED, "231 published constants: moment [1]", lambda: _published().moment, 0.00113131, 1e-8),
    Case(ROUNDED, "231 published constants: ideal lift [1]", lambda: _published().ideal_lift, 0.301873, 1e-6),
    Case(ROUNDED, "231 published constants: zero-lift angle [deg]", lambda: _degrees(_published()), -0.753948, 1e-6),
)


def _degrees(section: ThinSection) -> float:
    return math.degrees(section.zero_lift_angle)
