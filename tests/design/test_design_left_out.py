"""An entry left out never makes an answer better without being named as missing. No source needed."""

from pathlib import Path
from typing import Any

import pytest
from pydantic import BaseModel

from bladewright.design.frequencies import frequencies
from bladewright.design.life import life
from bladewright.design.strength_case import strength_case
from bladewright.drawing.blade import Filler
from bladewright.drawing.file import BladeDrawing, read_drawing

FM31 = read_drawing(Path(__file__).parents[2] / "examples" / "fennmark" / "fm31.toml")
LEFT_OUT = (
    "rotor.control",
    "rotor.control.stiffness_low",
    "rotor.precone",
    "rotor.speeds.power_on_greatest",
    "rotor.speeds.power_off_greatest",
)


def without(record: BaseModel, field: str) -> Any:
    """The record with one dotted field not entered."""
    name, _, rest = field.partition(".")
    inner = without(getattr(record, name), rest) if rest else None
    return record.model_copy(update={name: inner})


@pytest.mark.parametrize("field", LEFT_OUT)
def test_what_the_loads_go_without_is_named_in_strength_and_life(field: str) -> None:
    bare: BladeDrawing = without(FM31, field)
    for answer in (strength_case(bare), life(bare)):
        assert field in {need for gap in answer.missing for need in gap.needs}


def test_nothing_of_it_is_missing_in_the_whole_drawing() -> None:
    needs = {need for answer in (strength_case(FM31), life(FM31)) for gap in answer.missing for need in gap.needs}
    assert not needs & set(LEFT_OUT)


def test_a_scatter_from_nobody_knows_how_many_tests_is_told() -> None:
    record = FM31.fatigue["spar-bolt-hole"].model_copy(update={"count": None})
    told = life(FM31.model_copy(update={"fatigue": {"spar-bolt-hole": record}})).findings[0].sentence
    assert "nobody entered how many were tested" in told


def test_one_grip_bolt_is_missing_its_second_and_the_rest_is_answered() -> None:
    assert FM31.doubler is not None
    doubler = FM31.doubler.model_copy(update={"bolts": FM31.doubler.bolts[:1]})
    answer = strength_case(FM31.model_copy(update={"doubler": doubler}))
    assert any(gap.name == "grip bolts" and "two or more" in gap.needs[0] for gap in answer.missing)
    assert answer.margins


def test_a_filler_up_to_the_seam_leaves_a_sliver_of_skin_that_is_still_asked() -> None:
    entered = {"material": "film-epoxy", "front": "27.6 %", "back": "92.9 %", "inner": "0.25 m", "outer": "3.55 m"}
    answer = strength_case(FM31.model_copy(update={"filler": Filler.model_validate(entered)}))
    assert any("buckling" in finding.rule for finding in answer.screens)


@pytest.mark.parametrize("field", ["rotor.collective_least", "rotor.collective_greatest", "rotor.precone"])
def test_modes_say_what_they_took_as_usual(field: str) -> None:
    assert frequencies(FM31).missing == ()
    assert field in {need for gap in frequencies(without(FM31, field)).missing for need in gap.needs}
