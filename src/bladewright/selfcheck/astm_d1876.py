"""Mean peel of a T-peel coupon: trapezium over five inches of bond after the first inch."""

import numpy as np

from bladewright.drawing.limits import PeelLimits
from bladewright.evidence.records import PullCurve, Source
from bladewright.proof.peel import SteadyPart, steady_part
from bladewright.selfcheck.case import Case

SOURCE = (
    "ASTM D1876, Standard Test Method for Peel Resistance of Adhesives (T-Peel Test), 2008 (the first inch and five "
    "inches of bond line from memory); the trace is ours and worked by hand"
)
_NEWTONS = (
    0, 62, 118, 96, 88, 84, 86, 90, 92, 88, 85, 83, 87, 91, 94, 90, 86, 84, 82, 85, 88, 90, 87, 83, 80, 82, 86, 84, 60,
)  # fmt: skip
_STEP, WIDTH = 12.7e-3, 25.4e-3  # [m] crosshead travel between readings; coupon
LIMITS = PeelLimits.model_validate({"mean_least": "15 lbf/in", "skip": "1 in", "length": "5 in"})
CURVE = PullCurve(
    source=Source("trace.csv", "0" * 64),
    travel=_STEP * np.arange(len(_NEWTONS), dtype=np.float64),
    force=np.array(_NEWTONS, dtype=np.float64),
    rows=np.arange(2, len(_NEWTONS) + 2),
)


def steady() -> SteadyPart:
    """The judged part of the trace."""
    part = steady_part(CURVE, WIDTH, LIMITS)
    assert part is not None
    return part


CASES: tuple[Case, ...] = (
    Case(SOURCE, "mean peel force [N]", lambda: steady().mean * WIDTH, 86.950, 1e-3, "printed to a thousandth"),
    Case(SOURCE, "mean peel [N/mm]", lambda: steady().mean / 1000.0, 3.4232, 1e-4, "printed to four places"),
    Case(SOURCE, "least force in the judged part [N]", lambda: steady().least * WIDTH, 80.0, 1e-9),
    Case(SOURCE, "greatest force in the judged part [N]", lambda: steady().greatest * WIDTH, 94.0, 1e-9),
    Case(SOURCE, "first peak, not judged [N/mm]", lambda: steady().first_peak / 1000.0, 4.646, 1e-3),
)
