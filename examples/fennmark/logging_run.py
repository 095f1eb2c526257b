"""The oven's logger at work: a run of the invented shop, written row by row into the folder it writes in.

``python -m examples.fennmark.logging_run FOLDER --pace 60`` writes an hour in a minute; the desk, started with
``--logs FOLDER``, shows it while it grows.
"""

import argparse
import datetime
import shutil
import tempfile
import threading
from pathlib import Path
from typing import Final

from examples.fennmark.evidence import write_evidence

HERE: Final = Path(__file__).parent
HEAD: Final = 3  # lines above the first row
TROUBLED: Final = 1  # the blade whose mould sensor 4 is lost 40 min into the dwell
NAME: Final = "run-095.csv"
STAMP: Final = "%d/%m/%Y,%H:%M:%S"
MINUTE: Final = 60.0  # between two rows [s]


def restamped(lines: list[str], begins: datetime.datetime) -> list[str]:
    """A log as if it had begun at another time of the wall's clock."""
    moved = lines[:HEAD]
    for minute, line in enumerate(lines[HEAD:]):
        _, _, readings = line.split(",", 2)
        at = begins + datetime.timedelta(minutes=minute)
        moved.append(f"{at.strftime(STAMP)},{readings}")
    return moved


def a_run(begins: datetime.datetime, number: int = TROUBLED) -> list[str]:
    """The lines of one of the first batch's cures, begun at a time."""
    with tempfile.TemporaryDirectory() as folder:
        cure = write_evidence(Path(folder)).blades[number].cure
        return restamped(cure.read_text(encoding="utf-8").splitlines(keepends=True), begins)


def log_run(
    folder: Path, lines: list[str], there: int, pace: float, stopped: threading.Event, name: str = NAME
) -> None:
    """Write the rows that are there already, then one after the other until the run is over or somebody stops it."""
    folder.mkdir(parents=True, exist_ok=True)
    shutil.copyfile(HERE / "logger.toml", folder / "logger.toml")
    place = folder / name
    place.write_text("".join(lines[: HEAD + there]), encoding="utf-8")
    for line in lines[HEAD + there :]:
        if stopped.wait(MINUTE / pace):
            return
        with place.open("a", encoding="utf-8") as log:
            log.write(line)


def begin(folder: Path, now: datetime.datetime, there: int = 95, pace: float = 1.0) -> threading.Event:
    """A cure that has run for so many minutes by the wall's clock, and goes on; set what comes back to stop it."""
    stopped = threading.Event()
    lines = a_run(now.replace(second=0, microsecond=0) - datetime.timedelta(minutes=there - 1))
    threading.Thread(target=log_run, args=(folder, lines, there, pace, stopped), daemon=True).start()
    return stopped


def main() -> None:
    """Write a run into a folder."""
    asked = argparse.ArgumentParser(description=__doc__)
    asked.add_argument("folder", type=Path)
    asked.add_argument("--pace", type=float, default=1.0, help="times the pace of the clock")
    asked.add_argument("--there", type=int, default=1, help="rows that are there at once")
    asked.add_argument("--begins", default="2026-05-28T06:30", help="the first row's time on the wall")
    told = asked.parse_args()
    lines = a_run(datetime.datetime.fromisoformat(told.begins))
    log_run(told.folder, lines, told.there, told.pace, threading.Event())


if __name__ == "__main__":
    main()
