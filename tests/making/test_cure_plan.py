"""The plan against the rules that judge a log, against its own neighbours, and against limits nothing can keep."""

from collections.abc import Callable

import numpy as np
import pytest

from bladewright.drawing.file import BladeDrawing
from bladewright.engine.arrays import Floats
from bladewright.errors import BadInput, MissingInput, SeveralBadInputs
from bladewright.evidence.records import Channel, CureLog, Source
from bladewright.figures import Finding, Outcome
from bladewright.making.cure_plan import CurePlan, plan_as_set, plan_cure
from bladewright.proof.cure import judge_cure
from bladewright.units import from_si, to_si

Change = Callable[[dict[str, str]], BladeDrawing]
PSI = 6894.757293168  # [Pa] exact by definition to the digits given


def as_log(plan: CurePlan, run: int) -> CureLog:
    """One drawn run as a logger would have written it, pressure as the process asks."""
    roles = [*(("mould", z) for z in range(1, 7)), *(("heater", z) for z in range(1, 7))]
    channels = tuple(Channel(f"{role} {zone}", role, str(zone)) for role, zone in roles)  # type: ignore[arg-type]
    seconds = plan.shown.seconds
    pressure: Floats = np.full((len(seconds), 1), 42.0 * PSI)
    readings = np.concatenate((plan.shown.mould[run].T, plan.shown.heater[run].T, pressure), axis=1)
    rows = np.arange(1, len(seconds) + 1)
    return CureLog(
        Source("plan", ""), "plan", None, seconds, (*channels, Channel("bladder", "pressure")), readings, rows
    )


@pytest.mark.parametrize("run", [0, 17, 99, 199])
def test_a_run_of_the_plan_passes_every_rule_that_judges_a_log(plan: CurePlan, run: int) -> None:
    findings = judge_cure(as_log(plan, run), plan.limits)
    assert [(f.rule, f.sentence) for f in findings if f.outcome is not Outcome.PASS] == []


def test_the_plan_keeps_every_limit_and_says_what_it_rests_on(plan: CurePlan) -> None:
    assert plan.meets_all
    assert len(plan.findings) == 10
    assert plan.not_asked == ()
    degree = rule(plan, "lowest degree of cure")
    assert degree.worst is not None
    assert not degree.worst.validated  # the film's kinetics have no source
    assert degree.worst.inside_validity
    assert [rest.on for rest in plan.rests if not rest.source] == ["adhesive.kinetics"]


def rule(plan: CurePlan, name: str) -> Finding:
    (found,) = (finding for finding in plan.findings if finding.rule == f"plan: {name}")
    return found


@pytest.mark.parametrize(
    ("limit", "value", "slower"),
    [
        ("limits.cure.ramp_greatest", "3 degF/min", "ramp"),
        ("limits.cure.heater_lag_greatest", "35 degF", "ramp"),
        ("limits.cure.cool_greatest", "2 degF/min", "cool"),
    ],
)
def test_a_tighter_limit_makes_a_slower_plan_that_keeps_it(
    plan: CurePlan, changed: Change, limit: str, value: str, slower: str
) -> None:
    tight = plan_cure(changed({limit: value}))
    assert tight.meets_all
    assert getattr(tight.schedule, slower) < getattr(plan.schedule, slower)


def test_the_ramp_is_the_limit_less_what_the_sensors_leave_open_where_nothing_else_binds(changed: Change) -> None:
    wide = {"limits.cure.heater_lag_greatest": "200 degF", "limits.cure.heater_greatest": "500 degF"}
    found = plan_cure(changed({**wide, "limits.cure.ramp_greatest": "2 degF/min"}))
    margin = np.sqrt(2.0) * 1.0 / 10.0  # [degF/min] two readings within 1 degF, ten minutes apart; closed form
    asked = from_si(found.schedule.ramp, "degF/min", "temperature rate")
    assert 2.0 - margin - 0.15 < asked <= 2.0 - margin


def test_the_dwell_is_as_long_as_the_film_needs_and_no_longer(plan: CurePlan, changed: Change) -> None:
    assert plan.schedule.dwell > to_si("60 min", "time")
    easy = plan_cure(changed({"limits.cure.degree_of_cure_least": "50 %"}))
    proven = rule(easy, "dwell proven").worst
    assert proven is not None
    assert 60.0 <= proven.value <= 61.0  # whole minutes
    assert easy.schedule.dwell < plan.schedule.dwell


