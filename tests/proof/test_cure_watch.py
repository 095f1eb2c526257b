"""A cure watched row by row: straight lines worked by hand, and the judge's own verdicts at the end."""

import dataclasses
from pathlib import Path

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from bladewright.drawing.limits import CureLimits
from bladewright.evidence.cure_log import read_cure_log
from bladewright.evidence.description import read_logger_description
from bladewright.evidence.records import Channel, CureLog
from bladewright.figures import Outcome
from bladewright.proof.cure import judge_cure
from bladewright.proof.cure_watch import SHARE, CureWatch, as_of, remembering, rest_after, rows_by, watch_cure
from bladewright.proof.dwell import dwell_of
from bladewright.proof.watched_dwell import Stage
from tests.proof.invented_blade import DRAWING, a_log, changed, good_cure, some_limits

LIMITS = DRAWING.limits.cure
DESCRIPTIONS = Path(__file__).parents[1] / "evidence" / "descriptions"
assert LIMITS is not None


def at(log: CureLog, minute: int, limits: CureLimits = LIMITS, silent: float = 0.0) -> CureWatch:
    state = watch_cure(as_of(log, minute + 1), limits, silent)
    assert state is not None
    return state


def test_a_good_cure_goes_through_its_stages_and_warns_of_nothing_broken() -> None:
    log = good_cure()
    stages = list(dict.fromkeys(at(log, minute).stage for minute in range(len(log.rows))))
    assert stages == [Stage.BEFORE, Stage.HEATING, Stage.DWELL, Stage.DONE, Stage.COOLING, Stage.RELEASED]
    assert not at(log, 199).broken
    assert at(log, 199).over


def test_a_straight_ramp_arrives_when_a_ruler_says() -> None:
    # 2 K/min from 20 degC: at minute 30 it reads 80, and 118 is 19 min away; the dwell of 60 ends 79 min later
    minutes = np.arange(0.0, 31.0)
    state = watch_cure(a_log(minutes, {"M1": 20.0 + 2.0 * minutes}), some_limits(sample_interval="1 min"))
    assert state is not None
    (channel,) = state.channels
    assert channel.rate is not None
    assert channel.rate.value == pytest.approx(3.6, rel=1e-9)  # degF/min
    assert channel.to_limit is not None
    assert channel.to_limit.value == pytest.approx(19.0, rel=1e-6)
    assert state.dwell.ends == "2026-03-02 09:49 UTC"  # begun at 08:00, so 08:30 + 19 + 60


def test_the_dwell_left_is_counted_with_the_band_drawn_in() -> None:
    # in the band of 118 to 124 from minute 10; within half a kelvin of its floor until minute 15
    minutes = np.arange(0.0, 41.0)
    readings = np.where(minutes < 10.0, 100.0, np.where(minutes < 15.0, 118.2, 121.0))
    state = watch_cure(
        a_log(minutes, {"M1": readings}), some_limits(sample_interval="1 min", sensor_uncertainty="0.5 K")
    )
    assert state is not None
    assert state.stage is Stage.DWELL
    assert state.dwell.counted.value == 30.0
    assert state.dwell.sure is not None
    assert state.dwell.left is not None
    assert (state.dwell.sure.value, state.dwell.left.value) == (25.0, 35.0)


def test_a_zone_that_sinks_is_warned_of_before_it_leaves() -> None:
    # 0.2 K/min down from 121: at 119 it is 5 min above the floor of 118
    minutes = np.arange(0.0, 41.0)
    sinking = np.where(minutes < 30.0, 121.0, 121.0 - 0.2 * (minutes - 30.0))
    log = a_log(minutes, {"M1": np.full(41, 121.0) + 0.01 * np.sin(minutes), "M2": sinking})
    state = watch_cure(log, some_limits(sample_interval="1 min"))
    assert state is not None
    said = " ".join(warned.sentence for warned in state.warnings)
    assert "M2 leaves the band in 5 min at the present rate, and 20 min of the dwell are left" in said
    assert "M1" not in said


