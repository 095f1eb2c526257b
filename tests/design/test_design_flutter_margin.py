"""The flutter margin of the drawn blade: service moves it as the trade says, and nothing is forgiven."""

from pathlib import Path

import numpy as np
import pytest

from bladewright.design.control_runs import LOOSE
from bladewright.design.flutter_cases import AS_DRAWN, FAST, LOST
from bladewright.design.flutter_charts import flutter_charts
from bladewright.design.flutter_margin import FlutterMargin, flutter_margin
from bladewright.drawing.editing import with_values
from bladewright.drawing.file import BladeDrawing, parse_drawing
from bladewright.drawing.limits import AddedMass
from bladewright.errors import BadInput, OutsideValidity
from bladewright.figures import Bars, Chart, Outcome

FM31 = (Path(__file__).parents[2] / "examples" / "fennmark" / "fm31.toml").read_bytes()


def fm31(changes: dict[str, str | float | bool] | None = None) -> BladeDrawing:
    return parse_drawing(with_values(FM31, changes or {}), "fm31.toml")


def coat(**entries: str) -> AddedMass:
    return AddedMass.model_validate({"name": "coat", "area_density": "110 g/m^2"} | entries)


@pytest.fixture(scope="module")
def found() -> FlutterMargin:
    return flutter_margin(fm31())


def aft(found: FlutterMargin, name: str, *, slack: bool = False) -> float:
    value = next(case.aft for case in found.cases if case.name == name and case.slack == slack)
    assert value is not None
    return value


def test_the_two_offsets_stand_apart_from_each_other(found: FlutterMargin) -> None:
    names = [figure.name for figure in found.figures[:2]]
    assert names == [
        "centre of mass weighted by radius, aft of the feathering axis",
        "aerodynamic centre, aft of the feathering axis",
    ]


def test_mass_aft_takes_from_the_margin_and_mass_ahead_gives(found: FlutterMargin) -> None:
    drawn = aft(found, AS_DRAWN)
    assert aft(found, "water in the trailing-edge seam") < drawn
    assert aft(found, "a second coat of paint") < drawn
    assert aft(found, "erosion tape") > drawn
    assert aft(found, LOST) < drawn  # it is ahead of the feathering axis


def test_the_softer_run_is_worse_and_the_slack_the_worst(found: FlutterMargin) -> None:
    assert aft(found, AS_DRAWN, slack=True) < aft(found, AS_DRAWN)
    held = next(case for case in found.cases if case.name == AS_DRAWN and not case.slack)
    assert held.onset is not None
    assert held.onset.control == "soft control run"
    assert held.onset.speed == max(onset.speed for onset in held.onsets)  # the factor on the greatest is looked at


def test_a_control_run_without_slack_is_not_judged_loose() -> None:
    tight = flutter_margin(fm31({"rotor.control.backlash": "0 deg"}))
    assert not any(case.slack for case in tight.cases)


def test_slack_that_is_not_entered_is_taken_as_loose_and_never_forgiven() -> None:
    drawing = fm31()
    assert drawing.rotor is not None
    assert drawing.rotor.control is not None
    control = drawing.rotor.control.model_copy(update={"backlash": None})
    open_ended = flutter_margin(
        drawing.model_copy(update={"rotor": drawing.rotor.model_copy(update={"control": control})})
    )
    assert ("rotor.control.backlash",) in [gap.needs for gap in open_ended.missing]
    outcomes = {one.rule: one.outcome for one in open_ended.findings}
    short = [
        case for case in open_ended.cases if case.slack and (case.aft or 0.0) < (0.0 if case.name == LOST else 2e-3)
    ]
    assert len(short) >= 2
    assert {outcomes[f"flutter and divergence, within the slack, {case.name}"] for case in short} == {Outcome.FAIL}
    assert all(onset.control == LOOSE for case in open_ended.cases if case.slack for onset in case.onsets)


def test_short_of_what_is_asked_fails_and_enough_passes_only_by_more_than_it_is_known_to(found: FlutterMargin) -> None:
    asked = flutter_margin(fm31({"limits.flutter.centre_margin": "20 mm"}))
    held = [one for one in asked.findings if "held" in one.rule and LOST not in one.rule]
    assert {one.outcome for one in held} == {Outcome.FAIL}
    assert all(one.limit == "at least 20 mm" and one.worst is not None and not one.deviable for one in held)
    outcomes = {one.rule: one.outcome for one in found.findings}
    for case in found.cases:
        if not case.slack and case.name not in (LOST, FAST):
            assert case.aft is not None
            assert case.spread is not None
            sure = case.aft - case.spread >= 2e-3
            assert outcomes[f"flutter and divergence, held, {case.name}"] is (Outcome.PASS if sure else Outcome.REFER)


