"""One file per command: parses, calls, prints; no arithmetic. Heavy imports stay inside the commands."""

import os

#: our matrices are small: a second thread gains nothing on them, and waits ten times as long on a busy machine
ONE_THREAD = ("OMP_NUM_THREADS", "OPENBLAS_NUM_THREADS", "MKL_NUM_THREADS")


def main() -> None:
    """Run the command line; errors become clear text and an exit code."""
    for name in ONE_THREAD:
        os.environ.setdefault(name, "1")

    from bladewright.cli.running import run

    run()
