"""Each rule of the cure, by spoiling one thing in a log that is otherwise good."""

import dataclasses
from collections.abc import Callable

import numpy as np
import pytest

from bladewright.evidence.records import CureLog, Floats
from bladewright.figures import Finding, Outcome
from bladewright.proof.cure import RULES, judge_cure
from tests.proof.invented_blade import DRAWING, PSI, changed, good_cure, kelvin

Spoil = Callable[[Floats, Floats], Floats]
PASS, REFER, FAIL, MISSING = Outcome.PASS, Outcome.REFER, Outcome.FAIL, Outcome.MISSING
LIMITS = DRAWING.limits.cure
assert LIMITS is not None


def outcomes(log: CureLog, **limits: object) -> dict[str, Finding]:
    assert LIMITS is not None
    return {finding.rule: finding for finding in judge_cure(log, LIMITS.model_copy(update=limits))}


def against(found: dict[str, Finding]) -> dict[str, Outcome]:
    return {rule: finding.outcome for rule, finding in found.items() if finding.outcome is not PASS}


def test_a_good_cure_passes_every_rule() -> None:
    found = outcomes(good_cure())
    assert len(found) == len(RULES)
    assert against(found) == {}
    assert all(finding.limit and finding.sentence for finding in found.values())
    assert all(not finding.next_step for finding in found.values())


DEGREE = 5.0 / 9.0  # [K]


@pytest.mark.parametrize(
    ("channel", "spoil", "expected"),
    [
        ("M1", lambda m, t: np.where(m == 100, kelvin(259.5), t), {"cure: overshoot": REFER, "cure: dwell": FAIL}),
        ("M1", lambda m, t: np.where(m == 100, kelvin(260.1), t), {"cure: overshoot": FAIL, "cure: dwell": FAIL}),
        ("M3", lambda m, t: t + 20.0 * DEGREE * ((m > 30) & (m < 33)), {"cure: ramp": FAIL}),
        ("H2", lambda m, t: np.where(m == 90, kelvin(301.0), t), {"cure: heaters": FAIL, "cure: heater lag": FAIL}),
        ("H2", lambda m, t: t + 40.0 * DEGREE * (m == 30), {"cure: heater lag": FAIL}),
        ("H2", lambda m, t: np.where(m > 98, np.nan, t), {"cure: heaters": REFER}),
        ("bladder", lambda m, p: np.where(m < 20, 0.0, p), {"cure: pressure": FAIL}),
        ("bladder", lambda m, p: np.where(m == 100, 34.0 * PSI, p), {"cure: pressure": FAIL}),
        ("bladder", lambda m, p: np.where(m == 100, np.nan, p), {"cure: pressure": REFER}),
        ("bladder", lambda m, p: np.where(m == 100, 51.0 * PSI, p), {"cure: greatest pressure": FAIL}),
        ("bladder", lambda _, p: p * np.nan, {"cure: pressure": MISSING, "cure: greatest pressure": MISSING}),
    ],
)  # fmt: skip
def test_one_spoilt_channel_is_found_by_its_rules(channel: str, spoil: Spoil, expected: dict[str, Outcome]) -> None:
    assert against(outcomes(changed(good_cure(), channel, spoil))) == expected


def test_pressure_lost_before_gel_is_a_wetting_fault_and_after_gel_is_not_called_one() -> None:
    early = outcomes(changed(good_cure(), "bladder", lambda m, p: np.where(m == 30, 0.0, p)))["cure: pressure"]
    late = outcomes(changed(good_cure(), "bladder", lambda m, p: np.where(m == 100, 0.0, p)))["cure: pressure"]
    assert early.outcome is late.outcome is FAIL
    assert "wetting fault" in early.sentence
    assert "wetting fault" not in late.sentence
    unknown = outcomes(changed(good_cure(), "bladder", lambda m, p: np.where(m == 100, 0.0, p)), gel_temperature=None)[
        "cure: pressure"
    ]
    assert "wetting fault" in unknown.sentence  # not entered counts as before gel


def test_pressure_of_a_zone_that_was_silent_is_before_gel_for_all_that_is_known() -> None:
    log = changed(good_cure(), "bladder", lambda m, p: np.where(m == 100, 0.0, p))
    blind = changed(log, "M4", lambda _, t: t * np.nan)
    assert "wetting fault" in outcomes(blind)["cure: pressure"].sentence


def part(log: CureLog, rows: slice) -> CureLog:
    return dataclasses.replace(log, seconds=log.seconds[rows], values=log.values[rows], rows=log.rows[rows])


def test_a_log_that_begins_hot_or_ends_hot_is_referred() -> None:
    for rows in (slice(30, None), slice(0, 150)):
        assert against(outcomes(part(good_cure(), rows)))["cure: beginning and end"] is REFER


def test_a_log_without_mould_sensors_says_nothing_of_the_cure() -> None:
    log = good_cure()
    channels = tuple(
        dataclasses.replace(channel, role="other" if channel.role == "mould" else channel.role)  # type: ignore[arg-type]
        for channel in log.channels
    )
    (finding,) = judge_cure(dataclasses.replace(log, channels=channels), LIMITS)  # type: ignore[arg-type]
    assert finding.outcome is MISSING
    assert not finding.deviable


