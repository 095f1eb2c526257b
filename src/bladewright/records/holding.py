"""Files kept between being looked at and being filed, beside the book: what is filed is what was looked at.

The folder is named by the hash of everything that would be filed and by whom, and checked against it: nothing a browser
sends back is trusted. What nobody files is thrown away after a day.
"""

import contextlib
import datetime
import json
import re
import shutil
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from pathlib import Path
from typing import Any, Final

from bladewright.errors import BadInput, ComputerRefused
from bladewright.figures import canonical, digest
from bladewright.records.acts import Act
from bladewright.records.book import opened
from bladewright.records.placing import put

KEPT_FOR: Final = datetime.timedelta(hours=24)
#: [byte] of everything held; the oldest goes first; our own choice
MOST: Final = 2 * 1024**3
_CARD: Final = "card.json"
_ENTRIES: Final = {"by", "kind", "serials", "files", "until"}
_KEY: Final = re.compile(r"[0-9a-f]{64}")


@dataclass(frozen=True, slots=True)
class Handed:
    """A file as handed in."""

    name: str
    data: bytes

    @property
    def sha256(self) -> str:
        """Its hash."""
        return digest(self.data)


@dataclass(frozen=True, slots=True)
class Held:
    """What is held under a key: which kind of evidence, for which serials, and where its files lie, by their part."""

    key: str
    kind: str
    serials: tuple[str, ...]
    paths: Mapping[str, Path]

    def files(self) -> dict[str, Handed]:
        """Its files, read."""
        return {part: Handed(path.name, path.read_bytes()) for part, path in self.paths.items()}


def place() -> Path:
    """Where files are held: beside the book, so that they are no part of it."""
    folder = opened().folder
    return folder.with_name(folder.name + ".holding")


def hold(act: Act, kind: str, serials: Sequence[str], files: Mapping[str, Handed]) -> str:
    """Keep files for a day, and the key they are found by."""
    sweep(act.at)
    card = _card(act.by, kind, serials, {part: (file.name, file.sha256) for part, file in files.items()})
    key = digest(canonical(card))
    folder = place() / key
    for part, file in files.items():
        put(folder / part / file.name, file.data)
    put(folder / _CARD, canonical({**card, "until": (act.at + KEPT_FOR).isoformat()}))
    return key


def held(act: Act, key: str) -> Held:
    """What this person looked at under this key, byte for byte; ``BadInput`` once it is gone."""
    card = _read(key) if _KEY.fullmatch(key) else None
    if card is None or card["by"] != act.by or act.at > datetime.datetime.fromisoformat(card["until"]):
        raise _gone(key)
    paths = {part: place() / key / part / name for part, (name, _) in card["files"].items()}
    found = {part: (path.name, _hash(path, key)) for part, path in paths.items()}
    if digest(canonical(_card(card["by"], card["kind"], card["serials"], found))) != key:
        raise _gone(key)
    return Held(key, card["kind"], tuple(card["serials"]), paths)


def release(key: str) -> None:
    """Throw away what is held under a key."""
    if _KEY.fullmatch(key):
        shutil.rmtree(place() / key, ignore_errors=True)


def sweep(now: datetime.datetime) -> None:
    """Throw away what nobody filed in time, and the oldest where too much is held."""
    cards = []
    with contextlib.suppress(FileNotFoundError):
        for folder in place().iterdir():
            card = _read(folder.name)
            until = datetime.datetime.fromisoformat(card["until"]) if card else now - KEPT_FOR
            size = sum(path.stat().st_size for path in folder.rglob("*") if path.is_file())
            cards.append((until, folder.name, size))
    room = MOST
    for until, key, size in sorted(cards, reverse=True):
        room -= size
        if until < now or room < 0:
            release(key)


def _card(by: str, kind: str, serials: Sequence[str], files: Mapping[str, tuple[str, str]]) -> dict[str, Any]:
    return {"by": by, "kind": kind, "serials": list(serials), "files": {part: list(one) for part, one in files.items()}}


def _read(key: str) -> dict[str, Any] | None:
    try:
        card: dict[str, Any] = json.loads((place() / key / _CARD).read_bytes())
    except (OSError, ValueError):
        return None
    return card if isinstance(card, dict) and card.keys() == _ENTRIES else None


def _hash(path: Path, key: str) -> str:
    try:
        return digest(path.read_bytes())
    except FileNotFoundError as error:
        raise _gone(key) from error
    except OSError as error:
        raise ComputerRefused.because(error, path) from error


def _gone(key: str) -> BadInput:
    return BadInput(
        "is no longer held; nothing was filed",
        field="held",
        value=key[:12],
        allowed="what you looked at within the last day",
        fix="drop the file again, look at it, then file it",
    )