def test_a_dwell_that_broke_off_counts_anew_and_says_so() -> None:
    log = changed(good_cure(), "M3", lambda minutes, values: np.where(minutes == 90.0, values - 10.0, values))
    state = at(log, 120)
    assert state.stage is Stage.DWELL
    assert any("counts anew" in warned.sentence for warned in state.warnings)
    assert state.dwell.counted.value < 30.0


def test_a_sensor_that_dies_ends_the_count_and_is_named_with_its_time() -> None:
    log = changed(good_cure(), "M4", lambda minutes, values: np.where(minutes >= 98.0, np.nan, values))
    state = at(log, 110)
    assert state.stage is Stage.SHORT
    four = next(channel for channel in state.channels if channel.channel == "M4")
    assert (four.reading, four.state, four.since) == (None, "no reading", "2026-03-02 14:38 UTC")
    end = at(log, 199)
    assert end.over
    assert end.broken  # the asked dwell is not in the log: a person decides, and the command does not say yes


def test_a_frozen_sensor_is_no_reading() -> None:
    log = changed(good_cure(), "M2", lambda minutes, values: np.where(minutes >= 20.0, values[20], values))
    two = next(channel for channel in at(log, 40).channels if channel.channel == "M2")
    assert (two.reading, two.why) == (None, "it repeats one reading while others move")


@pytest.mark.parametrize(
    ("channel", "minute", "size", "words"),
    [
        ("M1", 100, 10.0, "never to be passed"),
        ("H2", 100, 60.0, "hottest heater"),
        ("bladder", 100, -60000.0, "pressure fell"),
    ],
)
def test_a_limit_broken_once_stays_broken(channel: str, minute: int, size: float, words: str) -> None:
    log = changed(good_cure(), channel, lambda minutes, values: np.where(minutes == minute, values + size, values))
    assert not at(log, minute - 1).broken
    for later in (minute, minute + 30, 199):
        state = at(log, later)
        assert state.broken
        assert words in state.warnings[0].sentence


@settings(max_examples=25, deadline=None)
@given(
    channel=st.sampled_from(["M1", "M4", "H3", "bladder"]),
    first=st.integers(0, 190),
    length=st.integers(1, 60),
    size=st.floats(-40.0, 40.0),
)
def test_the_watch_and_the_judge_cannot_disagree(channel: str, first: int, length: int, size: float) -> None:
    scale = 3000.0 if channel == "bladder" else 1.0
    log = changed(
        good_cure(), channel,
        lambda minutes, values: values + scale * size * ((minutes >= first) & (minutes < first + length)),
    )  # fmt: skip
    state = at(log, 199)
    failed = {finding.sentence for finding in judge_cure(log, LIMITS) if finding.outcome is Outcome.FAIL}
    said = {
        warned.sentence.removeprefix("BROKEN. ") for warned in state.warnings if warned.sentence.startswith("BROKEN")
    }
    assert said <= failed
    dwell = dwell_of(log, LIMITS)
    if state.stage is not Stage.DWELL:
        assert state.dwell.counted.value == pytest.approx(0.0 if dwell is None else dwell.seconds / 60.0)


@settings(max_examples=20, deadline=None)
@given(rows=st.integers(1, 200))
def test_what_is_broken_stays_broken_whatever_comes(rows: int) -> None:
    log = changed(good_cure(), "M1", lambda minutes, values: np.where(minutes == 30.0, values + 40.0, values))
    whole = {warned.sentence.split(",")[0] for warned in at(log, 199).warnings if warned.broken}
    state = watch_cure(as_of(log, rows), LIMITS)
    assert state is not None
    assert len([one for one in state.warnings if one.broken]) <= len(whole)
    assert state.broken == (rows > 30)


