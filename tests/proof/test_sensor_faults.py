"""Sensor faults put into a log that is otherwise good, one at a time; and process faults, which are no sensor's.

What a wrong type or a terminal shows follows from the reference functions; the rest is put in by hand.
"""

import dataclasses
from collections.abc import Callable
from pathlib import Path

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from bladewright.engine.metrology.thermocouple_circuit import shown_temperature
from bladewright.evidence.cure_log import read_cure_log
from bladewright.evidence.description import read_logger_description
from bladewright.evidence.records import CureLog, Floats
from bladewright.figures import Outcome
from bladewright.proof.cure import judge_cure
from bladewright.proof.mould import read_mould
from bladewright.proof.sensor_faults import TOLD, sensors_can_be_trusted, suspect_sensors
from bladewright.proof.sensor_suspicion import Suspicion
from bladewright.selfcheck.hand_worked_cure_logs import APART, DIP, GOOD, HOLE, NOISY, TOUCHED, Worked
from tests.proof.invented_blade import DRAWING, a_log, changed, good_cure

LIMITS = DRAWING.limits.cure
assert LIMITS is not None
ROOM = 294.0
Spoil = Callable[[Floats, Floats], Floats]


def noisy_cure(scatter: float = 0.1) -> CureLog:
    """The good cure as a logger would have it, with a little scatter on every temperature."""
    log, draw = good_cure(), np.random.default_rng(1)
    heat = np.array([channel.role != "pressure" for channel in log.channels])
    return dataclasses.replace(log, values=log.values + heat * draw.normal(0.0, scatter, log.values.shape))


def suspicions(log: CureLog) -> list[Suspicion]:
    assert LIMITS is not None
    return list(suspect_sensors(read_mould(log, LIMITS)))


def fallen(minutes: Floats, depth: float, minute: float = 98.0, wait: float = 20.0) -> Floats:
    """A zone whose heater dies: it falls at a mould's own pace."""
    return depth * -np.expm1(-np.clip(minutes - minute, 0.0, None) / wait)


FAULTS: list[tuple[str, Spoil]] = [
    ("constant offset", lambda m, t: t + 4.0 + 0.0 * m),
    ("constant offset", lambda m, t: t - 2.5 + 0.0 * m),
    ("drift", lambda m, t: t + 4.0 * m / 200.0),
    ("cold-junction step", lambda m, t: t - 4.0 * (m > 90)),
    ("wrong thermocouple type", lambda _, t: shown_temperature(t, ROOM, "K", "J", ROOM)),
    ("wrong thermocouple type", lambda _, t: shown_temperature(t, ROOM, "T", "K", ROOM)),
    ("wrong thermocouple type", lambda _, t: shown_temperature(t, ROOM, "J", "K", ROOM)),
    ("noisy", lambda m, t: t + np.random.default_rng(2).normal(0.0, 1.5, len(m))),
    ("stuck", lambda m, t: np.where(m > 100, t[100], t)),
    ("open", lambda m, t: np.where(m > 100, np.nan, t)),
    ("open", lambda m, t: np.where(m > 100, 1645.0 + 0.1 * m, t)),
]


@pytest.mark.parametrize(("kind", "spoil"), FAULTS)
def test_each_fault_is_suspected_by_its_name_of_its_sensor_alone(kind: str, spoil: Spoil) -> None:
    found = suspicions(changed(noisy_cure(), "M4", spoil))
    assert [(one.kind, one.channels) for one in found] == [(kind, ("M4",))]
    assert found[0].likelihood > (0.7 if kind == "drift" else 0.8)  # a drift has not gone far when the cooling begins
    assert found[0].evidence
    assert found[0].where[0].channel == "M4"


def test_a_step_is_named_with_its_time_and_size() -> None:
    (one,) = suspicions(changed(noisy_cure(), "M4", lambda m, t: t - 4.0 * (m > 90)))
    assert one.size == pytest.approx(-4.0, abs=0.3)
    assert one.where[0].row is not None
    assert abs(one.where[0].row - (91 + 4)) <= 3  # the samples looked at are two or three apart


