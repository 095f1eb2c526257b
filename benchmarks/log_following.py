"""Following a log while it grows, at a row a second for three hours, against the time it grows in."""

import itertools
import tempfile
import time
from pathlib import Path

from benchmarks.log_judging import LIMITS
from benchmarks.log_reading import description, log_bytes
from bladewright.evidence.growing_log import GrowingLog
from bladewright.proof.cure_watch import watch_cure

GOAL = 0.01
ROWS = 3 * 3600
EVERY = 10  # rows, and at one a second the pause between two looks
LOOKS = 30  # of the longest part, which costs most


def run() -> list[dict[str, object]]:
    """One line for the table of benchmarks: work of the last looks against the time they are spread over."""
    how = description()
    lines = log_bytes().splitlines(keepends=True)[: how.table.first_row - 1 + ROWS]
    with tempfile.TemporaryDirectory() as folder:
        path = Path(folder) / "cure.csv"
        growing = GrowingLog(path, how)
        path.write_bytes(b"".join(lines[: -LOOKS * EVERY]))
        growing.look()
        worked = 0.0
        for start, stop in itertools.pairwise(range(len(lines) - LOOKS * EVERY, len(lines) + 1, EVERY)):
            with path.open("ab") as file:
                file.write(b"".join(lines[start:stop]))
            begun = time.perf_counter()
            look = growing.look()
            assert look.log is not None
            assert look.added == EVERY
            watch_cure(look.log, LIMITS)
            worked += time.perf_counter() - begun
    ratio = worked / (LOOKS * EVERY)
    return [
        {
            "name": "follow and watch a log of a row a second at the end of three hours, against the time it takes",
            "ratio": ratio,
            "goal": f"<= {GOAL:g}",
            "holds": ratio <= GOAL,
            "ours_s": worked,
            "other_s": float(LOOKS * EVERY),
        }
    ]


if __name__ == "__main__":
    for line in run():
        print(line)
