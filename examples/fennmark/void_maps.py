"""A blade tapped again on a finer grid, and the void that was found then: what the invented shop entered of it."""

from collections.abc import Iterator
from datetime import date
from pathlib import Path
from typing import Final

from bladewright.evidence.void_map import VoidMapEntries, void_map_bytes
from bladewright.records import evidence, judging
from examples.fennmark import people as staff
from examples.fennmark.diary import Page

SERIAL: Final = "FM31-0128"
DAY: Final = date(2026, 5, 27)
_WHOLE: Final = {
    "spar to top skin": ("0.25 m", "3.55 m"),
    "spar to bottom skin": ("0.25 m", "3.55 m"),
    "doubler to top skin": ("0.25 m", "0.62 m"),
    "doubler to bottom skin": ("0.25 m", "0.62 m"),
    "trailing-edge seam": ("0.25 m", "3.55 m"),
}


def write_void_map(folder: Path) -> Path:
    """The map of the second look: two voids, one of them larger than its zone allows."""
    entries = VoidMapEntries(
        serial=SERIAL,
        found_by=staff.RECEIVER,
        found_on=DAY.isoformat(),
        method="tapped again with the 30 g hammer on a grid of 6 mm, both faces",
        uncertainty="1 mm",
        looked_at=[{"bondline": name, "inner": ends[0], "outer": ends[1]} for name, ends in _WHOLE.items()],
        voids=[
            {
                "bondline": "spar to top skin",
                "station": "3.195 m",
                "chordwise": "20 %",
                "along": "40 mm",
                "across": "12 mm",
            },
            {
                "bondline": "trailing-edge seam",
                "station": "1.84 m",
                "chordwise": "96 %",
                "along": "8 mm",
                "across": "2 mm",
            },
        ],
    )
    path = folder / "void-maps" / f"{SERIAL}.toml"
    path.parent.mkdir(exist_ok=True)
    path.write_bytes(void_map_bytes(entries))
    return path


def pages(folder: Path) -> Iterator[Page]:
    """The map filed, and the blade judged on it."""
    path = write_void_map(folder)
    yield Page(DAY, 15, staff.RECEIVER, lambda act: evidence.file_void_map(act, path).already)
    yield Page(DAY, 17, staff.INSPECTOR, lambda act: judging.judge(act, SERIAL).already)