def test_which_types_were_mistaken_is_told() -> None:
    (one,) = suspicions(changed(noisy_cure(), "M4", lambda _, t: shown_temperature(t, ROOM, "K", "J", ROOM)))
    assert "type K read as J" in one.evidence


@pytest.mark.parametrize(
    "spoil",
    [
        lambda m, t: t - fallen(m, 40.0),  # a dead heater
        lambda m, t: t - fallen(m, 5.0),  # one that is weak
        lambda _, t: t - 0.03 * (t - ROOM),  # a zone that runs colder the hotter it is
        lambda m, t: np.interp(m - 3.0, m, t),  # a zone that lags
        lambda m, t: t + 5.0 * (m == 100),  # one wild reading
        lambda _, t: t + 1.0,  # less than new wire may be off
    ],
)
def test_what_a_process_does_is_no_sensors_fault(spoil: Spoil) -> None:
    assert suspicions(changed(noisy_cure(), "M4", spoil)) == []


@pytest.mark.parametrize("case", [GOOD, NOISY, DIP, HOLE, APART, TOUCHED])
def test_the_logs_worked_by_hand_have_no_such_fault(case: Worked) -> None:
    finding = sensors_can_be_trusted(read_mould(case.log, case.limits), case.limits)
    assert finding.outcome is Outcome.PASS


def test_all_channels_moving_at_once_is_the_terminals() -> None:
    log = noisy_cure()
    heat = np.array([channel.role != "pressure" for channel in log.channels])
    late = (log.seconds > 100 * 60.0)[:, None] & heat
    (one,) = suspicions(dataclasses.replace(log, values=np.where(late, log.values + 3.0, log.values)))
    assert (one.kind, len(one.channels)) == ("cold-junction step", 6)
    assert one.size == pytest.approx(3.0, abs=0.3)


def test_a_heater_and_its_mould_sensor_with_each_others_names() -> None:
    log = noisy_cure()
    names = [channel.name for channel in log.channels]
    values = log.values.copy()
    pair = [names.index("M3"), names.index("H3")]
    values[:, pair] = values[:, pair[::-1]]
    (one,) = suspicions(dataclasses.replace(log, values=values))
    assert (one.kind, one.channels) == ("swapped channels", ("M3", "H3"))


def test_two_mould_sensors_that_follow_each_others_heaters() -> None:
    log = changed(noisy_cure(), "H4", lambda m, t: t - 30.0 * (m > 98))
    wrong = changed(log, "M2", lambda m, t: t - fallen(m, 20.0))
    assert [(one.kind, one.channels) for one in suspicions(wrong)] == [("swapped channels", ("M2", "M4"))]
    right = changed(log, "M4", lambda m, t: t - fallen(m, 20.0))
    assert suspicions(right) == []


def test_with_two_sensors_nobody_can_say_which() -> None:
    minutes = np.arange(0.0, 150.0, 2.0)
    shape = np.interp(minutes, [0.0, 45.0, 120.0, 149.0], [21.0, 121.0, 121.0, 60.0])
    log = a_log(minutes, {"M1": shape, "M2": shape + 4.0})
    (one,) = suspicions(log)
    assert one.kind == "constant offset"
    assert set(one.channels) == {"M1", "M2"}
    assert "as well" in one.evidence


def test_one_sensor_has_nothing_to_be_compared_with() -> None:
    minutes = np.arange(0.0, 150.0, 2.0)
    assert suspicions(a_log(minutes, {"M1": np.interp(minutes, [0.0, 45.0, 149.0], [21.0, 121.0, 121.0])})) == []


