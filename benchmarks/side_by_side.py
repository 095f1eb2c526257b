"""Two ways to the same answer, timed in turn in one run, so that whatever else the machine does falls on both."""

import time
from collections.abc import Callable

Line = dict[str, object]  # name, ratio, goal, holds, ours_s, other_s: one line of build/bench.json

HOLDS: dict[str, Callable[[float, float], bool]] = {
    "<=": lambda ratio, goal: ratio <= goal,
    ">=": lambda ratio, goal: ratio >= goal,
}


def seconds(work: Callable[[], object]) -> float:
    """How long one call takes."""
    start = time.perf_counter()
    work()
    return time.perf_counter() - start


def best_of(rounds: int, ours: Callable[[], object], other: Callable[[], object]) -> tuple[float, float]:
    """The least seconds of each over some rounds, taken in turn."""
    pairs = [(seconds(ours), seconds(other)) for _ in range(rounds)]
    return min(pair[0] for pair in pairs), min(pair[1] for pair in pairs)


def line(name: str, ours_s: float, other_s: float, goal: str) -> Line:
    """One line of the table. ``"<= 2"``: ours may take twice as long; ``">= 50"``: ours must be fifty times as fast."""
    sign, _, number = goal.partition(" ")
    ratio = ours_s / other_s if sign == "<=" else other_s / ours_s
    return {
        "name": name,
        "ratio": ratio,
        "goal": goal,
        "holds": HOLDS[sign](ratio, float(number)),
        "ours_s": ours_s,
        "other_s": other_s,
    }
