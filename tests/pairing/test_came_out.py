"""A batch that came out different: felt by all alike and by one, and never passed where nobody said how well known."""

from dataclasses import replace
from pathlib import Path

import numpy as np
import pytest

from bladewright.design.as_built import as_built
from bladewright.design.measured_off import measured_off
from bladewright.drawing.file import parse_drawing
from bladewright.errors import BadInput
from bladewright.figures import Outcome
from bladewright.pairing.came_out import came_out

DRAWING = parse_drawing((Path(__file__).parents[2] / "examples" / "fennmark" / "fm31.toml").read_bytes(), "fm31.toml")
OFF = measured_off(DRAWING, "reflex.angle", off="0.3 deg", uncertainty="0.05 deg")


def test_reflex_up_lightens_the_lever_and_one_blade_does_half_of_two() -> None:
    hover = came_out(DRAWING, [OFF]).felt[0]
    assert hover.words == "lighter"
    assert hover.one is not None
    assert hover.one.value == pytest.approx(0.5 * hover.all_alike.value)
    assert hover.size.value == -hover.all_alike.value


def test_the_effects_are_those_of_the_one_door() -> None:
    assert came_out(DRAWING, [OFF]).built.effects == as_built(DRAWING, [OFF]).effects


def test_unlike_mates_are_compared_by_the_drawing_s_limits() -> None:
    found = came_out(DRAWING, [OFF])
    moment = next(finding for finding in found.with_drawn if "section moment" in finding.rule)
    assert moment.limit == "0.001"
    assert moment.worst is not None
    assert (moment.outcome is Outcome.FAIL) == (moment.worst.value > 0.001)
    assert {finding.rule for finding in found.with_drawn} == {finding.rule for finding in found.with_each_other}


def test_nothing_passes_for_certain_where_nobody_said_how_well_it_was_measured() -> None:
    unknown = came_out(DRAWING, [replace(OFF, uncertainty=None)])
    assert Outcome.PASS not in {finding.outcome for finding in (*unknown.with_drawn, *unknown.with_each_other)}
    assert any("span moment" in gap.name for gap in unknown.missing)


def test_without_limits_for_mates_the_answer_is_missing_and_not_kind() -> None:
    bare = DRAWING.model_copy(update={"limits": DRAWING.limits.model_copy(update={"match": None})})
    found = came_out(bare, [OFF])
    assert (found.with_drawn, found.with_each_other) == ((), ())
    assert any(gap.needs == ("limits.match",) for gap in found.missing)


def test_what_is_typed_is_read_with_its_unit_from_the_drawing_or_alone() -> None:
    assert OFF.value == pytest.approx(np.radians(2.3))
    assert OFF.uncertainty == pytest.approx(np.radians(0.05))
    assert measured_off(DRAWING, "reflex.angle", value="2.3 deg").value == pytest.approx(OFF.value)
    twist = measured_off(DRAWING, "planform.twist", off="-0.1 deg", station="1.9 m")
    assert twist.value == pytest.approx(np.radians(0.8 - 0.1))  # half-way from 2.8 to -1.2 deg
    assert twist.station == 1.9


@pytest.mark.parametrize(
    ("texts", "field"),
    [
        ({"field": "reflex.angle", "off": "0.3"}, "off"),
        ({"field": "reflex.angle", "value": "2 kg"}, "value"),
        ({"field": "reflex.angle"}, "value"),
        ({"field": "reflex.angle", "value": "2.3 deg", "off": "0.3 deg"}, "value"),
        ({"field": "reflex.angle", "off": "0.3 deg", "uncertainty": "little"}, "uncertainty"),
        ({"field": "planform.twist", "off": "0.3 deg"}, "station"),
        ({"field": "reflex.bend", "off": "0.3 deg"}, "field"),
    ],
)
def test_what_cannot_be_read_is_named_by_its_entry(texts: dict[str, str], field: str) -> None:
    with pytest.raises(BadInput) as caught:
        measured_off(DRAWING, **texts)  # type: ignore[arg-type]
    assert caught.value.field == field
    assert caught.value.allowed
