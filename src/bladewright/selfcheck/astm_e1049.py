"""The standard's own run of loads, counted."""

from functools import partial

import numpy as np

from bladewright.engine.strength.rainflow import rainflow
from bladewright.selfcheck.case import Case

SOURCE = "ASTM E1049-85, Standard Practices for Cycle Counting in Fatigue Analysis, rainflow example (from memory)"
LOADS = np.array([-2.0, 1.0, -3.0, 5.0, -1.0, 3.0, -4.0, 4.0, -2.0])
TABLE = {3: 0.5, 4: 1.5, 6: 0.5, 8: 1.0, 9: 0.5}


def _count(span: int) -> float:
    found = rainflow(LOADS)
    return float(found.count[np.isclose(2.0 * found.amplitude, span)].sum())


CASES: tuple[Case, ...] = (
    *(Case(SOURCE, f"cycles of range {span} [1]", partial(_count, span), count, 0.0) for span, count in TABLE.items()),
    Case(SOURCE, "cycles of every range [1]", lambda: float(rainflow(LOADS).count.sum()), 4.0, 0.0),
)
