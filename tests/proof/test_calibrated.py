"""A cure through its sensors' calibrations; the budgets are closed forms by the guide to uncertainty."""

import dataclasses
import datetime

import numpy as np
import pytest

from bladewright.errors import SeveralBadInputs
from bladewright.evidence.calibration import Calibration, read_calibration
from bladewright.evidence.oven_file import Instrument
from bladewright.evidence.records import Source
from bladewright.figures import Finding, Outcome
from bladewright.proof.calibrated import calibration_of, corrected, judge_calibrated_cure
from tests.proof.invented_blade import a_log, some_limits

PASS, REFER, FAIL, MISSING = Outcome.PASS, Outcome.REFER, Outcome.FAIL, Outcome.MISSING
MINUTES = np.arange(0.0, 106.0, 5.0)
INSTRUMENT = Instrument(0.5, 0.4, 0.1, "K", "class 2", "data sheet of the logger")
FILE = """
format = 1
sensor = "TC-12"
channel = "M1"
calibrated_on = 2026-01-12
due = 2026-07-12
uncertainty = "0.3 K"
calibrated_by = "R. Vane"
[[points]]
reading = "100.0 degC"
true = "99.5 degC"
[[points]]
reading = "130.0 degC"
true = "129.0 degC"
"""


def held_at(celsius: float) -> np.ndarray:
    """A dwell of an hour at one temperature, with its rise and its fall."""
    return np.interp(MINUTES, [0.0, 15.0, 20.0, 80.0, 85.0, 105.0], [80.0, 112.0, celsius, celsius, 112.0, 90.0])


def calibration(**other: object) -> Calibration:
    return dataclasses.replace(read_calibration(FILE.encode(), "tc-12.toml"), **other)  # type: ignore[arg-type]


def finding(
    rule: str, celsius: float = 121.0, *calibrations: Calibration, instrument: Instrument = INSTRUMENT
) -> Finding:
    log = a_log(MINUTES, {"M1": held_at(celsius)})
    found = judge_calibrated_cure(log, some_limits(), calibrations, instrument)
    return next(one for one in found if one.rule == rule)


def test_a_reading_is_corrected_between_points_and_by_the_nearest_beyond_them() -> None:
    added = calibration().correction(np.array([90.0, 100.0, 115.0, 130.0, 140.0, np.nan]) + 273.15)
    assert added == pytest.approx([-0.5, -0.5, -0.75, -1.0, -1.0, np.nan], nan_ok=True)


def test_only_the_sensors_own_channel_is_corrected_and_the_file_stays_what_it_is() -> None:
    log = a_log(MINUTES, {"M1": held_at(121.0), "M2": held_at(121.0)})
    new = corrected(log, [calibration()])
    assert new.source == log.source
    assert (new.values[:, 1] == log.values[:, 1]).all()
    assert new.values[4:17, 0] == pytest.approx(np.full(13, 121.0 - 0.85 + 273.15))


def test_a_calibrated_sensor_passes_in_the_middle_of_the_band() -> None:
    assert finding("cure: calibration", 121.0, calibration()).outcome is PASS
    assert finding("cure: dwell", 121.0, calibration()).outcome is PASS


def test_a_correction_can_take_a_dwell_out_of_the_band() -> None:
    # 118.5 read, 0.8 too much: 117.7 true, below the floor of 118
    assert finding("cure: dwell", 118.5).outcome is REFER  # by the class alone
    assert finding("cure: dwell", 118.5, calibration()).outcome is FAIL


@pytest.mark.parametrize(("celsius", "outcome"), [(119.64, PASS), (119.61, REFER)])
def test_inside_by_less_than_the_uncertainty_is_referred(celsius: float, outcome: Outcome) -> None:
    # u^2 = 0.15^2 + (0.5^2 + 0.4^2)/3 + 0.1^2/12, U = 0.8 K: 118.8 true is read as 119.627
    assert finding("cure: dwell", celsius, calibration()).outcome is outcome


