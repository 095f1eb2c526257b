"""One entry of a drawing changes; every comment and every other byte stays."""

import difflib
from pathlib import Path

import pytest

from bladewright.drawing.editing import Value, drawn_with, typed_in, with_value, with_values
from bladewright.drawing.file import parse_drawing
from bladewright.errors import BadInput, SeveralBadInputs

FILE = Path(__file__).parents[2] / "examples" / "fennmark" / "fm31.toml"


def test_only_the_one_line_changes_and_its_comment_stays() -> None:
    before = FILE.read_bytes()
    after = with_value(before, "reflex.angle", "2.3 deg", "fm31.toml")
    changed = [
        line
        for line in difflib.ndiff(before.decode().splitlines(), after.decode().splitlines())
        if line[:2] in ("- ", "+ ")
    ]
    assert len(changed) == 2
    assert "of the top skin on the finished blade" in changed[1]
    assert parse_drawing(after, "fm31.toml").reflex is not None


def test_setting_the_same_value_returns_the_same_bytes() -> None:
    before = FILE.read_bytes()
    assert with_value(before, "reflex.angle", "2.0 deg") == before


def test_a_row_of_a_list_is_counted_from_one() -> None:
    after = parse_drawing(with_value(FILE.read_bytes(), "planform.stations.2.twist", "-1.0 deg"), "")
    assert after.planform.stations[1].twist == pytest.approx(-0.017453292519943295)


def test_a_bare_number_is_refused_and_names_the_field() -> None:
    with pytest.raises((BadInput, SeveralBadInputs)) as caught:
        with_value(FILE.read_bytes(), "reflex.angle", 2.3, "fm31.toml")
    error = caught.value.errors[0] if isinstance(caught.value, SeveralBadInputs) else caught.value
    assert (error.file, error.field) == ("fm31.toml", "reflex.angle")


@pytest.mark.parametrize("field", ["reflx.angle", "planform.stations.9.twist", "planform.stations.0.twist"])
def test_a_place_that_is_not_there_is_refused(field: str) -> None:
    with pytest.raises(BadInput) as caught:
        with_value(FILE.read_bytes(), field, "1 deg")
    assert caught.value.field == field
    assert caught.value.allowed


@pytest.mark.parametrize(
    "changes",
    [
        {"reflex.angle": "2.3 deg", "tip_weight.mass": "0.95 kg"},
        {"planform.stations.2.chord": "7.5 in"},
        {"erosion_tape.area_density": "250 g/m^2", "erosion_tape.back": "8 %", "erosion_tape.inner": "1.8 m",
         "erosion_tape.outer": "3.5 m"},
        {"reflex.other_skin_follows": True, "materials.brass.density": "8.4 g/cm^3"},
    ],
)  # fmt: skip
def test_a_drawing_for_an_answer_is_the_one_that_would_be_written(changes: dict[str, Value]) -> None:
    before = FILE.read_bytes()
    assert drawn_with(before, changes) == parse_drawing(with_values(before, changes), "")


@pytest.mark.parametrize("changes", [{"reflex.angle": "3"}, {"skin.top_thickness": "-1 mm"}, {"name": "FM\u202e31"}])
def test_both_refuse_the_same_in_the_same_words(changes: dict[str, Value]) -> None:
    before, said = FILE.read_bytes(), []
    for change in (drawn_with, with_values):
        with pytest.raises(SeveralBadInputs) as caught:
            change(before, changes, "fm31.toml")
        said.append([error.fields() for error in caught.value.errors])
    assert said[0] == said[1]


def test_what_is_typed_for_a_bare_number_is_a_number() -> None:
    drawing = parse_drawing(FILE.read_bytes(), "")
    assert typed_in(drawing, "materials.skin-sheet.poisson_ratio", "0.3") == 0.3
    assert typed_in(drawing, "reflex.other_skin_follows", "true") is True
    assert typed_in(drawing, "reflex.angle", "3") == "3"  # has a unit: stays text, and is refused without one
    assert typed_in(drawing, "title", "3") == "3"
