"""The folder an oven's logger writes in: which files are there and when each was last written. Only looked at."""

from dataclasses import dataclass
from pathlib import Path
from typing import Final

from bladewright.errors import MissingInput
from bladewright.evidence.description import LoggerDescription, read_logger_description

#: the logger description, where it is kept beside the logs
DESCRIPTION: Final = "logger.toml"
#: files shown, the newest first; an old folder may hold years of them (our own choice)
MOST: Final = 50


@dataclass(frozen=True, slots=True)
class LogFile:
    """One file in the folder."""

    name: str
    path: Path
    size: int  # [byte]
    written: float  # when it last was, by the clock files are dated by [s]


def logs_in(folder: Path) -> tuple[LogFile, ...]:
    """The logs there, the latest written first; none where the folder cannot be looked at."""
    found = []
    try:
        for path in folder.iterdir():
            if path.name.startswith(".") or path.suffix == ".toml" or not path.is_file():
                continue
            status = path.stat()
            found.append(LogFile(path.name, path, status.st_size, status.st_mtime))
    except OSError:
        pass  # gone, or not ours to look at: what was seen is shown
    return tuple(sorted(found, key=lambda one: (-one.written, one.name))[:MOST])


def log_named(folder: Path, name: str) -> LogFile:
    """One file by its plain name; never anything outside the folder."""
    found = next((one for one in logs_in(folder) if one.name == name), None)
    if found is None:
        raise MissingInput(
            "is not in the book or in the logger's folder", field="log", value=name, allowed="a file in that folder",
            fix="look whether the logger was started",
        )  # fmt: skip
    return found


def description_in(folder: Path) -> LoggerDescription | None:
    """The logger description kept beside the logs, or None where there is none."""
    path = folder / DESCRIPTION
    return read_logger_description(path) if path.is_file() else None