def test_an_uncalibrated_class_two_sensor_cannot_prove_a_band_of_three_kelvins() -> None:
    # u^2 = (2.5^2 + 0.5^2 + 0.4^2)/3 + 0.1^2/12, U = 2.98 K of 3 K
    found = finding("cure: calibration")
    assert found.outcome is REFER
    assert found.worst is not None
    assert found.worst.value / 1.8 == pytest.approx(2.0 * np.sqrt((6.25 + 0.25 + 0.16) / 3.0 + 0.01 / 12.0), rel=1e-5)
    assert finding("cure: dwell", 121.1).outcome is REFER


def test_neither_calibration_nor_class_is_missing() -> None:
    bare = Instrument(0.5, 0.4, 0.1)
    assert finding("cure: calibration", instrument=bare).outcome is MISSING
    assert finding("cure: sensor uncertainty", instrument=bare).outcome is MISSING


def test_a_calibration_that_had_run_out_is_missing_and_corrects_nothing() -> None:
    old = calibration(due=datetime.date(2026, 3, 1))
    assert finding("cure: calibration", 121.0, old).outcome is MISSING
    log = a_log(MINUTES, {"M1": held_at(121.0)})
    assert (corrected(log, [old]).values == log.values).all()


def test_a_calibration_made_after_the_run_corrects_nothing() -> None:
    later = calibration(calibrated_on=datetime.date(2026, 3, 3))
    assert finding("cure: calibration", 121.0, later).outcome is REFER  # the class is all that was known that day


def test_a_calibration_of_the_day_itself_is_referred_because_nobody_knows_which_came_first() -> None:
    same = calibration(calibrated_on=datetime.date(2026, 3, 2))
    assert finding("cure: calibration", 121.0, same).outcome is REFER
    before = calibration(calibrated_on=datetime.date(2026, 3, 1))
    assert finding("cure: calibration", 121.0, before).outcome is PASS


def test_of_two_that_hold_the_newest_counts() -> None:
    log = a_log(MINUTES, {"M1": held_at(121.0)})
    newer = calibration(calibrated_on=datetime.date(2026, 2, 1), sensor="TC-13")
    assert calibration_of(log, "M1", [newer, calibration()]) == (newer, False)


def test_points_that_do_not_reach_over_the_band_are_referred() -> None:
    short = calibration(readings=(273.15, 373.15), corrections=(0.0, -0.5))
    assert finding("cure: calibration", 121.0, short).outcome is REFER


def test_a_log_without_a_clock_cannot_be_shown_to_be_covered() -> None:
    log = dataclasses.replace(a_log(MINUTES, {"M1": held_at(121.0)}), start=None)
    found = judge_calibrated_cure(log, some_limits(), [calibration()], INSTRUMENT)[-1]
    assert found.outcome is REFER
    assert "no clock" in found.sentence


def test_the_greater_of_entered_and_worked_out_uncertainty_stands() -> None:
    log = a_log(MINUTES, {"M1": held_at(121.0)})
    limits = some_limits(sensor_uncertainty="2.9 K")
    found = {one.rule: one for one in judge_calibrated_cure(log, limits, [calibration()], INSTRUMENT)}
    assert found["cure: dwell"].outcome is REFER


@pytest.mark.parametrize(
    ("old", "new", "field"),
    [
        ('channel = "M1"', 'channel = ""', "channel"),
        ('"0.3 K"', '"0.3"', "uncertainty"),
        ('"0.3 K"', '"-0.3 K"', "uncertainty"),
        ("due = 2026-07-12", "due = 2025-07-12", ""),
        ('"130.0 degC"', '"90.0 degC"', ""),
        ("2026-01-12", '"12/01/2026"', "calibrated_on"),
        ('true = "99.5 degC"', "", "points.1.true"),
    ],
)
def test_a_calibration_that_cannot_be_is_refused_by_field(old: str, new: str, field: str) -> None:
    with pytest.raises(SeveralBadInputs) as caught:
        read_calibration(FILE.replace(old, new).encode(), "tc-12.toml")
    assert {error.field for error in caught.value.errors} == {field}
    assert caught.value.file == "tc-12.toml"


def test_the_file_is_named_with_its_hash() -> None:
    source = read_calibration(FILE.encode(), "tc-12.toml").source
    assert isinstance(source, Source)
    assert (source.file, len(source.sha256)) == ("tc-12.toml", 64)
