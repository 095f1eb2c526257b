"""One file per command: parses, calls, prints; no arithmetic. Heavy imports stay inside the commands."""

import os


def main() -> None:
    """Run the command line; errors become clear text and an exit code."""
    # our matrices are small: a second thread gains nothing on them, and waits ten times as long on a busy machine
    os.environ.setdefault("OMP_NUM_THREADS", "1")

    from bladewright.cli.running import run

    run()