def test_what_a_stuck_sensor_broke_stays_on_the_page() -> None:
    # from minute 30 on it repeats a reading far over the most allowed; the sixth makes it not believed
    log = changed(good_cure(), "M1", lambda minutes, values: np.where(minutes >= 30.0, values[0] + 150.0, values))
    state = None
    for minute in range(28, 42):
        state = remembering(state, at(log, minute))
        assert state is not None
        assert state.broken == (minute >= 30)
    assert not at(log, 41).broken
    assert state is not None
    earlier = [warned.sentence for warned in state.warnings if warned.broken]
    assert all(sentence.startswith("EARLIER. BROKEN. ") for sentence in earlier)
    assert any("The hottest mould sensor, M1," in sentence for sentence in earlier)


def test_a_logger_that_stopped_is_told_by_how_long() -> None:
    state = at(good_cure(), 100, silent=180.0)
    assert any(warned.sentence.startswith("No new row for 3.0 min") for warned in state.warnings)
    assert not any("No new row" in warned.sentence for warned in at(good_cure(), 100, silent=110.0).warnings)


def test_limits_nobody_entered_are_named() -> None:
    state = at(good_cure(), 100, some_limits(sample_interval="1 min"))
    assert any("limits.cure.heater_greatest" in sentence for sentence in state.not_watched)


def test_noise_is_no_rate_that_leads_anywhere() -> None:
    minutes = np.arange(0.0, 41.0)
    noisy = 121.0 + np.array([0.1, -0.1] * 20 + [0.1])
    state = watch_cure(a_log(minutes, {"M1": noisy}), some_limits(sample_interval="1 min"))
    assert state is not None
    assert state.channels[0].to_limit is None


def test_without_a_mould_sensor_there_is_nothing_to_watch() -> None:
    log = good_cure()
    channels = tuple(dataclasses.replace(one, role="heater") for one in log.channels)
    assert watch_cure(dataclasses.replace(log, channels=channels), LIMITS) is None


def test_a_log_without_a_clock_is_told_in_its_own_minutes() -> None:
    state = at(dataclasses.replace(good_cure(), start=None), 80)
    assert state.at == "4800 s"
    assert state.dwell.ends.endswith("min of the log")


def test_a_replay_of_600_times_shows_ten_minutes_a_second() -> None:
    log = good_cure()
    assert [rows_by(log, elapsed, 600.0) for elapsed in (0.0, 1.0, 19.9, 100.0)] == [1, 11, 200, 200]


def test_the_rest_between_looks_keeps_the_work_under_its_share() -> None:
    assert rest_after(0.01, 10.0) == 10.0
    assert 2.0 / (2.0 + rest_after(2.0, 10.0)) < SHARE + 1e-9


def test_channels_keep_their_place() -> None:
    log = dataclasses.replace(good_cure(), channels=(Channel("M1", "mould", "1", "top"), *good_cure().channels[1:]))
    first = at(log, 50).channels[0]
    assert (first.channel, first.zone, first.side) == ("M1", "1", "top")


@pytest.mark.parametrize(
    "name", sorted(path.stem for path in DESCRIPTIONS.glob("*.toml") if "tensile" not in path.stem)
)
def test_other_peoples_logs_are_watched_and_judged_without_a_fault(shared: Path, name: str) -> None:
    found = sorted((shared / "data" / "temperature").glob(f"{name}.*"))
    if not found:
        pytest.skip("this description is of a pull curve")
    log = read_cure_log(found[0], read_logger_description(DESCRIPTIONS / f"{name}.toml"))
    columns = tuple(dataclasses.replace(one, role="mould") for one in log.channels)
    for asked in (log, dataclasses.replace(log, channels=columns)):
        for rows in {1, 2, 3, 7, len(log.rows) // 2 + 1, len(log.rows)}:
            state = watch_cure(as_of(asked, rows), LIMITS)
            assert (state is None) == (not asked.with_role("mould"))
        assert judge_cure(asked, LIMITS)
