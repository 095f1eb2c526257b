"""A process killed at random points of a working day: what was acknowledged is there, and the book opens."""

import os
import subprocess
import sys
from pathlib import Path

import pytest

KILLS = 50
ROOT = Path(__file__).parents[2]


@pytest.mark.skipif(not hasattr(os, "fork"), reason="needs a system that can fork a process, such as Linux")
def test_nothing_acknowledged_is_lost_when_the_process_is_killed(shop_folder: Path, tmp_path: Path) -> None:
    """A kill is not a lost power supply: what the disk itself promises after an fsync is taken on trust."""
    command = [sys.executable, "-m", "tests.records.working_day", str(shop_folder), str(tmp_path), str(KILLS), "31"]
    paths = os.pathsep.join((str(ROOT / "src"), str(ROOT)))
    done = subprocess.run(
        command,
        cwd=ROOT,
        env=os.environ | {"PYTHONPATH": paths},
        capture_output=True,
        text=True,
        timeout=200,
        check=False,
    )
    assert done.returncode == 0, done.stdout + done.stderr
    assert int(done.stdout) > KILLS, "the kills came before any work was done: nothing was tested"
