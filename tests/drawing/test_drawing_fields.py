"""Every field that holds one value can be named, and a misspelled one meets those it may have meant."""

from pathlib import Path

import pytest

from bladewright.drawing.editing import with_values
from bladewright.drawing.entries import number_at
from bladewright.drawing.fields import field_names, nearest
from bladewright.drawing.file import BladeDrawing, parse_drawing, read_drawing
from bladewright.errors import BadInput

FM31 = Path(__file__).parents[2] / "examples" / "fennmark" / "fm31.toml"


@pytest.fixture(scope="module")
def drawing() -> BladeDrawing:
    return read_drawing(FM31)


def test_names_reach_into_tables_rows_and_materials(drawing: BladeDrawing) -> None:
    names = set(field_names(drawing))
    assert {"reflex.angle", "planform.stations.2.chord", "doubler.bolts.3.diameter", "materials.brass.density"} <= names
    assert {"rotor.control.trim_spring_rate", "trim.tab_angle"} <= names  # not entered, but the drawing has a place
    assert "planform.stations.3.chord" not in names
    assert "section.top" not in names  # a list of points is not one value


def test_a_misspelled_name_meets_its_neighbours(drawing: BladeDrawing) -> None:
    assert nearest("reflx.angle", drawing)[0] == "reflex.angle"
    assert "rotor.control.friction" in nearest("friction", drawing)
    assert nearest("zzzz", drawing) == ()


def test_an_unknown_field_is_refused_by_name() -> None:
    with pytest.raises(BadInput) as caught:
        with_values(FM31.read_bytes(), {"tip_weight.mas": "1 kg"}, "fm31.toml")
    assert (caught.value.file, caught.value.field) == ("fm31.toml", "tip_weight.mas")
    assert caught.value.allowed is not None
    assert "tip_weight.mass" in caught.value.allowed


def test_two_changes_that_only_hold_together_are_taken_together() -> None:
    # a blade longer at once: the planform's last station must move with its tip
    longer = {"planform.tip": "3.60 m", "planform.stations.2.radius": "3.60 m"}
    drawing = parse_drawing(with_values(FM31.read_bytes(), longer), "")
    assert number_at(drawing, "planform.tip") == pytest.approx(3.60)
    with pytest.raises(BadInput):
        with_values(FM31.read_bytes(), {"planform.tip": "3.60 m"})


def test_a_table_that_may_be_left_out_is_added() -> None:
    drawing = parse_drawing(with_values(FM31.read_bytes(), {"trim.tab_inner": "2.0 m"}), "")
    assert number_at(drawing, "trim.tab_inner") == pytest.approx(2.0)
