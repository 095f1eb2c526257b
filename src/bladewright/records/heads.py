"""The log of chain heads, kept beside the book: a chain alone cannot notice that its end was cut off."""

import contextlib
import os
from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path

from bladewright.errors import ComputerRefused
from bladewright.records.placing import put, refuse_other_than_file


@dataclass(frozen=True, slots=True)
class Head:
    """The newest event at some moment."""

    number: int
    hash: str


def log_of(folder: Path) -> Path:
    """Where the heads of a book are kept: beside the folder, so that a restored folder does not bring its own."""
    return folder.with_name(folder.name + ".heads")


def append(folder: Path, heads: list[Head]) -> None:
    """Add lines and wait until they are on the disk."""
    if not heads:
        return
    path = log_of(folder)
    with _to_append(path) as place:
        text = ("\n" if _ends_torn(path) else "") + "".join(f"{head.number} {head.hash}\n" for head in heads)
        _write(place, text.encode("ascii"))
        os.fsync(place)


def refuse_unwritable(folder: Path) -> None:
    """``ComputerRefused`` if the log could not be added to: better known before an act than after it."""
    with _to_append(log_of(folder)):
        pass


def begin_again(folder: Path, heads: list[Head]) -> None:
    """Put a new log in the place of the old one."""
    put(log_of(folder), "".join(f"{head.number} {head.hash}\n" for head in heads).encode("ascii"))


@contextlib.contextmanager
def _to_append(path: Path) -> Iterator[int]:
    """The open log; a link to another disk is followed, but what it ends at must be an ordinary file."""
    if path.exists():
        refuse_other_than_file(path.resolve())
    try:
        place = os.open(path, os.O_WRONLY | os.O_APPEND | os.O_CREAT, 0o644)
        try:
            yield place
        finally:
            os.close(place)
    except OSError as error:
        raise ComputerRefused.because(error, path) from error


def _write(place: int, data: bytes) -> None:
    """All of it: a disk that is nearly full takes a part without complaint."""
    while data:
        data = data[os.write(place, data) :]


def _ends_torn(path: Path) -> bool:
    if not path.exists() or path.stat().st_size == 0:
        return False
    with path.open("rb") as log:
        log.seek(-1, os.SEEK_END)
        return log.read() != b"\n"


def logged(folder: Path) -> tuple[Head, ...]:
    """Every whole line. A line torn by a crash belongs to an event that is in the book and is passed over."""
    path = log_of(folder)
    if not path.exists():
        return ()
    refuse_other_than_file(path.resolve())  # reading a pipe would wait for ever
    try:
        text = path.read_text(encoding="ascii", errors="replace")
    except OSError as error:
        raise ComputerRefused.because(error, path) from error
    found = []
    for line in text.splitlines():
        number, _, name = line.partition(" ")
        if number.isdigit() and len(name) == 64:
            found.append(Head(int(number), name))
    return tuple(found)
