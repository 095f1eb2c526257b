"""What differs between two drawing files, field by field, as each of them writes it."""

import functools
from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from types import MappingProxyType
from typing import Any

from bladewright.drawing.entries import entry_at
from bladewright.drawing.file import drawing_of
from bladewright.drawing.words import in_words
from bladewright.typed import toml_table

KEPT = 32  # files at hand
LIKE = 1e-9  # of the larger: two ways of writing one value


@dataclass(frozen=True, slots=True)
class Differing:
    """One field of two drawings; empty where one of them does not have it."""

    field: str
    words: str
    before: str
    after: str
    worth_the_same: bool  # only written otherwise, like "1 in" and "25.4 mm"


@functools.lru_cache(maxsize=KEPT)
def differing(before: bytes, after: bytes) -> tuple[Differing, ...]:
    """Every field that is not written alike in both, in the order of the second; what only the first has, last."""
    tables = toml_table(before, "before"), toml_table(after, "after")
    old, new = (dict(_entries(table)) for table in tables)
    drawn = drawing_of(tables[0], "before"), drawing_of(tables[1], "after")
    return tuple(
        Differing(
            field,
            in_words(field),
            old.get(field, ""),
            new.get(field, ""),
            field in old and field in new and _alike(*(entry_at(drawing, field) for drawing in drawn)),
        )
        for field in dict.fromkeys((*new, *old))
        if old.get(field) != new.get(field)
    )


@functools.lru_cache(maxsize=KEPT)
def written_entries(data: bytes, file: str = "") -> Mapping[str, str]:
    """Every entry of a drawing file by its dotted field, as it is written there; rows of lists counted from one."""
    return MappingProxyType(dict(_entries(toml_table(data, file))))


def _entries(value: Any, path: str = "") -> Iterator[tuple[str, str]]:
    inside: Iterator[tuple[Any, Any]]
    if isinstance(value, dict):
        inside = iter(value.items())
    elif isinstance(value, list) and any(isinstance(part, (dict, list)) for part in value):
        inside = iter(enumerate(value, start=1))
    else:
        yield path, _told(value)
        return
    for name, part in inside:
        yield from _entries(part, f"{path}.{name}" if path else str(name))


def _told(value: Any) -> str:
    if isinstance(value, bool):
        return "true" if value else "false"
    return ", ".join(map(str, value)) if isinstance(value, list) else str(value)


def _alike(one: object, other: object) -> bool:
    if isinstance(one, float) and isinstance(other, float):
        return abs(one - other) <= LIKE * max(abs(one), abs(other))
    return one == other and one is not None
