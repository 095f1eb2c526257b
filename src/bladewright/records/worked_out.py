"""Answers that take long, kept beside the book by the hash of what they were worked out from, to look at only.

Nothing is decided on a kept answer: whoever writes in the book works it out again from the evidence.
"""

from pathlib import Path
from typing import Final, TypeVar

from bladewright import __version__
from bladewright.errors import BladewrightError, ComputerRefused
from bladewright.figures import canonical, digest
from bladewright.records.book import opened
from bladewright.records.placing import put
from bladewright.records.restoring import restored_text

T = TypeVar("T")
_FOLDER: Final = "worked-out"


def key_of(question: str, inputs: object) -> str:
    """The name an answer is kept under: the question, this version of the program, and all it rests on."""
    return digest(canonical({"question": question, "engine": __version__, "inputs": inputs}))


def remembered(kind: type[T], key: str) -> T | None:
    """The answer, or None where there is none or it cannot be read."""
    try:
        return restored_text(kind, _path(key).read_text(encoding="utf-8"))
    except (OSError, UnicodeDecodeError, BladewrightError):
        return None


def remember(key: str, answer: object) -> None:
    """Keep an answer; a book that may not be written is none the worse for it."""
    if not opened().writable:
        return
    try:
        put(_path(key), canonical(answer))
    except ComputerRefused:
        return


def _path(key: str) -> Path:
    folder = opened().folder
    return folder.with_name(f"{folder.name}.{_FOLDER}") / key[:2] / f"{key}.json"
