"""The log of chain heads, kept beside the book: a chain alone cannot notice that its end was cut off."""

import os
from dataclasses import dataclass
from pathlib import Path


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
    text = ("\n" if _ends_torn(path) else "") + "".join(f"{head.number} {head.hash}\n" for head in heads)
    place = os.open(path, os.O_WRONLY | os.O_APPEND | os.O_CREAT, 0o644)
    try:
        os.write(place, text.encode("ascii"))
        os.fsync(place)
    finally:
        os.close(place)


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
    found = []
    for line in path.read_text(encoding="ascii", errors="replace").splitlines():
        number, _, name = line.partition(" ")
        if number.isdigit() and len(name) == 64:
            found.append(Head(int(number), name))
    return tuple(found)