def test_a_log_without_a_pressure_channel_is_missing_and_not_deviable() -> None:
    log = good_cure()
    found = outcomes(dataclasses.replace(log, channels=log.channels[:-1], values=log.values[:, :-1]))
    assert found["cure: pressure"].outcome is MISSING
    assert not found["cure: pressure"].deviable


def test_a_heater_without_a_mould_sensor_of_its_zone_is_referred() -> None:
    log = good_cure()
    channels = tuple(dataclasses.replace(c, zone="9") if c.name == "H5" else c for c in log.channels)
    lag = outcomes(dataclasses.replace(log, channels=channels))["cure: heater lag"]
    assert lag.outcome is REFER
    assert "H5" in lag.sentence


def test_a_slow_climb_is_found_between_its_two_temperatures() -> None:
    log = good_cure()
    minutes = log.seconds / 60.0
    slow = np.where(minutes < 40.0, minutes, 40.0 + (minutes - 40.0) / 6.0)
    stretched = np.column_stack([np.interp(slow, minutes, log.values[:, i]) for i in range(len(log.channels))])
    rise = outcomes(dataclasses.replace(log, values=stretched))["cure: least ramp"]
    assert rise.outcome is FAIL
    assert rise.worst is not None
    assert rise.worst.value == pytest.approx(0.6, abs=0.03)  # degF/min: a sixth of 3.6


def test_a_fast_fall_is_found() -> None:
    log = good_cure()
    minutes = log.seconds / 60.0
    fast = np.where(minutes < 150.0, minutes, 150.0 + 2.0 * (minutes - 150.0))
    sped = np.column_stack([np.interp(fast, minutes, log.values[:, i]) for i in range(len(log.channels))])
    fall = outcomes(dataclasses.replace(log, values=sped))["cure: cool-down"]
    assert fall.outcome is FAIL
    assert fall.worst is not None
    assert fall.worst.value == pytest.approx(8.0, abs=0.1)


def test_a_dwell_too_long_is_found_though_a_hole_breaks_it() -> None:
    log = good_cure()
    keep = np.r_[0:90, 95:200]
    found = outcomes(
        dataclasses.replace(log, seconds=log.seconds[keep], values=log.values[keep], rows=log.rows[keep]),
        dwell_greatest=85.0 * 60.0,
    )
    assert found["cure: holes in the log"].outcome is REFER
    assert found["cure: greatest dwell"].outcome is FAIL
    assert found["cure: dwell"].outcome is FAIL  # neither run alone is an hour


@pytest.mark.parametrize(
    ("field", "rule"),
    [
        ("dwell_greatest", "cure: greatest dwell"),
        ("ramp_least", "cure: least ramp"),
        ("ramp_from", "cure: least ramp"),
        ("overshoot_greatest", "cure: overshoot"),
        ("heater_greatest", "cure: heaters"),
        ("heater_lag_greatest", "cure: heater lag"),
        ("cool_greatest", "cure: cool-down"),
        ("release", "cure: pressure"),
        ("heat_begins", "cure: beginning and end"),
        ("pressure_least", "cure: pressure"),
        ("pressure_greatest", "cure: greatest pressure"),
        ("sensor_uncertainty", "cure: sensor uncertainty"),
    ],
)
def test_a_limit_not_entered_is_named(field: str, rule: str) -> None:
    finding = outcomes(good_cure(), **{field: None})[rule]
    assert finding.outcome is MISSING
    assert f"limits.cure.{field}" in finding.sentence


def test_without_a_source_of_the_limits_every_value_is_unvalidated() -> None:
    found = outcomes(good_cure(), source=None)
    assert {finding.worst.validated for finding in found.values() if finding.worst} == {False}


def test_a_short_silence_breaks_the_dwell_and_the_rest_is_not_added() -> None:
    log = changed(good_cure(), "M2", lambda m, t: np.where(m == 100, np.nan, t))
    dwell = outcomes(log)["cure: dwell"]
    assert dwell.outcome is REFER
    assert dwell.worst is not None
    assert dwell.worst.value < 60.0


def test_a_sensor_out_of_the_band_while_another_is_silent_still_fails() -> None:
    log = changed(good_cure(), "M2", lambda m, t: np.where(m > 90, np.nan, t))
    log = changed(log, "M5", lambda m, t: t - 8.0 * ((m > 95) & (m < 105)))
    assert outcomes(log)["cure: dwell"].outcome is FAIL


def test_a_heater_inside_its_limits_by_less_than_the_uncertainty_is_referred() -> None:
    log = good_cure()
    hottest = float(max(log.values[:, column].max() for column in log.with_role("heater")))
    ahead = max(
        float((log.values[:, heater] - log.values[:, mould]).max())
        for heater, mould in zip(log.with_role("heater"), log.with_role("mould"), strict=True)
    )
    just = {"heater_greatest": hottest + 0.9, "heater_lag_greatest": ahead + 1.3, "sensor_uncertainty": 1.0}
    found = outcomes(log, **just)
    assert (found["cure: heaters"].outcome, found["cure: heater lag"].outcome) == (REFER, REFER)
    wider = outcomes(log, **{**just, "heater_greatest": hottest + 1.1, "heater_lag_greatest": ahead + 1.5})
    assert (wider["cure: heaters"].outcome, wider["cure: heater lag"].outcome) == (PASS, PASS)
