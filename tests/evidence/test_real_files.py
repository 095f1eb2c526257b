"""Files from other people's instruments, each through its own description, to the readings worked out by others.

The files and their readings stand outside the repository (BLADEWRIGHT_SHARED); without them these checks are skipped.
"""

import datetime
import hashlib
import json
import zoneinfo
from pathlib import Path
from typing import Any

import numpy as np
import pytest

from bladewright.evidence.cure_log import read_cure_log
from bladewright.evidence.description import read_logger_description, read_pull_description
from bladewright.evidence.pull_curve import read_pull_curve
from bladewright.evidence.records import CureLog, Floats

pytestmark = pytest.mark.outside

HERE = Path(__file__).parent
LOGS = (
    "logger_toa5_daily.dat",
    "button_logger_us_dates.csv",
    "sonde_utf16_plain.csv",
    "five_probes_tea.csv",
    "furnace_compartment_units_row.csv",
    "shroud_five_cables.csv",
    "stone_wool_thirty_channels.csv",
    "plate_thermocouple_short.csv",
    "hangar_sixty_channels.csv",
)
CURVES = (
    "tensile_french_header.TRA",
    "tensile_steel_si.csv",
    "tensile_steel_4130_si.csv",
    "compression_decimal_comma.csv",
    "tensile_laminate_chamber.csv",
    "tensile_laminate_chamber_2.csv",
)
SIX_DIGITS = 5e-6  # the readings are given to six significant digits


def _stated(shared: Path, folder: str, name: str) -> tuple[Path, dict[str, Any]]:
    stated = json.loads((shared / "data" / "readings.json").read_text(encoding="utf-8"))
    entries = [entry for value in stated.values() if isinstance(value, list) for entry in value]
    entry = next(entry for entry in entries if entry["file"] == f"{folder}/{name}")
    path = shared / "data" / folder / name
    assert hashlib.sha256(path.read_bytes()).hexdigest() == entry["sha256"]
    return path, entry["reading"]


def _log(shared: Path, name: str) -> tuple[CureLog, dict[str, Any], str]:
    path, reading = _stated(shared, "temperature", name)
    description = read_logger_description(HERE / "descriptions" / f"{path.stem}.toml")
    return read_cure_log(path, description), reading, description.time.zone


def _as_written(log: CureLog, index: int, reading: dict[str, Any], zone: str) -> str | float:
    """A sample's time in the file's own way of writing it, to the millisecond, not rounded up."""
    if log.start is None:
        return float(reading["start"] + log.seconds[index])
    moment = log.start + datetime.timedelta(seconds=float(log.seconds[index]))
    local = moment.astimezone(zoneinfo.ZoneInfo(zone)).replace(tzinfo=None)
    return local.isoformat(timespec="milliseconds" if local.microsecond else "seconds")


def _same_time(found: str | float, stated: str | float) -> bool:
    return found == stated if isinstance(found, str) else found == pytest.approx(stated, abs=1e-6)


@pytest.mark.parametrize("name", LOGS)
def test_rows_channels_and_times(shared: Path, name: str) -> None:
    log, reading, zone = _log(shared, name)
    assert len(log.rows) == reading["rows"]
    assert [channel.name for channel in log.channels] == reading["channels"]
    assert _same_time(_as_written(log, 0, reading, zone), reading["start"])
    assert _same_time(_as_written(log, -1, reading, zone), reading["end"])
    steps = np.diff(log.seconds)
    assert np.median(steps) == pytest.approx(reading["median_period_s"], rel=SIX_DIGITS)
    assert steps.max() == pytest.approx(reading["max_period_s"], rel=SIX_DIGITS)
    if "clock_change" not in reading:
        assert log.seconds[-1] == pytest.approx(reading["duration_s"], abs=1e-4)
        assert steps.min() == pytest.approx(reading["min_period_s"], rel=SIX_DIGITS)
        assert int((steps > 1.5 * np.median(steps)).sum()) == reading["gaps_over_1p5_median"]
    assert int(np.isnan(log.values).sum()) == reading["missing_cells"]


