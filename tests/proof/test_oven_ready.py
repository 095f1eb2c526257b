"""Surveys, sensor checks and calibrations: counted by hand, overdue blocks use."""

import dataclasses
import datetime

import numpy as np
import pytest

from bladewright.evidence.calibration import Calibration
from bladewright.evidence.oven_file import Oven, SensorCheck, SurveyDone, SurveyLimits
from bladewright.evidence.records import Source
from bladewright.figures import Outcome
from bladewright.proof.oven_ready import AGREES, CALIBRATED, CHECKED, SURVEY, oven_ready, oven_was_ready
from bladewright.proof.zone_survey import EVEN, OVER, SOAK, Survey, capability, days_of, judge_survey
from tests.proof.invented_blade import a_log

DAY = datetime.date(2026, 3, 20)
LIMITS = SurveyLimits(target=121.0 + 273.15, within=3.0, soak=1800.0, uncertainty=0.5, sample_interval=300.0)
KELVIN = 273.15


def a_check(channel: str, apart: float = 0.5, due: datetime.date = datetime.date(2026, 4, 2)) -> SensorCheck:
    return SensorCheck(channel, datetime.date(2026, 3, 2), due, 394.0 + apart, 394.0, "R. Vane")


OVEN = Oven(
    source=Source("oven.toml", "0" * 64),
    name="blade oven",
    survey_limits=LIMITS,
    check_greatest=1.5,
    check_uncertainty=0.5,
    surveys=(SurveyDone(datetime.date(2026, 1, 12), datetime.date(2026, 7, 12), True, "survey.csv", "R. Vane"),),
    checks=(a_check("M1"), a_check("M2", -0.8)),
    limits_source="process sheet",
)


FAILED_SURVEY = dataclasses.replace(OVEN.surveys[0], passed=False)
LATER_SURVEY = dataclasses.replace(OVEN.surveys[0], done_on=datetime.date(2026, 3, 21))


def a_calibration(channel: str, due: datetime.date = datetime.date(2026, 7, 1)) -> Calibration:
    return Calibration(
        Source("tc.toml", "0" * 64), "TC-1", channel, datetime.date(2026, 1, 1), due, (300.0,), (0.0,), 0.3, "R. Vane"
    )


def outcomes(oven: Oven, day: datetime.date = DAY, *calibrations: Calibration) -> dict[str, Outcome]:
    known = calibrations or (a_calibration("M1"), a_calibration("M2"))
    return {finding.rule: finding.outcome for finding in oven_ready(oven, ("M1", "M2"), day, known)}


def test_everything_done_and_in_time_passes() -> None:
    assert set(outcomes(OVEN).values()) == {Outcome.PASS}


def test_the_due_day_itself_is_in_time_and_the_day_after_blocks() -> None:
    assert outcomes(OVEN, datetime.date(2026, 4, 2))[CHECKED] is Outcome.PASS
    assert outcomes(OVEN, datetime.date(2026, 4, 3))[CHECKED] is Outcome.FAIL
    assert outcomes(OVEN, datetime.date(2026, 7, 12))[SURVEY] is Outcome.PASS
    findings = oven_ready(OVEN, ("M1",), datetime.date(2026, 7, 14))
    late = next(finding for finding in findings if finding.rule == SURVEY)
    assert (late.outcome, late.deviable) == (Outcome.FAIL, False)
    assert "overdue by 2 days" in late.sentence


@pytest.mark.parametrize(
    ("change", "rule", "outcome"),
    [
        ({"surveys": ()}, SURVEY, Outcome.MISSING),
        ({"surveys": (FAILED_SURVEY,)}, SURVEY, Outcome.FAIL),
        ({"surveys": (LATER_SURVEY,)}, SURVEY, Outcome.MISSING),
        ({"checks": (a_check("M1"),)}, CHECKED, Outcome.MISSING),
        ({"checks": ()}, AGREES, Outcome.MISSING),
        ({"checks": (a_check("M1", 1.2), a_check("M2"))}, AGREES, Outcome.REFER),  # 0.3 inside, and U is 0.5
        ({"checks": (a_check("M1", -1.6), a_check("M2"))}, AGREES, Outcome.FAIL),
    ],
)  # fmt: skip
def test_one_thing_spoilt_is_told_by_its_rule(change: dict[str, object], rule: str, outcome: Outcome) -> None:
    assert outcomes(dataclasses.replace(OVEN, **change))[rule] is outcome  # type: ignore[arg-type]


def test_a_newer_survey_that_failed_is_not_covered_by_an_older_one() -> None:
    failed = SurveyDone(datetime.date(2026, 3, 1), datetime.date(2026, 9, 1), False, "s.csv", "R. Vane")
    assert outcomes(dataclasses.replace(OVEN, surveys=(failed, *OVEN.surveys)))[SURVEY] is Outcome.FAIL


