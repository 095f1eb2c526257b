"""Entries of a drawing by their dotted field, list members counted from one."""

from pathlib import Path

import pytest

from bladewright.drawing.entries import entry_at, number_at
from bladewright.drawing.file import BladeDrawing, read_drawing

FM31 = Path(__file__).parents[2] / "examples" / "fennmark" / "fm31.toml"


@pytest.fixture(scope="module")
def drawing() -> BladeDrawing:
    return read_drawing(FM31)


@pytest.mark.parametrize(
    ("field", "value"),
    [("reflex.angle", 0.0349066), ("doubler.bolts.2.chordwise", -0.002), ("rotor.speeds.normal", 52.3599)],
)
def test_a_number_is_found_where_the_drawing_has_it(drawing: BladeDrawing, field: str, value: float) -> None:
    assert number_at(drawing, field) == pytest.approx(value, rel=1e-5)


@pytest.mark.parametrize(
    "field",
    ["", "reflex", "reflex.side", "reflex.angel", "doubler.bolts.0.radius", "doubler.bolts.4.radius",
     "doubler.bolts.two.radius", "reflex.angle.deeper", "adhesive.bondline_middle", "__class__", "model_fields"],
)  # fmt: skip
def test_what_is_no_entered_number_is_none(drawing: BladeDrawing, field: str) -> None:
    assert number_at(drawing, field) is None


def test_a_part_is_found_whole(drawing: BladeDrawing) -> None:
    assert entry_at(drawing, "doubler.bolts.1") == drawing.doubler.bolts[0]
