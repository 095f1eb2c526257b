"""How many runs a bound needs when no shape of scatter is assumed."""

from functools import partial

from bladewright.engine.statistics.order import order_for
from bladewright.selfcheck.case import Case

SOURCE = "S. S. Wilks, Ann. Math. Stat. 12, 1941 (fewest runs from memory), recomputed; closed form"
#: share, confidence, which of the smallest: fewest runs
FEWEST = {(0.95, 0.95, 1): 59, (0.95, 0.95, 2): 93, (0.95, 0.95, 3): 124, (0.90, 0.95, 1): 29, (0.99, 0.95, 1): 299}


def _fewest(share: float, confidence: float, order: int) -> float:
    runs = 1
    while order_for(runs, share, confidence) < order:
        runs += 1
    return float(runs)


CASES: tuple[Case, ...] = tuple(
    Case(
        SOURCE, f"{100 * share:g} % with {100 * confidence:g} %, smallest but {order - 1}: fewest runs [1]",
        partial(_fewest, share, confidence, order), float(runs), 0.0,
    )
    for (share, confidence, order), runs in FEWEST.items()
)  # fmt: skip
