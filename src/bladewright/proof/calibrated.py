"""A cure judged through its sensors' calibrations: corrected by the day, and as uncertain as the worst mould sensor.

The correction known on the day of the run is part of the reading. One found later is not: for that there is the review
of the runs a sensor found off may have reached, which lifts no fail.
"""

import datetime
import zoneinfo
from collections.abc import Sequence
from dataclasses import dataclass, replace

import numpy as np

from bladewright.drawing.limits import CureLimits
from bladewright.engine.metrology.combining import Combined, Contribution
from bladewright.engine.metrology.temperature_reading import RECTANGULAR, reading_uncertainty
from bladewright.engine.metrology.thermocouple_tolerance import thermocouple_tolerance
from bladewright.evidence.calibration import Calibration
from bladewright.evidence.oven_file import Instrument
from bladewright.evidence.records import CureLog
from bladewright.figures import Finding, Outcome, Where
from bladewright.proof.cure import judge_cure
from bladewright.proof.dwell import band
from bladewright.proof.wording import fahrenheit_steps, figure, ruled

CALIBRATION = "cure: calibration"


@dataclass(frozen=True, slots=True)
class SensorKnown:
    """How well one mould sensor is known at the target temperature."""

    channel: str
    calibration: Calibration | None  # None: by its class alone, or not at all
    budget: Combined | None  # None: neither calibrated nor of a known class
    overdue: bool = False  # a calibration there was, and it had run out
    beyond: bool = False  # its points do not reach over the band
    same_day: bool = False  # made on the first day of the run: nobody can say which came first


def judge_calibrated_cure(
    log: CureLog, limits: CureLimits, calibrations: Sequence[Calibration], instrument: Instrument
) -> tuple[Finding, ...]:
    """Every rule on the corrected log with the worst mould sensor's uncertainty, and one on the calibrations."""
    known = sensors_known(log, limits, calibrations, instrument)
    budgets = [one.budget.expanded for one in known if one.budget is not None]
    entered = [] if limits.sensor_uncertainty is None else [limits.sensor_uncertainty]
    # entered and worked out: the greater stands, so that neither can make the other look better
    spread = max([*budgets, *entered], default=None)
    narrowed = limits.model_copy(update={"sensor_uncertainty": spread})
    found = judge_cure(corrected(log, calibrations), narrowed)
    return (*found, calibrations_hold(log, known, limits, instrument))


def corrected(log: CureLog, calibrations: Sequence[Calibration]) -> CureLog:
    """The log with each channel's correction of the day added; the file, its rows and its hash stay what they are."""
    values = log.values.copy()
    for column, channel in enumerate(log.channels):
        calibration, _ = calibration_of(log, channel.name, calibrations)
        if calibration is not None:
            values[:, column] += calibration.correction(values[:, column])
    return replace(log, values=values)


def calibration_of(log: CureLog, channel: str, calibrations: Sequence[Calibration]) -> tuple[Calibration | None, bool]:
    """The newest calibration of a channel that holds on both days of the run; else whether one had run out."""
    days = _days(log)
    mine = sorted((one for one in calibrations if one.channel == channel), key=lambda one: one.calibrated_on)
    if days is None:
        return None, False
    good = [one for one in mine if all(one.holds_on(day) for day in days)]
    return (good[-1], False) if good else (None, any(one.due < days[1] for one in mine))


def _days(log: CureLog) -> tuple[datetime.date, datetime.date] | None:
    """First and last day of the run by the shop's clock, or None where the log has no clock."""
    if log.start is None:
        return None
    zone = zoneinfo.ZoneInfo(log.zone)
    end = log.start + datetime.timedelta(seconds=float(log.seconds[-1]))
    return log.start.astimezone(zone).date(), end.astimezone(zone).date()


def sensors_known(
    log: CureLog, limits: CureLimits, calibrations: Sequence[Calibration], instrument: Instrument
) -> tuple[SensorKnown, ...]:
    """Each mould sensor with its calibration of the day or its class, and the uncertainty that follows."""
    low, high = band(limits, 0.0)
    found = []
    for column in log.with_role("mould"):
        name = log.channels[column].name
        calibration, overdue = calibration_of(log, name, calibrations)
        if calibration is None:
            found.append(SensorKnown(name, None, _by_class(limits, instrument), overdue))
            continue
        sensor = Contribution(0.5 * calibration.uncertainty)
        of_logger = Instrument(0.0, 0.0, 0.0) if calibration.logger_included else instrument
        budget = reading_uncertainty(sensor, of_logger.accuracy, of_logger.cold_junction, instrument.resolution)
        days = _days(log)
        same_day = days is not None and calibration.calibrated_on == days[0]
        beyond = not calibration.covers(low, high)
        found.append(SensorKnown(name, calibration, budget, beyond=beyond, same_day=same_day))
    return tuple(found)


def _by_class(limits: CureLimits, instrument: Instrument) -> Combined | None:
    if instrument.wire is None or instrument.tolerance is None:
        return None
    width = float(np.max(thermocouple_tolerance(limits.target + limits.above, instrument.wire, instrument.tolerance)))
    return reading_uncertainty(
        Contribution(RECTANGULAR * width), instrument.accuracy, instrument.cold_junction, instrument.resolution
    )


def calibrations_hold(
    log: CureLog, known: Sequence[SensorKnown], limits: CureLimits, instrument: Instrument
) -> Finding:
    """Every mould sensor calibrated on the day of the run: one that had run out, or has none at all, is missing."""
    overdue = [one.channel for one in known if one.overdue]
    unknown = [one.channel for one in known if one.budget is None and not one.overdue]
    by_class = [one.channel for one in known if one.calibration is None and one.budget is not None and not one.overdue]
    beyond = [one.channel for one in known if one.beyond]
    same_day = [one.channel for one in known if one.same_day]
    said = [
        f"{', '.join(names)}: {what}."
        for names, what in (
            (overdue, "the calibration had run out on the day of the run"),
            (unknown, "neither a calibration nor a tolerance class is entered"),
            (by_class, "not calibrated; known by the class of new wire only"),
            (beyond, "the calibration's points do not reach over the band"),
            (same_day, "calibrated on the day of the run, and nobody can say which came first"),
        )
        if names
    ]
    if log.start is None:
        said.append("The log has no clock, so no calibration can be shown to hold on its day.")
    outcome = Outcome.PASS
    if by_class or beyond or same_day or log.start is None:
        outcome = Outcome.REFER
    if overdue or unknown or not known:
        outcome = Outcome.MISSING
    worst = max((one for one in known if one.budget is not None), key=lambda one: one.budget.expanded, default=None)  # type: ignore[union-attr]
    return ruled(
        CALIBRATION,
        outcome,
        " ".join(said) or "Every mould sensor was calibrated, and corrected by the calibration of the day.",
        proof="cure",
        worst=None if worst is None or worst.budget is None else figure(
            f"uncertainty of {worst.channel}", fahrenheit_steps(worst.budget.expanded), "degF", None,
            method="sensor, logger, terminals and resolution combined (JCGM 100:2008, 5.1.2), k = 2",
            source=log.source.file, limits_source=instrument.source,
        ),
        limit="every mould sensor calibrated on the day of the run",
        limit_source=limits.source,
        where=tuple(Where(log.source.file, name) for name in (*overdue, *unknown, *by_class, *beyond, *same_day)),
        deviable=False,
        next_step="Calibrate the sensor as it was found, then review the runs since it was last good.",
        would_change="a calibration that holds on the day of the run",
    )  # fmt: skip