@settings(max_examples=25, deadline=None)
@given(
    offset=st.floats(-8.0, 8.0), drift=st.floats(-8.0, 8.0), step=st.floats(-8.0, 8.0), minute=st.integers(5, 190),
    silent=st.booleans(),
)  # fmt: skip
def test_a_suspicion_never_takes_a_finding_away(
    offset: float, drift: float, step: float, minute: int, silent: bool
) -> None:
    def spoil(m: Floats, t: Floats) -> Floats:
        spoilt = t + offset + drift * m / 200.0 + step * (m > minute)
        return np.where(silent & (m > minute), np.nan, spoilt)

    assert LIMITS is not None
    log = changed(noisy_cure(), "M4", spoil)
    mould = read_mould(log, LIMITS)
    finding = sensors_can_be_trusted(mould, LIMITS)
    assert finding.outcome in (Outcome.PASS, Outcome.REFER)  # it never fails and never misses
    assert all(TOLD <= one.likelihood < 1.0 for one in suspect_sensors(mould))
    others = [one for one in judge_cure(log, LIMITS) if one.rule != finding.rule]
    assert finding in judge_cure(log, LIMITS)
    assert len(others) == len(judge_cure(log, LIMITS)) - 1


@settings(max_examples=10, deadline=None)
@given(order=st.permutations(range(13)), which=st.integers(0, len(FAULTS) - 1))
def test_the_order_of_the_columns_does_not_matter(order: list[int], which: int) -> None:
    log = changed(noisy_cure(), "M4", FAULTS[which][1])
    mixed = dataclasses.replace(
        log, channels=tuple(log.channels[column] for column in order), values=log.values[:, order]
    )
    told = [(one.kind, one.channels, pytest.approx(one.likelihood)) for one in suspicions(log)]
    assert [(one.kind, one.channels, one.likelihood) for one in suspicions(mixed)] == told


DESCRIPTIONS = Path(__file__).parents[1] / "evidence" / "descriptions"


@pytest.mark.outside
@pytest.mark.parametrize(
    "name",
    [
        "logger_toa5_daily.dat", "button_logger_us_dates.csv", "sonde_utf16_plain.csv", "five_probes_tea.csv",
        "furnace_compartment_units_row.csv", "shroud_five_cables.csv", "stone_wool_thirty_channels.csv",
        "plate_thermocouple_short.csv", "hangar_sixty_channels.csv",
    ],
)  # fmt: skip
def test_logs_of_other_peoples_instruments_give_suspicions_or_none_but_no_error(name: str, shared: Path) -> None:
    """No cures, so nothing is asked of the answer; the files stand outside the repository (BLADEWRIGHT_SHARED)."""
    path = shared / "data" / "temperature" / name
    log = read_cure_log(path, read_logger_description(DESCRIPTIONS / f"{path.stem}.toml"))
    every = tuple(dataclasses.replace(one, role="mould") for one in log.channels)
    log = dataclasses.replace(log, channels=every)
    for one in suspicions(log):
        assert TOLD <= one.likelihood < 1.0
        assert one.evidence
        assert set(one.channels) <= {channel.name for channel in log.channels}


@settings(max_examples=60, deadline=None)
@given(seed=st.integers(0, 10_000), count=st.sampled_from([1, 2, 3, 5, 11, 13, 30, 200]), damage=st.integers(0, 4))
def test_no_damaged_log_makes_an_error(seed: int, count: int, damage: int) -> None:
    log, draw = good_cure(), np.random.default_rng(seed)
    rows = np.sort(draw.choice(len(log.seconds), count, replace=False))
    values = log.values[rows].copy()
    if damage == 1:
        values[draw.random(values.shape) < 0.5] = np.nan
    elif damage == 2:
        values[:] = np.nan
    elif damage == 3:
        values[:] = values[0]
    elif damage == 4:
        values[:, :12] += draw.normal(0.0, 200.0, (count, 12)) * (draw.random((count, 12)) < 0.3)
    columns = np.union1d([0], draw.choice(13, int(draw.integers(1, 14)), replace=False))
    damaged = dataclasses.replace(
        log, seconds=log.seconds[rows] - log.seconds[rows[0]], rows=log.rows[rows], values=values[:, columns],
        channels=tuple(log.channels[column] for column in columns),
    )  # fmt: skip
    assert all(TOLD <= one.likelihood < 1.0 for one in suspicions(damaged))
