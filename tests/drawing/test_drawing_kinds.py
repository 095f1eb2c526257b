"""What kind of quantity an entry of the invented drawing is: read off the drawing's own units."""

from pathlib import Path

import pytest

from bladewright.drawing.file import read_drawing
from bladewright.drawing.kinds import kind_of

DRAWING = Path(__file__).resolve().parents[2] / "examples" / "fennmark" / "fm31.toml"


@pytest.mark.parametrize(
    ("field", "kind"),
    [
        ("reflex.angle", "angle"),
        ("reflex.tolerance", "angle"),  # may be left out of a drawing
        ("reflex.loose_skin.angle", "angle"),
        ("skin.top_thickness", "length"),
        ("planform.twist", "angle"),
        ("planform.stations.2.chord", "length"),
        ("tip_weight.mass", "mass"),
        ("rotor.control.trim_spring", "force"),
        ("length root to tip", "length"),  # of the drawing's own list
        ("reflex.angel", None),
        ("planform.stations.9.chord", None),
        ("skin", None),
    ],
)
def test_an_entry_has_the_kind_it_was_declared_with(field: str, kind: str | None) -> None:
    assert kind_of(read_drawing(DRAWING), field) == kind