@pytest.mark.parametrize("name", LOGS)
def test_every_stated_channel(shared: Path, name: str) -> None:
    log, reading, zone = _log(shared, name)
    names = [channel.name for channel in log.channels]
    celsius = log.values - 273.15
    for channel, stated in reading["readings"].items():
        values = celsius[:, names.index(channel)]
        there = values[~np.isnan(values)]
        assert len(there) == stated["valid"]
        for word, found in {"max": there.max(), "min": there.min(), "mean": there.mean()}.items():
            assert found == pytest.approx(stated[word], rel=SIX_DIGITS, abs=1e-9), (channel, word)
        assert (there[0], there[-1]) == pytest.approx((stated["first"], stated["last"]), rel=SIX_DIGITS, abs=1e-9)
        # the first time it occurs: conversion to kelvin and back must not decide between equal readings
        highest, lowest = np.round(values, 9), np.round(values, 9)
        assert _same_time(_as_written(log, int(np.nanargmax(highest)), reading, zone), stated["max_at"])
        assert _same_time(_as_written(log, int(np.nanargmin(lowest)), reading, zone), stated["min_at"])
        if "ramp5_max_per_min" in stated:
            assert _largest_rise(log.seconds, values) == pytest.approx(stated["ramp5_max_per_min"], rel=1e-3)
        if "span" in stated:
            span = stated["span"]
            assert _longest_stay(log.seconds, values, span["X"], span["Y"]) == pytest.approx(
                span["longest_s"], rel=1e-6
            )
    if "hottest_channel" in reading:
        _, hottest = np.unravel_index(np.nanargmax(np.round(celsius, 9)), celsius.shape)
        assert names[int(hottest)] == reading["hottest_channel"]


def _largest_rise(seconds: Floats, values: Floats) -> float:
    """Largest heating over any 300 s from a sample on, per minute, straight between samples."""
    there = ~np.isnan(values)
    starts = seconds[there & (seconds + 300.0 <= seconds[-1])]
    at = np.interp(starts, seconds[there], values[there])
    later = np.interp(starts + 300.0, seconds[there], values[there])
    return float((later - at).max() / 5.0)


def _longest_stay(seconds: Floats, values: Floats, middle: float, band: float) -> float:
    inside = np.abs(np.round(values, 9) - middle) <= band
    limit, longest, start = 2.0 * np.median(np.diff(seconds)), 0.0, None
    for i, good in enumerate(inside):
        if not good:
            start = None
        elif start is None or seconds[i] - seconds[i - 1] > limit:
            start = i
        if start is not None:
            longest = max(longest, float(seconds[i] - seconds[start]))
    return longest


def test_the_repeated_hour_of_a_two_hour_logger_keeps_its_true_length(shared: Path) -> None:
    # as stated: the true interval is 7200 s and the true duration 14738400 s; the file alone does not prove it
    log, _, _ = _log(shared, "button_logger_us_dates.csv")
    assert log.seconds[-1] == 14738400.0
    assert set(np.diff(log.seconds)) == {7200.0}
    assert not log.order_certain
    assert any("occurred twice" in remark.what for remark in log.remarks)


@pytest.mark.parametrize("name", CURVES)
def test_pull_curves(shared: Path, name: str) -> None:
    path, reading = _stated(shared, "force", name)
    description = read_pull_description(HERE / "descriptions" / f"{path.stem}.toml")
    curve = read_pull_curve(path, description)
    travel_scale = {"mm": 1e-3, "m": 1.0}[reading["travel_unit"]]
    force_scale = {"N": 1.0, "kN": 1e3}.get(reading["force_unit"], 1.0)
    travel, force = curve.travel / travel_scale, curve.force / force_scale
    assert len(curve.rows) == reading["rows"]
    peak = int(np.argmax(force))
    span = travel.max() - travel[0]
    middle = (travel >= travel[0] + 0.25 * span) & (travel <= travel[0] + 0.75 * span)
    found = {
        "peak_force": force[peak],
        "travel_at_peak": travel[peak],
        "min_force": force.min(),
        "first_force": force[0],
        "last_force": force[-1],
        "mean_force_rows": force.mean(),
        "travel_first": travel[0],
        "travel_last": travel[-1],
        "travel_min": travel.min(),
        "travel_max": travel.max(),
        "mean_force_middle_half_of_travel": force[middle].mean(),
    }
    for word, value in found.items():
        assert value == pytest.approx(reading[word], rel=SIX_DIGITS, abs=1e-12), word
    assert np.trapezoid(force, travel) == pytest.approx(reading["energy_trapezoid"], rel=1e-4)


def test_the_second_table_is_not_read_as_data(shared: Path) -> None:
    path, reading = _stated(shared, "force", "compression_decimal_comma.csv")
    curve = read_pull_curve(path, read_pull_description(HERE / "descriptions" / f"{path.stem}.toml"))
    assert curve.force.min() == pytest.approx(1e3 * reading["most_compressive_kN"], rel=SIX_DIGITS)
    assert any("not part of the table" in remark.what for remark in curve.remarks)