def test_limits_that_nothing_keeps_give_no_plan_to_run(changed: Change) -> None:
    cold = plan_cure(changed({"limits.cure.heater_greatest": "251 degF"}))
    assert not cold.meets_all
    assert rule(cold, "hottest heater").outcome is Outcome.FAIL


def test_a_hold_that_is_entered_is_kept(changed: Change) -> None:
    hold = {"limits.cure.hold.temperature": "180 degF", "limits.cure.hold.least": "20 min"}
    found = plan_cure(changed({**hold, "limits.cure.ramp_from": "190 degF"}))
    assert found.meets_all
    assert found.schedule.hold == to_si("20 min", "time")
    at = to_si("180 degF", "temperature")
    near = (np.abs(found.shown.mould - at) < 1.5).all(axis=1)
    assert (near.sum(axis=1) >= 15).all()  # minutes that every zone is there
    assert (found.shown.seconds[-1] > 0).all()


@pytest.mark.parametrize(
    ("line", "field"),
    [
        ("release =", "limits.cure.release"),
        ("sensor_uncertainty =", "limits.cure.sensor_uncertainty"),
        ("scatter =", "oven.scatter"),
        ("room =", "oven.room"),
        ("heater_greatest =", "limits.cure.heater_greatest"),
    ],
)
def test_what_is_not_entered_is_named(without: Callable[[str], BladeDrawing], line: str, field: str) -> None:
    with pytest.raises(MissingInput) as missing:
        plan_cure(without(line))
    assert missing.value.field == field


def test_all_that_is_missing_is_named_at_once(fm31: BladeDrawing) -> None:
    bare = fm31.model_copy(update={"oven": None, "limits": fm31.limits.model_copy(update={"cure": None})})
    with pytest.raises(SeveralBadInputs) as missing:
        plan_cure(bare)
    assert {"oven", "limits.cure"} <= {error.field for error in missing.value.errors}


def test_what_nobody_entered_is_not_kept_and_that_is_said(without: Callable[[str], BladeDrawing]) -> None:
    assert plan_cure(without("dwell_greatest =")).not_asked == ("limits.cure.dwell_greatest",)


def test_a_hold_needs_both_its_entries(changed: Change) -> None:
    with pytest.raises(SeveralBadInputs) as half:
        changed({"schedule.hold": "20 min"})
    assert half.value.errors[0].allowed == "both or neither"
    with pytest.raises(BadInput):
        changed({"schedule.ramp": "-3 degF/min"})


@pytest.mark.parametrize(
    ("field", "value"),
    [
        ("limits.cure.release", "40 degF"),
        ("limits.cure.release", "400 degF"),
        ("limits.cure.cool_greatest", "0.001 degF/min"),
        ("limits.cure.cool_greatest", "-1 degF/min"),
        ("limits.cure.ramp_greatest", "-3 degF/min"),
        ("limits.cure.ramp_window", "0 min"),
        ("limits.cure.ramp_window", "10 d"),
        ("limits.cure.dwell_least", "0 min"),
        ("limits.cure.below", "-5 degF"),
        ("limits.cure.sensor_uncertainty", "-1 degF"),
    ],
)
def test_a_limit_no_run_could_be_planned_by_is_refused_by_field(changed: Change, field: str, value: str) -> None:
    with pytest.raises(BadInput) as refused:
        plan_cure(changed({field: value}))
    error = refused.value.errors[0] if isinstance(refused.value, SeveralBadInputs) else refused.value
    assert error.field == field
    assert error.allowed


def test_a_hold_out_of_the_way_is_refused(changed: Change) -> None:
    for temperature in ("10 degF", "300 degF"):
        hold = {"limits.cure.hold.temperature": temperature, "limits.cure.hold.least": "20 min"}
        with pytest.raises(BadInput) as refused:
            plan_cure(changed(hold))
        assert refused.value.field == "limits.cure.hold.temperature"


def test_a_control_too_quick_for_the_simulation_is_refused_by_its_entry(changed: Change) -> None:
    with pytest.raises(BadInput) as refused:
        plan_cure(changed({"oven.assumed_reset": "1 s"}))
    assert refused.value.field == "oven.assumed_gain"


def test_a_schedule_somebody_chose_is_held_to_the_same_limits(fm31: BladeDrawing, plan: CurePlan) -> None:
    again = plan_as_set(fm31, plan.schedule)
    assert again.findings == plan.findings
    hasty = plan_as_set(fm31, plan.schedule.model_copy(update={"ramp": 2.0 * plan.schedule.ramp}))
    assert not hasty.meets_all
    assert any(one.rule == "plan: fastest rise" and one.outcome is Outcome.FAIL for one in hasty.findings)
