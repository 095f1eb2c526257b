"""Pressure at a Mach number by three rules, the sonic pressure, and the critical Mach number."""

from functools import partial

import numpy as np

from bladewright.engine.flow.compressibility import (
    Rule,
    corrected_pressure,
    critical_mach,
    prandtl_glauert_factor,
    sonic_pressure,
)
from bladewright.selfcheck.case import Case

SONIC = "Ames Research Staff, NACA Report 1135, 1953 (from memory); closed form"
RULES: tuple[tuple[Rule, str], ...] = (
    ("prandtl-glauert", "H. Glauert, Proc. Roy. Soc. A 118, 1928 (from memory); closed form"),
    ("karman-tsien", "T. von Karman, J. Aero. Sci. 8, 1941; H.-S. Tsien, 1939 (from memory); closed form"),
    ("laitone", "E. V. Laitone, J. Aero. Sci. 18, 1951 (from memory); closed form"),
)
MODEST, DEEP, PEAK = -0.5, -1.2, -0.43
# Mach number, 1/sqrt(1 - M**2), the three rules at -0.5, the first two at -1.2, sonic pressure
TABLE = (
    (0.3, 1.04828484, (-0.52414242, -0.53054676, -0.53767590), (-1.25794180, -1.29547282), -6.94731533),
    (0.45, 1.11978502, (-0.55989251, -0.57717679, -0.59948909), (-1.34374203, -1.44779664), -2.77224772),
    (0.5, 1.15470054, (-0.57735027, -0.60057769, -0.63271262), (-1.38564065, -1.52741588), -2.13340267),
    (0.6, 1.25000000, (-0.62500000, -0.66666667, -0.73594348), (-1.50000000, -1.76470588), -1.29434359),
    (0.7, 1.40028008, (-0.70014004, -0.77799391, -0.95093522), (-1.68033610, -2.21145755), -0.77906596),
)
BAND = 1e-7


def _corrected(pressure: float, mach: float, rule: Rule) -> float:
    return float(corrected_pressure(np.array([pressure]), mach, rule).pressure[0])


CASES: tuple[Case, ...] = (
    *(
        case
        for mach, growth, modest, deep, sonic in TABLE
        for case in (
            Case(SONIC, f"sonic pressure at Mach {mach:g} [1]", partial(sonic_pressure, mach), sonic, BAND),
            Case(RULES[0][1], f"growth at Mach {mach:g} [1]", partial(prandtl_glauert_factor, mach), growth, BAND),
            *(
                Case(
                    source,
                    f"pressure {low:g} by {rule} at Mach {mach:g} [1]",
                    partial(_corrected, low, mach, rule),
                    value,
                    BAND,
                )
                for low, values in ((MODEST, modest), (DEEP, deep))
                for (rule, source), value in zip(RULES, values, strict=False)
            ),
        )
    ),
    *(
        Case(
            f"{source}; {SONIC}",
            f"critical Mach number of a suction peak of {PEAK:g} by {rule} [1]",
            partial(critical_mach, PEAK, rule),
            value,
            BAND,
        )
        for (rule, source), value in zip(RULES, (0.73710591, 0.72290473), strict=False)
    ),
)
