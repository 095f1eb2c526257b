"""The handbook's 2024-T3 sheet: its curve of smooth pieces in its own unit, by our form of it; its values in SI."""

from functools import partial

from bladewright.engine.strength.mean_stress import equivalent_maximum
from bladewright.engine.strength.stress_life import ShiftedLog, lives
from bladewright.selfcheck.case import Case
from bladewright.units import to_si

STATIC = "MIL-HDBK-5J, 2003, Table 3.2.3.0(b1), 2024-T3 sheet (read in transcription, A yield from memory); recomputed"
SOURCE = "MIL-HDBK-5J, 2003, Figure 3.2.3.1.8(e), unnotched 2024-T3 sheet (read in transcription); recomputed"
KSI = 6894757.293168  # Pa; exact by the definitions of pound, inch and standard gravity
EXPONENT = 0.56
#: the range of its tests is not known to us, so this one is only as wide as the points asked of it
CURVE = ShiftedLog(
    intercept=11.1, slope=3.97, shift=15.8 * KSI, unit_stress=KSI, least_stress=20.0 * KSI, greatest_stress=60.0 * KSI
)


def _cycles(greatest: float, ratio: float) -> float:
    """At a greatest stress [Pa] and a ratio of least to greatest."""
    amplitude, mean = 0.5 * greatest * (1.0 - ratio), 0.5 * greatest * (1.0 + ratio)
    return float(lives(CURVE, equivalent_maximum(amplitude, mean, EXPONENT)).cycles)


CASES: tuple[Case, ...] = (
    *(
        Case(
            SOURCE, f"cycles at {said} [1]", partial(_cycles, stress, ratio), published, 2e-6 * published, "six digits"
        )
        for said, stress, ratio, published in (
            ("40 ksi, R 0", 40.0 * KSI, 0.0, 403881.0),
            ("30 ksi, R -1", 30.0 * KSI, -1.0, 213119.0),
            ("200 MPa, R 0.1", 200e6, 0.1, 7.62452e6),
        )
    ),
    Case(SOURCE, "reversed stress without failure [Pa]", lambda: CURVE.shift / 2.0**EXPONENT, 73.8923e6, 50.0),
    *(
        Case(STATIC, f"{said} [{unit}]", partial(to_si, text, kind), published, 2e-5 * published, "five digits")
        for said, text, kind, unit, published in (
            ("ultimate, A", "64 ksi", "pressure", "Pa", 441.26e6),
            ("ultimate, B", "65 ksi", "pressure", "Pa", 448.16e6),
            ("yield, A", "47 ksi", "pressure", "Pa", 324.05e6),
            ("yield, B", "48 ksi", "pressure", "Pa", 330.95e6),
            ("Young's modulus", "10.5e3 ksi", "stiffness modulus", "Pa", 72.395e9),
            ("density", "0.100 lb/in^3", "density", "kg/m^3", 2767.99),
        )
    ),
)
