"""What is left out of a drawing is known to be missing, and named."""

from pathlib import Path

import pytest

from bladewright.drawing.file import BladeDrawing, read_drawing
from bladewright.drawing.missing import NEEDS, what_is_missing

DRAWING = read_drawing(Path(__file__).parents[2] / "examples" / "fennmark" / "fm31.toml")


def test_the_whole_drawing_misses_nothing() -> None:
    assert what_is_missing(DRAWING) == ()


@pytest.mark.parametrize("part", ["spar", "reflex", "doubler", "tip_weight", "adhesive", "finish", "rotor"])
def test_a_part_left_out_is_named_by_every_answer_that_needs_it(part: str) -> None:
    missing = what_is_missing(DRAWING.model_copy(update={part: None}))
    needing = {answer for answer, entries in NEEDS.items() if any(entry.split(".")[0] == part for entry in entries)}
    assert {item.name for item in missing} == needing
    assert all(item.needs == (part,) for item in missing)


def test_every_entry_is_a_field_of_the_drawing() -> None:
    for entries in NEEDS.values():
        for entry in entries:
            value: object = DRAWING
            for name in entry.split("."):
                assert name in type(value).model_fields, entry  # type: ignore[attr-defined]
                value = getattr(value, name)
    assert isinstance(DRAWING, BladeDrawing)
