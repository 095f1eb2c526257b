"""Which entries of a drawing somebody tries changes of first, and how far a slider may sensibly go."""

import functools
import math
from collections.abc import Iterator
from dataclasses import dataclass

from bladewright.drawing.differing import written_entries
from bladewright.drawing.file import BladeDrawing, parse_drawing
from bladewright.drawing.kinds import kind_of
from bladewright.drawing.words import in_words
from bladewright.errors import BadInput
from bladewright.units import split

FIRST = (
    ("Reflex", ("reflex.angle", "reflex.start")),
    ("Tip weight", ("tip_weight.mass", "tip_weight.chordwise", "tip_weight.inner", "tip_weight.outer")),
    ("Spar", ("spar.web_place", "spar.nose_wall", "spar.top_wall", "spar.bottom_wall")),
    ("Skins", ("skin.top_thickness", "skin.bottom_thickness")),
)
THEN = ("spar.web", "doubler.thickness", "doubler.outer", "finish.area_density", "rotor.control.trim_spring")
#: how far either way, and in what steps, in the unit the drawing writes: of angles and fractions; our own choice
EITHER_WAY = {"deg": (2.0, 0.05), "%": (8.0, 0.5)}
SHARE = 0.5  # of any other entry, either way
KEPT = 32  # files at hand
STEPS = 100  # of a slider


@dataclass(frozen=True, slots=True)
class Slider:
    """From where to where, in the unit of the drawing."""

    unit: str
    least: float
    greatest: float
    step: float


@dataclass(frozen=True, slots=True)
class Changeable:
    """One entry: what it is called, how the drawing writes it (empty: not entered), and its slider."""

    field: str
    words: str
    kind: str
    drawn: str
    slider: Slider | None


@dataclass(frozen=True, slots=True)
class Group:
    """Entries that belong together."""

    words: str
    entries: tuple[Changeable, ...]


@functools.lru_cache(maxsize=KEPT)
def changeable(data: bytes) -> tuple[Group, ...]:
    """Of a drawing file: reflex, tip weight, spar and skins; then the planform and what else is often changed."""
    drawing, written = parse_drawing(data, ""), written_entries(data)

    def entries(fields: Iterator[str]) -> tuple[Changeable, ...]:
        return tuple(_entry(drawing, field, written.get(field, "")) for field in fields)

    return (
        *(Group(words, entries(iter(fields))) for words, fields in FIRST),
        Group("Planform and more", entries(iter((*_stations(drawing), *THEN)))),
    )


def _stations(drawing: BladeDrawing) -> Iterator[str]:
    for number in range(1, len(drawing.planform.stations) + 1):
        yield f"planform.stations.{number}.chord"
        yield f"planform.stations.{number}.twist"


def _entry(drawing: BladeDrawing, field: str, text: str) -> Changeable:
    kind = kind_of(drawing, field) or ""
    return Changeable(field, in_words(field), kind, text, _slider(text, kind))


def _slider(text: str, kind: str) -> Slider | None:
    """None where nothing is entered to start from."""
    try:
        number, unit = split(text, kind)
    except (BadInput, KeyError):
        return None
    if unit in EITHER_WAY:
        way, step = EITHER_WAY[unit]
        least, greatest = number - way, number + way
        return Slider(unit, max(least, 0.0) if unit == "%" else least, greatest, step)
    if number == 0.0:
        return None
    step = 10.0 ** math.floor(math.log10(2.0 * SHARE * abs(number) / STEPS))
    least, greatest = sorted((_on(number * (1.0 - SHARE), step), _on(number * (1.0 + SHARE), step)))
    return Slider(unit, least, greatest, step)


def _on(value: float, step: float) -> float:
    """On the slider's own steps, so that what is written has no tail of figures."""
    return float(f"{round(value / step) * step:.6g}")
