"""One-sided tolerance factors against the printed table, and against the noncentral t distribution."""

from functools import partial

import numpy as np

from bladewright.engine.statistics.tolerance import A_BASIS, fewest_for_least, lower_limit, one_sided_factor
from bladewright.selfcheck.case import Case

_PRINTED = "CMH-17-1G, Composite Materials Handbook vol. 1, 2012, normal B-basis factors (read in quotation)"
_EXACT = "noncentral t distribution, k = t'(0.95; n - 1, z sqrt n)/sqrt n, recomputed outside: closed form"
_WILKS = "S. S. Wilks, sample sizes for tolerance limits, 1941 (from memory); 1 - p**n >= 0.95: closed form"

_TABLE = {5: 3.408, 10: 2.355, 15: 2.069, 20: 1.927, 30: 1.778}
_B = {3: 6.15528, 5: 3.40663, 6: 3.00626, 10: 2.35464, 18: 1.97380, 30: 1.77733, 100: 1.52675}
_A = {3: 10.55273, 5: 5.74108, 6: 5.06199, 10: 3.98112, 18: 3.37033, 30: 3.06390, 100: 2.68396}
_LOADS = np.array([92.1, 88.4, 95.3, 90.7, 86.9, 93.8, 89.5, 91.2, 94.6, 87.3])  # invented peel loads [N]

CASES: tuple[Case, ...] = (
    *(
        Case(
            _PRINTED, f"B factor of {n} [1]", partial(one_sided_factor, n), k, 0.002,
            "the table is from an approximation up to 0.0014 above the exact value",
        )
        for n, k in _TABLE.items()
    ),
    *(Case(_EXACT, f"B factor of {n} [1]", partial(one_sided_factor, n), k, 1e-5, "five decimals")
      for n, k in _B.items()),
    *(Case(_EXACT, f"A factor of {n} [1]", partial(one_sided_factor, n, A_BASIS), k, 1e-5, "five decimals")
      for n, k in _A.items()),
    Case(_EXACT, "B value of ten peel loads [N]", lambda: lower_limit(_LOADS).value, 83.9539, 1e-4, "four decimals"),
    Case(
        _EXACT, "A value of ten peel loads [N]", lambda: lower_limit(_LOADS, A_BASIS).value, 79.1005, 1e-4,
        "four decimals",
    ),
    Case(_WILKS, "pieces whose least is a B value [1]", lambda: float(fewest_for_least()), 29.0, 0.0, "a count"),
    Case(
        _WILKS, "pieces whose least is an A value [1]", lambda: float(fewest_for_least(A_BASIS)), 299.0, 0.0, "a count"
    ),
)  # fmt: skip
