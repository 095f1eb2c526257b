"""A compared change: what the change itself says must come out, by hand, and nothing that it cannot reach."""

from pathlib import Path

import pytest

from bladewright.design.answers import design_answers
from bladewright.design.compared import Comparison, compared
from bladewright.drawing.editing import with_values
from bladewright.drawing.file import BladeDrawing, parse_drawing

pytestmark = pytest.mark.usefixtures("_thin_sections")
FM31 = Path(__file__).parents[2] / "examples" / "fennmark" / "fm31.toml"


def fm31(**changes: str) -> BladeDrawing:
    named = {field.replace("__", "."): value for field, value in changes.items()}
    return parse_drawing(with_values(FM31.read_bytes(), named), "fm31.toml")


def differences(answer: Comparison) -> dict[str, float]:
    return {row.name: row.difference.value for row in (*answer.moved, *answer.slightly) if row.difference}


def test_more_tip_weight_is_that_much_more_mass_at_its_place() -> None:
    moved = differences(compared(fm31(), fm31(tip_weight__mass="0.950 kg")))
    # 50 g of brass more displaces nothing, spread evenly from 3.25 to 3.51 m
    assert moved["mass"] == pytest.approx(0.050, rel=0.01)
    assert moved["span moment"] == pytest.approx(0.050 * 0.5 * (3.25 + 3.51), rel=0.01)
    assert "section moment coefficient" not in moved


def test_a_longer_pitch_arm_divides_what_the_blades_ask_and_leaves_the_spring() -> None:
    answer = compared(fm31(), fm31(rotor__control__pitch_arm="300 mm"))
    rows = {row.name: row for row in answer.moved}
    whole = rows["handle force, hover, all blades alike"]
    assert whole.old is not None
    assert whole.new is not None
    assert whole.new.value + 3.0 == pytest.approx(0.5 * (whole.old.value + 3.0), rel=1e-12)  # 3 N of trim spring
    assert "hover: trim spring" in {row.name for row in answer.still}
    assert "mass" in {row.name for row in answer.still}


def test_the_same_drawing_moves_nothing_and_every_answer_is_there() -> None:
    answer = compared(fm31(), fm31())
    assert (answer.moved, answer.slightly) == ((), ())
    assert {row.name for row in answer.still} == set(design_answers(fm31())[0])


def test_an_answer_that_falls_away_is_shown_with_what_it_was() -> None:
    bare = fm31().model_copy(update={"rotor": None})
    answer = compared(fm31(), bare)
    gone = {row.name: row for row in answer.moved}["handle force, hover, all blades alike"]
    assert gone.old is not None
    assert gone.new is None
    assert gone.difference is None
    assert any("rotor" in gap.needs for gap in answer.missing)


def test_a_difference_claims_no_uncertainty_it_does_not_have() -> None:
    for row in compared(fm31(), fm31(reflex__angle="2.3 deg")).moved:
        assert row.difference is None or row.difference.uncertainty is None
