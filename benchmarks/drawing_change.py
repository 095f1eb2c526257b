"""A change tried on the drawing page against the commands that give the same numbers, each asked from the file.

``compare-change`` answers both drawings anew and ``flutter`` works out every state of the blade; the page keeps the
drawn blade's answers and the section's tables, and asks flutter of the blade as drawn. The numbers are the same. The
aim of a fifth of a second is printed beside what it takes: an aim, not a goal, because it depends on the machine.
"""

import time
from collections.abc import Callable, Iterator
from pathlib import Path

from benchmarks.side_by_side import Line, line
from bladewright.design.compared import compared
from bladewright.design.drawn_answers import answers_with, headlines
from bladewright.design.flutter_margin import flutter_margin
from bladewright.drawing.editing import with_values
from bladewright.drawing.file import parse_drawing

FM31 = Path(__file__).parents[1] / "examples" / "fennmark" / "fm31.toml"
AIM = 0.2  # [s]
#: reflex, tip weight, spar place, skin thickness: what is tried first
CHANGES = (
    ("reflex.angle", ("2.3 deg", "2.6 deg", "1.7 deg")),
    ("tip_weight.mass", ("0.95 kg", "0.85 kg", "1.0 kg")),
    ("spar.web_place", ("27 %", "26.5 %", "25.5 %")),
    ("skin.top_thickness", ("0.027 in", "0.026 in", "0.028 in")),
)
GOAL = "<= 0.25"


def _seconds(work: Callable[[], object]) -> float:
    """Of the processor: other work on the machine does not count."""
    start = time.process_time()
    work()
    return time.process_time() - start


def _command(data: bytes, field: str, text: str) -> object:
    changed = parse_drawing(with_values(data, {field: text}), "")
    return compared(parse_drawing(data, ""), changed), flutter_margin(changed)


def _page(data: bytes, field: str, text: str) -> object:
    return headlines(answers_with(data), answers_with(data, ((field, text),)))


def run() -> list[Line]:
    """One line for each kind of change; tables of the section are worked out before, and that is not counted."""
    return list(_lines(FM31.read_bytes()))


def _lines(data: bytes) -> Iterator[Line]:
    for field, texts in CHANGES:
        for text in texts:
            _command(data, field, text)
        answers_with(data)
        ours = min(_seconds(lambda field=field, text=text: _page(data, field, text)) for text in texts)
        other = min(_seconds(lambda field=field, text=text: _command(data, field, text)) for text in texts)
        print(f"a change of {field}, everything answered: {1e3 * ours:.0f} ms of one core; aim {1e3 * AIM:.0f} ms")
        yield line(f"a change of {field} on the page, against the commands", ours, other, GOAL)


if __name__ == "__main__":
    for measured in run():
        print(measured)
