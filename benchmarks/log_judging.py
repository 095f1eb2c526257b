"""Reading and judging a log of a million rows and thirteen columns, hashing included, against bare polars reading."""

import time
from collections.abc import Callable

from benchmarks.log_reading import by_polars, description, log_bytes
from bladewright.drawing.limits import CureLimits
from bladewright.evidence.cure_log import read_cure_log
from bladewright.figures import Finding
from bladewright.proof.cure import RULES, judge_cure

GOAL = 2.0
TIMES = 7

LIMITS = CureLimits.model_validate(
    {
        "target": "120 degC",
        "below": "8 K",
        "above": "8 K",
        "dwell_least": "60 min",
        "dwell_greatest": "120 min",
        "ramp_greatest": "5 degF/min",
        "ramp_least": "1 degF/min",
        "ramp_window": "5 min",
        "ramp_from": "100 degF",
        "spread_greatest": "9 K",
        "overshoot_greatest": "130 degC",
        "heater_greatest": "300 degF",
        "heater_lag_greatest": "45 degF",
        "sample_interval": "1 s",
        "cool_greatest": "6 degF/min",
        "release": "150 degF",
        "pressure_least": "35 psi",
        "pressure_greatest": "50 psi",
        "gel_temperature": "200 degF",
        "heat_begins": "95 degF",
        "sensor_uncertainty": "1 degF",
        "source": "benchmark",
    }
)


def _timed(work: Callable[[], object]) -> float:
    start = time.perf_counter()
    work()
    return time.perf_counter() - start


def run() -> list[dict[str, object]]:
    """One line for the table of benchmarks; both sides in turn, the best of each, so that other work falls on both."""
    data, how = log_bytes(), description()

    def ours() -> tuple[Finding, ...]:
        return judge_cure(read_cure_log(data, how), LIMITS)

    findings = ours()
    assert len(findings) == len(RULES)
    by_polars(data)
    pairs = [(_timed(ours), _timed(lambda: by_polars(data))) for _ in range(TIMES)]
    mine, other = (min(times) for times in zip(*pairs, strict=True))
    return [
        {
            "name": "read and judge a cure log of 1e6 rows x 13, hashing included, against polars to the same types",
            "ratio": mine / other,
            "goal": f"<= {GOAL:g}",
            "holds": mine / other <= GOAL,
            "ours_s": mine,
            "other_s": other,
        }
    ]


if __name__ == "__main__":
    for line in run():
        print(line)
