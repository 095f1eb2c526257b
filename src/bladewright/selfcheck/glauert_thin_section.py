"""Mean lines and the plain flap against thin-section theory in closed form, and against a published table."""

import math
from functools import partial

from bladewright.engine.flow.thin_airfoil import ThinSection, flap_derivatives, thin_section
from bladewright.engine.geometry.mean_lines import designated_mean_line, mean_line_slope
from bladewright.selfcheck.case import Case

SOURCE = "H. Glauert, Elements of Aerofoil and Airscrew Theory, 1926, ch. VII (from memory); integrals: closed form"
FLAP = "H. Glauert, ARC R&M 1095, 1927 (from memory); closed form"
REPORT_824 = "I. H. Abbott, A. E. von Doenhoff, L. S. Stivers, NACA Report 824, 1945 (from memory)"
ROUNDING = "the report's own rounding"


def _thin(designation: str) -> ThinSection:
    line = designated_mean_line(designation)
    return thin_section(lambda x: mean_line_slope(line, x), line.breaks)


def _value(designation: str, name: str, scale: float = 1.0) -> float:
    return scale * float(getattr(_thin(designation), name))


def _flap(share: float, name: str) -> float:
    return float(getattr(flap_derivatives(share), name))


DEGREES = 180.0 / math.pi
LINES = (
    ("2412", -2.0772404, -0.05311951, 0.25602454, 0.2574234),
    ("4412", -4.1544808, -0.10623903, 0.51204908, 0.5148469),
    ("23012", -1.0935867, -0.01283566, 0.30004230, 1.6424710),
)
FLAPS = (
    (0.05, -1.77383341, 0.41409540),
    (0.08, -2.23219901, 0.49917949),
    (0.10, -2.48700222, 0.54000000),
    (0.15, -3.01908335, 0.60702142),
)
CASES: tuple[Case, ...] = (
    *(
        case
        for name, zero, moment, lift, ideal in LINES
        for case in (
            Case(
                SOURCE, f"{name}: zero-lift angle [deg]", partial(_value, name, "zero_lift_angle", DEGREES), zero, 1e-7
            ),
            Case(SOURCE, f"{name}: moment [1]", partial(_value, name, "moment"), moment, 1e-8),
            Case(SOURCE, f"{name}: ideal lift [1]", partial(_value, name, "ideal_lift"), lift, 1e-8),
            Case(SOURCE, f"{name}: ideal angle [deg]", partial(_value, name, "ideal_angle", DEGREES), ideal, 1e-7),
        )
    ),
    *(
        case
        for share, lift, moment in FLAPS
        for case in (
            Case(FLAP, f"flap of {share:.0%}, up: lift [1/rad]", partial(_flap, share, "lift"), lift, 1e-8),
            Case(FLAP, f"flap of {share:.0%}, up: moment [1/rad]", partial(_flap, share, "moment"), moment, 1e-8),
        )
    ),
    Case(REPORT_824, "230 line: ideal lift [1]", partial(_value, "23012", "ideal_lift"), 0.30, 0.005, ROUNDING),
    Case(
        REPORT_824,
        "230 line: ideal angle [deg]",
        partial(_value, "23012", "ideal_angle", DEGREES),
        1.65,
        0.01,
        ROUNDING,
    ),
    Case(
        REPORT_824,
        "230 line: moment [1]",
        partial(_value, "23012", "moment"),
        -0.014,
        0.002,
        "read off a rounded table",
    ),
)