def test_a_calibration_that_ran_out_blocks_and_one_that_never_was_is_missing() -> None:
    late = a_calibration("M2", datetime.date(2026, 3, 19))
    assert outcomes(OVEN, DAY, a_calibration("M1"), late)[CALIBRATED] is Outcome.FAIL
    assert outcomes(OVEN, DAY, a_calibration("M1"))[CALIBRATED] is Outcome.MISSING


def test_a_run_is_held_to_the_oven_as_it_was_on_the_day_the_run_ended() -> None:
    # begun 2026-04-02 23:30 UTC and two hours long: it ends on the 3rd, a day after the checks were due
    log = a_log([0.0, 120.0], {"M1": [20.0, 21.0], "M2": [20.0, 21.0]})
    late = dataclasses.replace(log, start=datetime.datetime(2026, 4, 2, 23, 30, tzinfo=datetime.UTC))
    known = (a_calibration("M1"), a_calibration("M2"))
    assert {one.outcome for one in oven_was_ready(log, OVEN, known)} == {Outcome.PASS}
    assert {one.rule for one in oven_was_ready(late, OVEN, known) if one.outcome is Outcome.FAIL} == {CHECKED}
    # by a clock five hours behind UTC it is still the 2nd
    western = dataclasses.replace(late, zone="America/Lima")
    assert {one.outcome for one in oven_was_ready(western, OVEN, known)} == {Outcome.PASS}
    (missing,) = oven_was_ready(dataclasses.replace(log, start=None), OVEN, known)
    assert missing.outcome is Outcome.MISSING


MINUTES = np.arange(0.0, 66.0, 5.0)


def a_survey(hot: float = 2.0, cold: float = -1.5, lag: float = 0.0) -> Survey:
    """Two survey sensors that hold the target and so much more or less from 15 min to 50 min."""
    soak = (MINUTES >= 15.0) & (MINUTES <= 50.0)
    late = (15.0 + lag <= MINUTES) & (MINUTES <= 50.0)
    return judge_survey(
        a_log(MINUTES, {"S1": np.where(soak, 121.0 + hot, 90.0), "S2": np.where(late, 121.0 + cold, 90.0)}),
        LIMITS,
        "sheet",
    )


def test_a_survey_worked_by_hand() -> None:
    # in from 15 to 50 min: 35 of the 30 asked; between -1.5 and +2.0 K of 3.0, and U is 0.5
    survey = a_survey()
    assert survey.passed
    assert survey.coldest is not None
    assert survey.hottest is not None
    assert (survey.coldest.value, survey.hottest.value) == (pytest.approx(-2.7), pytest.approx(3.6))  # degF
    assert [place.channel for place in survey.places] == ["S1", "S2"]
    soak = next(finding for finding in survey.findings if finding.rule == SOAK)
    assert soak.worst is not None
    assert soak.worst.value == 35.0


def test_a_zone_that_comes_late_shortens_the_soak_and_is_named() -> None:
    survey = a_survey(cold=-4.0)
    soak = next(finding for finding in survey.findings if finding.rule == SOAK)
    assert soak.outcome is Outcome.FAIL
    assert "it was S2, -7.2 degF of the target" in soak.sentence
    assert not survey.passed
    late = a_survey(lag=10.0)
    assert next(finding for finding in late.findings if finding.rule == SOAK).outcome is Outcome.FAIL  # 25 min


def test_within_by_less_than_the_uncertainty_is_a_persons_to_decide() -> None:
    survey = a_survey(hot=2.7)
    found = {finding.rule: finding.outcome for finding in survey.findings}
    assert found == {SOAK: Outcome.PASS, EVEN: Outcome.REFER, OVER: Outcome.REFER}


def test_an_oven_that_drifts_half_a_kelvin_a_survey_says_so() -> None:
    # a survey each half year, each half a kelvin hotter: a kelvin, 1.8 degF, a year
    surveys = [a_survey(hot=level) for level in (0.5, 1.0, 1.5)]
    told = capability(surveys, [0.0, 182.625, 365.25])
    assert told.hottest_per_year is not None
    assert told.coldest_per_year is not None
    assert told.hottest_per_year.value == pytest.approx(1.8)
    assert told.coldest_per_year.value == pytest.approx(0.0, abs=1e-9)
    assert capability(surveys[:2], [0.0, 182.0]).hottest_per_year is None
    assert capability(surveys, [0.0, 0.0, 0.0]).hottest_per_year is None


def test_survey_days_are_counted_from_the_first() -> None:
    log = a_log(MINUTES, {"S1": np.full(len(MINUTES), 121.0)})
    assert log.start is not None
    later = dataclasses.replace(log, start=log.start + datetime.timedelta(days=30))
    assert days_of([later, log]) == (30.0, 0.0)
