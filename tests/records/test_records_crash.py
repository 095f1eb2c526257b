"""A process, or a server, killed at random points of a working day: what was acknowledged is there, the book opens."""

import os
import subprocess
import sys
from pathlib import Path

import pytest

from bladewright.records.book import Kept

pytestmark = [
    pytest.mark.skipif(not hasattr(os, "fork"), reason="needs a system that can fork a process, such as Linux"),
    pytest.mark.book,
]
KILLS = {Kept.SQLITE: 50, Kept.POSTGRESQL: 15}
CRASHES = 3
ROOT = Path(__file__).parents[2]


def acknowledged(module: str, *arguments: object) -> int:
    """How many acts were acknowledged and are all there, as a process of its own says that forks for each end."""
    done = subprocess.run(
        [sys.executable, "-m", module, *map(str, arguments)],
        cwd=ROOT,
        env=os.environ | {"PYTHONPATH": os.pathsep.join((str(ROOT / "src"), str(ROOT)))},
        capture_output=True,
        text=True,
        timeout=200,
        check=False,
    )
    assert done.returncode == 0, done.stdout + done.stderr
    return int(done.stdout)


def test_nothing_acknowledged_is_lost_when_the_process_is_killed(
    shop_folder: Path, tmp_path: Path, database: Kept
) -> None:
    """A kill is not a lost power supply: what the disk itself promises after an fsync is taken on trust."""
    done = acknowledged("tests.records.working_day", shop_folder, tmp_path, KILLS[database], 31)
    assert done > KILLS[database], "the kills came before any work was done: nothing was tested"


@pytest.mark.book("postgresql")
@pytest.mark.usefixtures("database")
def test_nothing_acknowledged_is_lost_when_the_server_crashes(tmp_path: Path) -> None:
    """A server stopped without a last word to its disk, three times; it recovers by its own log when it starts."""
    assert acknowledged("tests.records.server_day", tmp_path, CRASHES) > CRASHES, "nothing was tested"
