"""Small logs with outcomes worked by hand. Band, rates, window: common practice, no source; the rest is arithmetic."""

import dataclasses

import numpy as np
import pytest

from bladewright.drawing.limits import CureLimits
from bladewright.evidence.cure_log import read_cure_log
from bladewright.evidence.description import parse_logger_description
from bladewright.figures import Finding, Outcome
from bladewright.proof.cure import judge_cure
from bladewright.proof.dwell import dwell_of
from bladewright.selfcheck import astm_d1876, hand_worked_cure_logs, iso_10365
from bladewright.selfcheck.case import Case
from bladewright.selfcheck.hand_worked_cure_logs import APART, DEAD_AND_FROZEN, DIP, GOOD, HOLE, NOISY, TOUCHED, Worked

PASS, REFER, FAIL = Outcome.PASS, Outcome.REFER, Outcome.FAIL


def finding(case: Worked, rule: str) -> Finding:
    (found,) = [item for item in judge_cure(case.log, case.limits) if item.rule == rule]
    return found


@pytest.mark.outside
@pytest.mark.parametrize(
    "case", [*hand_worked_cure_logs.CASES, *astm_d1876.CASES, *iso_10365.CASES], ids=lambda case: case.quantity
)
def test_numbers_worked_by_hand(case: Case) -> None:
    assert case.ours() == pytest.approx(case.published, abs=case.band)


@pytest.mark.parametrize(
    ("case", "rule", "outcome"),
    [
        (GOOD, "cure: ramp", PASS),
        (GOOD, "cure: dwell", PASS),
        (GOOD, "cure: spread", PASS),
        (GOOD, "cure: holes in the log", PASS),
        (GOOD, "cure: mould sensors", PASS),
        (NOISY, "cure: ramp", PASS),  # neighbouring samples alone would make 3.9 of the 2.8 allowed
        (NOISY, "cure: dwell", FAIL),
        (DIP, "cure: dwell", FAIL),  # two runs of 35 min are not 70
        (HOLE, "cure: dwell", FAIL),  # 90 min with the hole bridged
        (HOLE, "cure: holes in the log", REFER),
        (DEAD_AND_FROZEN, "cure: dwell", REFER),
        (DEAD_AND_FROZEN, "cure: mould sensors", REFER),
        (APART, "cure: dwell", PASS),  # exactly what is asked
        (APART, "cure: spread", FAIL),
        (TOUCHED, "cure: dwell", PASS),  # 245.0 and 255.0 degF are in
        (TOUCHED, "cure: spread", PASS),
        (TOUCHED, "cure: ramp", PASS),
    ],
)
def test_outcomes_worked_by_hand(case: Worked, rule: str, outcome: Outcome) -> None:
    assert finding(case, rule).outcome is outcome


def test_the_good_logs_fastest_rise_is_where_the_table_has_it() -> None:
    (where,) = finding(GOOD, "cure: ramp").where
    assert (where.channel, where.row, where.time, where.until) == ("Z3", 4, "600 s", "1200 s")


def test_the_hole_is_named() -> None:
    (where,) = finding(HOLE, "cure: holes in the log").where
    assert (where.time, where.until) == ("2400 s", "3900 s")


def test_the_dead_and_the_frozen_sensor_are_named_with_their_times() -> None:
    found = finding(DEAD_AND_FROZEN, "cure: mould sensors")
    places = [(where.channel, where.time, where.until) for where in found.where]
    assert places == [("Z3", "1800 s", "5400 s"), ("Z2", "1800 s", "3900 s")]


def test_leaving_the_dead_sensor_out_still_leaves_the_frozen_one() -> None:
    log = DEAD_AND_FROZEN.log
    two = dataclasses.replace(log, channels=log.channels[:2], values=log.values[:, :2])
    assert finding(Worked(two, DEAD_AND_FROZEN.limits, "degC"), "cure: dwell").outcome is REFER
    one = dataclasses.replace(log, channels=log.channels[:1], values=log.values[:, :1])
    alone = dwell_of(one, DEAD_AND_FROZEN.limits)
    assert alone is not None
    assert alone.seconds == 70.0 * 60.0


