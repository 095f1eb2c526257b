"""The ovens and gauges on file on a day: may each be used, and what falls due when."""

import datetime
from collections.abc import Iterable, Sequence
from dataclasses import dataclass

from bladewright.evidence.calibration import Calibration
from bladewright.evidence.gauge_file import Gauge
from bladewright.evidence.oven_file import Oven
from bladewright.figures import Finding, Outcome, worst_of
from bladewright.proof.dues import AHEAD, Due, due_on
from bladewright.proof.oven_ready import oven_ready
from bladewright.records.book import opened
from bladewright.records.shop_files import Shelf, ShopFileLine, readable, shelf
from bladewright.records.shop_kinds import CALIBRATION, GAUGE, OVEN, SURVEY, OvenWithSensors

SURVEYED, CHECKED, CALIBRATED, GAUGED = "zone survey", "sensor check", "calibration", "calibration"


@dataclass(frozen=True, slots=True)
class OvenOnFile:
    """One oven on one day."""

    name: str
    file: ShopFileLine
    sensors: tuple[str, ...]  # the mould sensors a cure is judged by
    day: datetime.date
    ready: tuple[Finding, ...]
    dues: tuple[Due, ...]  # the survey, each sensor's check, each sensor's calibration
    surveys: tuple[ShopFileLine, ...]  # logs of surveys on file

    @property
    def outcome(self) -> Outcome:
        """Whether it may be used that day."""
        return worst_of(self.ready)


@dataclass(frozen=True, slots=True)
class GaugeOnFile:
    """One gauge on one day. One that was set aside is due for nothing."""

    file: ShopFileLine
    gauge: Gauge
    due: Due | None


def oven_on_file(now: datetime.datetime, days: int = AHEAD, on_shelf: Shelf | None = None) -> tuple[OvenOnFile, ...]:
    """Every oven whose file is kept, with every rule on it for the shop's day."""
    day = opened().day(now)
    files = shelf(day) if on_shelf is None else on_shelf
    calibrations: list[Calibration] = [found for _, found in readable(files.get(CALIBRATION, ()))]
    surveys = files.get(SURVEY, ())
    found = []
    kept: OvenWithSensors
    for line, kept in readable(files.get(OVEN, ())):
        found.append(
            OvenOnFile(
                kept.oven.name,
                line,
                kept.sensors,
                day,
                oven_ready(kept.oven, kept.sensors, day, calibrations),
                (
                    _survey(kept.oven, day, days),
                    *(_check(kept.oven, sensor, day, days) for sensor in kept.sensors),
                    *(_calibration(calibrations, sensor, day, days) for sensor in kept.sensors),
                ),
                surveys,
            )
        )
    return tuple(found)


def gauges_on_file(now: datetime.datetime, days: int = AHEAD, on_shelf: Shelf | None = None) -> tuple[GaugeOnFile, ...]:
    """Every gauge, in order of name."""
    day = opened().day(now)
    files = shelf(day) if on_shelf is None else on_shelf
    return tuple(_gauge(line, gauge, day, days) for line, gauge in readable(files.get(GAUGE, ())))


def _gauge(line: ShopFileLine, gauge: Gauge, day: datetime.date, days: int) -> GaugeOnFile:
    if gauge.set_aside:
        return GaugeOnFile(line, gauge, None)
    good = gauge.found != "outside its limits"
    due = due_on(day, GAUGED, gauge.name, gauge.calibrated_on, gauge.due, by=gauge.calibrated_by, good=good, ahead=days)
    return GaugeOnFile(line, gauge, due)


def _survey(oven: Oven, day: datetime.date, days: int) -> Due:
    done = [one for one in oven.surveys if one.done_on <= day]
    if not done:
        return due_on(day, SURVEYED, oven.name, None, None, ahead=days)
    newest = max(done, key=lambda one: one.done_on)
    return due_on(day, SURVEYED, oven.name, newest.done_on, newest.due, by=newest.by, good=newest.passed, ahead=days)


def _check(oven: Oven, sensor: str, day: datetime.date, days: int) -> Due:
    mine = [one for one in oven.checks if one.channel == sensor and one.done_on <= day]
    if not mine:
        return due_on(day, CHECKED, sensor, None, None, ahead=days)
    newest = max(mine, key=lambda one: one.done_on)
    return due_on(day, CHECKED, sensor, newest.done_on, newest.due, by=newest.by, ahead=days)


def _calibration(calibrations: Sequence[Calibration], sensor: str, day: datetime.date, days: int) -> Due:
    newest = _lasting(one for one in calibrations if one.channel == sensor and one.calibrated_on <= day)
    if newest is None:
        return due_on(day, CALIBRATED, sensor, None, None, ahead=days)
    return due_on(day, CALIBRATED, sensor, newest.calibrated_on, newest.due, by=newest.calibrated_by, ahead=days)


def _lasting(calibrations: Iterable[Calibration]) -> Calibration | None:
    """The one that holds longest: that is the day the sensor falls due."""
    return max(calibrations, key=lambda one: (one.due, one.calibrated_on), default=None)