def test_the_uncertainty_is_how_far_the_stiff_blade_stands_from_the_bending_one(found: FlutterMargin) -> None:
    drawn = found.cases[0]
    assert drawn.aft is not None
    assert drawn.stiff is not None
    assert drawn.spread == pytest.approx(abs(drawn.aft - drawn.stiff))
    assert 0.0 < drawn.aft < drawn.stiff  # bending and twisting take from what a stiff blade has
    told = next(figure for figure in found.figures if figure.name.startswith(f"{AS_DRAWN}: mass"))
    assert told.uncertainty == pytest.approx(1e3 * drawn.spread)


def test_of_a_blade_that_lost_its_tip_weight_only_where_it_may_turn_is_asked(found: FlutterMargin) -> None:
    lost = next(case for case in found.cases if case.name == LOST and not case.slack)
    assert max(onset.speed for onset in lost.onsets) == pytest.approx(540.0 * np.pi / 30.0)
    finding = next(one for one in found.findings if one.rule == f"flutter and divergence, held, {LOST}")
    assert finding.limit == "at least 0 mm up to the greatest rotor speed"


def test_without_limits_the_margin_is_found_and_not_judged() -> None:
    drawing = fm31()
    bare = flutter_margin(drawing.model_copy(update={"limits": drawing.limits.model_copy(update={"flutter": None})}))
    assert bare.findings == ()
    assert [gap.needs for gap in bare.missing] == [("limits.flutter",)]
    assert any(figure.name.startswith(f"{AS_DRAWN}: mass") for figure in bare.figures)


@pytest.mark.parametrize(("part", "need"), [("rotor", "rotor"), ("spar", "spar"), ("adhesive", "adhesive")])
def test_what_is_not_drawn_is_named(part: str, need: str) -> None:
    bare = flutter_margin(fm31().model_copy(update={part: None}))
    assert bare.findings == ()
    assert need in [name for gap in bare.missing for name in gap.needs]


def test_a_coat_asked_about_stands_beside_the_blade_as_drawn() -> None:
    found = flutter_margin(fm31(), [coat(front="25 %")])
    assert [case.name for case in found.cases if not case.slack] == [AS_DRAWN, "coat"]
    assert aft(found, "coat") < aft(found, AS_DRAWN)


def test_a_change_off_the_blade_is_refused_by_its_own_field() -> None:
    with pytest.raises(BadInput) as caught:
        flutter_margin(fm31({"limits.flutter.changes.3.inner": "0.1 m"}))
    assert caught.value.field == "limits.flutter.changes.3"


def test_a_tip_near_the_speed_of_sound_is_refused() -> None:
    with pytest.raises(OutsideValidity) as caught:
        flutter_margin(fm31({"limits.flutter.speed_factor": 1.5}))
    assert caught.value.field == "limits.flutter.speed_factor"
    assert caught.value.allowed == "a tip up to Mach 0.8"


def test_forward_flight_takes_from_the_margin_and_is_never_more_than_a_screen(found: FlutterMargin) -> None:
    assert aft(found, FAST) < aft(found, AS_DRAWN)
    finding = next(one for one in found.findings if one.rule == f"flutter and divergence, held, {FAST}")
    assert finding.outcome is Outcome.REFER
    assert finding.worst is not None
    assert finding.worst.uncertainty is None


def test_without_a_never_exceed_speed_it_is_named() -> None:
    drawing = fm31()
    assert drawing.rotor is not None
    slow = drawing.rotor.model_copy(update={"never_exceed_speed": None})
    bare = flutter_margin(drawing.model_copy(update={"rotor": slow}))
    assert [gap.needs for gap in bare.missing] == [("rotor.never_exceed_speed",)]


def test_the_lift_may_move_ahead_by_something_too(found: FlutterMargin) -> None:
    ahead = next(figure for figure in found.figures if "aerodynamic centre may move ahead" in figure.name)
    assert 0.0 < ahead.value <= 40.0


def test_pictures_show_the_speed_and_the_states(found: FlutterMargin) -> None:
    chart, bars = flutter_charts(found)
    assert isinstance(chart, Chart)
    assert isinstance(bars, Bars)
    assert [level.at for level in chart.levels] == [2.0]
    assert len(bars.rows) == len(found.cases)
    assert flutter_charts(flutter_margin(fm31().model_copy(update={"rotor": None}))) == ()
