"""Ground effect at constant power, by the formula."""

from functools import partial

import numpy as np

from bladewright.engine.rotor.ground_effect import ground_inflow, ground_thrust
from bladewright.selfcheck.case import Case

SOURCE = "I. C. Cheeseman, W. E. Bennett, ARC R&M 3021, 1955 (formula from memory)"


def _thrust(height: float) -> float:
    return float(ground_thrust(np.array([height]))[0])


CASES: tuple[Case, ...] = (
    *(
        Case(SOURCE, f"thrust over free thrust at z/R {height:g} [1]", partial(_thrust, height), value, 1e-8)
        for height, value in ((0.5, 1.33333333), (0.75, 1.125), (1.0, 1.06666667), (1.5, 1.02857143), (2.0, 1.01587302))
    ),
    Case(
        SOURCE, "the same moving at 5 m/s with 7.209 m/s induced, z/R 1 [1]",
        lambda: 1.0 / ground_inflow(3.0, 3.0, 5.0, 7.20895), 1.0440589, 1e-7,
    ),
)  # fmt: skip