def test_the_spread_is_named_by_sensors_and_time() -> None:
    found = finding(APART, "cure: spread")
    (where,) = found.where
    assert (where.channel, where.time) == ("Z4, Z3", "1500 s")


LOCAL = """time;Z1;Z2
2024-11-03 00:50;112.0;111.1
2024-11-03 01:00;117.8;116.9
2024-11-03 01:10;119.9;119.0
2024-11-03 01:20;120.8;120.1
2024-11-03 01:30;121.0;120.4
2024-11-03 01:40;121.1;120.5
2024-11-03 01:50;121.0;120.4
2024-11-03 01:00;121.2;120.5
2024-11-03 01:10;121.0;120.3
2024-11-03 01:20;120.9;120.2
2024-11-03 01:30;121.0;120.4
2024-11-03 01:40;113.8;112.9
"""
DESCRIPTION = """
format = 1
name = "local clock"
[file]
encoding = "utf-8"
delimiter = "semicolon"
decimal_mark = "point"
[table]
names_row = 1
first_row = 2
[time]
columns = ["time"]
format = "%Y-%m-%d %H:%M"
zone = "America/New_York"
ORDER
[[columns]]
column = "Z1"
role = "mould"
unit = "degC"
[[columns]]
column = "Z2"
role = "mould"
unit = "degC"
"""


def put_back(order: str) -> Worked:
    """A log through the night the clock is put back (IANA time zone database: 2024-11-03 02:00 is 01:00 again)."""
    description = parse_logger_description(DESCRIPTION.replace("ORDER", order).encode(), "local.toml")
    log = read_cure_log(LOCAL.encode(), description, "local.csv")
    limits = GOOD.limits.model_copy(update={"sample_interval": 600.0, "ramp_window": 1200.0})
    return Worked(log, limits, "degC")


def test_the_dwell_is_counted_in_utc_when_the_clock_is_put_back() -> None:
    case = put_back("file_order_is_time_order = true")
    dwell = dwell_of(case.log, case.limits)
    assert dwell is not None
    assert dwell.seconds == 80.0 * 60.0  # 20 min by the local stamps
    assert dwell.crossed / 60.0 == pytest.approx(87.962, abs=1e-3)
    assert case.log.time_of(dwell.first) == "2024-11-03T05:10:00Z"
    assert case.log.time_of(dwell.last) == "2024-11-03T06:30:00Z"
    clock = finding(case, "cure: clock")
    assert clock.outcome is PASS
    assert clock.where  # the repeated hour is said, with its row
    assert finding(case, "cure: dwell").outcome is PASS


def test_a_log_whose_order_is_not_certain_is_referred() -> None:
    case = put_back("file_order_is_time_order = true")
    uncertain = Worked(dataclasses.replace(case.log, order_certain=False), case.limits, "degC")
    assert finding(uncertain, "cure: clock").outcome is REFER


def test_a_limit_that_is_not_entered_is_said_and_is_no_pass() -> None:
    missing = {item.rule for item in judge_cure(GOOD.log, GOOD.limits) if item.outcome is Outcome.MISSING}
    optional = {name for name, field in CureLimits.model_fields.items() if field.default is None and name != "source"}
    assert {"cure: overshoot", "cure: heaters", "cure: pressure", "cure: sensor uncertainty"} <= missing
    said = " ".join(item.sentence for item in judge_cure(GOOD.log, GOOD.limits) if item.outcome is Outcome.MISSING)
    assert {name for name in optional if f"limits.cure.{name}" not in said} <= {
        "ramp_from",  # asked for once the least ramp is entered
        "gel_temperature",  # not entered counts as pressure lost before gel
        "hold",  # asked of a plan; no log breaks it
        "degree_of_cure_least",  # asked where a fault's cost is weighed, and named there
    }


def test_the_sensors_uncertainty_refers_a_dwell_that_it_could_undo() -> None:
    limits = APART.limits.model_copy(update={"sensor_uncertainty": 0.5})
    found = finding(Worked(APART.log, limits, "degC"), "cure: dwell")
    assert found.outcome is REFER  # Z3 reads 118.2 where 118.0 is the floor
    assert found.worst is not None
    assert found.worst.uncertainty is not None
    assert np.isfinite(found.worst.uncertainty)
