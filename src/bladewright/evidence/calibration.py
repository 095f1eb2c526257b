"""A calibration of one temperature sensor as entered: what it read, what was true, and until when it holds."""

import datetime
import itertools
from dataclasses import dataclass
from pathlib import Path
from typing import Annotated

import numpy as np
from pydantic import Field, model_validator

from bladewright.errors import BadInput
from bladewright.evidence.dates import Date
from bladewright.evidence.files import opened
from bladewright.evidence.records import Floats, Source
from bladewright.evidence.shop_file import Words
from bladewright.typed import Record, as_custom, of_kind, toml_table, validated


@dataclass(frozen=True, slots=True)
class Calibration:
    """What is to be added to a sensor's readings, and from which day to which. Both days are in it."""

    source: Source
    sensor: str
    channel: str  # the logger's channel the sensor sits on in these days
    calibrated_on: datetime.date
    due: datetime.date
    readings: tuple[float, ...]  # [K] increasing
    corrections: tuple[float, ...]  # [K] true less read
    uncertainty: float  # k = 2, of a corrected reading [K]
    calibrated_by: str
    logger_included: bool = False  # True: calibrated through the logger, so that its errors are in the uncertainty

    def holds_on(self, day: datetime.date) -> bool:
        """Whether a day is one of those the calibration is good for."""
        return self.calibrated_on <= day <= self.due

    def correction(self, readings: Floats) -> Floats:
        """What to add to readings [K]: by straight lines between points, the nearest point's beyond them. [K]"""
        added: Floats = np.interp(readings, self.readings, self.corrections)
        return np.where(np.isnan(readings), np.nan, added)

    def covers(self, low: float, high: float) -> bool:
        """Whether the points reach from one temperature to another [K]."""
        return self.readings[0] <= low and high <= self.readings[-1]


class _Point(Record):
    reading: Annotated[float, *of_kind("temperature")]
    true: Annotated[float, *of_kind("temperature")]


class _CalibrationFile(Record):
    format: int = Field(ge=1, le=1)
    sensor: Words
    channel: Words
    calibrated_on: Date
    due: Date
    uncertainty: Annotated[float, *of_kind("temperature difference"), Field(gt=0.0)]  # k = 2
    calibrated_by: Words
    logger_included: bool = False
    points: tuple[_Point, ...] = Field(min_length=1)

    @model_validator(mode="after")
    def _can_be(self) -> "_CalibrationFile":
        if self.due < self.calibrated_on:
            raise as_custom(
                BadInput(
                    "is due before it was done",
                    value=self.due.isoformat(),
                    allowed=f"at least {self.calibrated_on.isoformat()}",
                    fix="check both dates",
                )
            )
        readings = [point.reading for point in self.points]
        if any(later <= earlier for earlier, later in itertools.pairwise(readings)):
            raise as_custom(
                BadInput(
                    "the points do not go up in temperature",
                    allowed="each point at a reading above the one before",
                    fix="put the points in order, each one once",
                )
            )
        return self


def read_calibration(calibration: Path | bytes, file: str = "") -> Calibration:
    """The calibration; ``SeveralBadInputs`` names everything wrong."""
    data, source = opened(calibration, file)
    entered = validated(_CalibrationFile, toml_table(data, source.file), source.file, "a calibration")
    return Calibration(
        source=source,
        sensor=entered.sensor,
        channel=entered.channel,
        calibrated_on=entered.calibrated_on,
        due=entered.due,
        readings=tuple(point.reading for point in entered.points),
        corrections=tuple(point.true - point.reading for point in entered.points),
        uncertainty=entered.uncertainty,
        calibrated_by=entered.calibrated_by,
        logger_included=entered.logger_included,
    )
