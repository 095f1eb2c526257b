"""The clocks of a running cure, against straight lines and tables worked by hand. No outside source."""

import numpy as np
import pytest

from bladewright.drawing.limits import CureLimits
from bladewright.evidence.records import CureLog
from bladewright.proof.cure_watch import CureWatch, as_of, watch_cure
from bladewright.proof.watched_clocks import Clocks, soonest
from tests.proof.invented_blade import DRAWING, a_log, changed, good_cure, some_limits

LIMITS = DRAWING.limits.cure
assert LIMITS is not None


def watched(log: CureLog, limits: CureLimits) -> CureWatch:
    state = watch_cure(log, limits)
    assert state is not None
    return state


def clocks(log: CureLog, limits: CureLimits) -> Clocks:
    return watched(log, limits).clocks


def test_each_sensor_has_its_own_clock_in_the_band() -> None:
    # band 118 to 124 degC; M1 in from minute 10, M2 from minute 20, M3 never
    minutes = np.arange(0.0, 31.0)
    log = a_log(
        minutes,
        {
            "M1": np.where(minutes < 10.0, 100.0, 121.0 + 0.01 * minutes),
            "M2": np.where(minutes < 20.0, 100.0, 121.0 - 0.01 * minutes),
            "M3": 100.0 + 0.1 * minutes,
        },
    )
    found = clocks(log, some_limits(sample_interval="1 min"))
    assert found.running.value == 30.0
    here = {one.channel: None if one.here is None else one.here.value for one in found.in_band}
    assert here == {"M1": 20.0, "M2": 10.0, "M3": None}
    assert found.in_band[0].since == "2026-03-02 08:10 UTC"


def test_a_hole_in_the_log_is_not_counted_through() -> None:
    # in the band all along, but nobody knows what was between minute 10 and minute 25
    minutes = np.concatenate((np.arange(0.0, 11.0), np.arange(25.0, 31.0)))
    log = a_log(minutes, {"M1": 121.0 + 0.01 * np.sin(minutes)})
    (one,) = clocks(log, some_limits(sample_interval="1 min")).in_band
    assert one.here is not None
    assert one.here.value == 5.0


def test_the_ramp_is_the_rise_over_the_window_the_limit_is_judged_by() -> None:
    # 2 K/min for half an hour, then 1 K/min for ten minutes: over the latest ten it is 1 K/min, 1.8 degF/min
    minutes = np.arange(0.0, 41.0)
    rise = np.where(minutes <= 30.0, 2.0 * minutes, 60.0 + (minutes - 30.0))
    found = clocks(a_log(minutes, {"M1": 20.0 + rise, "M2": 20.0 + 0.5 * rise}), some_limits(sample_interval="1 min"))
    assert found.ramp is not None
    assert found.ramp.value == pytest.approx(1.8, rel=1e-9)
    assert found.ramp_channel == "M1"
    assert (round(found.ramp_greatest.value, 2), found.ramp_window.value) == (5.04, 10.0)


def test_a_log_shorter_than_the_window_has_no_ramp_yet() -> None:
    log = a_log(np.arange(0.0, 9.0), {"M1": 20.0 + np.arange(9.0)})
    assert clocks(log, some_limits(sample_interval="1 min")).ramp is None


def test_release_waits_for_the_slowest_sensor_at_its_own_rate() -> None:
    # release below 65 degC; M1 at 75 falls 2 K/min: 5 min; M2 at 80 falls 1 K/min: 15 min
    minutes = np.arange(0.0, 31.0)
    log = a_log(minutes, {"M1": 75.0 + 2.0 * (30.0 - minutes), "M2": 80.0 + (30.0 - minutes)})
    found = clocks(log, some_limits(sample_interval="1 min", release="65 degC"))
    assert found.release is not None
    assert found.release.value == pytest.approx(15.0, rel=1e-9)


@pytest.mark.parametrize(
    ("minute", "words"),
    [(5, "has not been hotter"), (100, "on its way down"), (199, "every mould sensor is below it")],
)
def test_a_release_that_nobody_can_time_says_why(minute: int, words: str) -> None:
    assert words in clocks(as_of(good_cure(), minute + 1), LIMITS).release_told  # type: ignore[arg-type]


def test_a_lost_sensor_leaves_the_release_unknown() -> None:
    log = changed(good_cure(), "M4", lambda minutes, values: np.where(minutes >= 160.0, np.nan, values))
    found = clocks(as_of(log, 171), LIMITS)  # type: ignore[arg-type]
    assert found.release is None
    assert "not every zone is read" in found.release_told


def test_the_soonest_limit_is_the_one_to_look_at() -> None:
    # 0.2 K/min down from 121: at 119 it is 5 min above the floor of 118; the other stands still
    minutes = np.arange(0.0, 41.0)
    sinking = np.where(minutes < 30.0, 121.0, 121.0 - 0.2 * (minutes - 30.0))
    log = a_log(minutes, {"M1": np.full(41, 121.0) + 0.01 * np.sin(minutes), "M2": sinking})
    channel = soonest(watched(log, some_limits(sample_interval="1 min")).channels)
    assert channel is not None
    assert channel.channel == "M2"
