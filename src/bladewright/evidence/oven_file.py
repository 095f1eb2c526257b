"""What a shop enters about its oven: how evenly it must heat, its zone surveys, its sensor checks, when each is due."""

import datetime
from dataclasses import dataclass
from pathlib import Path
from typing import Annotated

from pydantic import Field, model_validator

from bladewright.engine.metrology.thermocouple import ThermocoupleType
from bladewright.engine.metrology.thermocouple_tolerance import ToleranceClass
from bladewright.errors import BadInput
from bladewright.evidence.dates import Date
from bladewright.evidence.files import opened
from bladewright.evidence.records import Source
from bladewright.evidence.shop_file import Words
from bladewright.typed import Record, as_custom, of_kind, toml_table, validated

Step = Annotated[float, *of_kind("temperature difference"), Field(gt=0.0)]


@dataclass(frozen=True, slots=True)
class SurveyLimits:
    """What a zone survey is held to."""

    target: float  # [K]
    within: float  # every survey sensor, of the target, all through the soak [K]
    soak: float  # [s]
    uncertainty: float | None  # k = 2, of a survey sensor [K]
    sample_interval: float  # [s]


@dataclass(frozen=True, slots=True)
class SurveyDone:
    """A zone survey as entered: when, until when it holds, what it found."""

    done_on: datetime.date
    due: datetime.date
    passed: bool
    log: str
    by: str


@dataclass(frozen=True, slots=True)
class SensorCheck:
    """A working sensor read beside a check sensor at one place and one time."""

    channel: str
    done_on: datetime.date
    due: datetime.date
    working: float  # [K]
    check: float  # [K] corrected by the check sensor's calibration
    by: str


@dataclass(frozen=True, slots=True)
class Instrument:
    """The logger's own part in a reading, and the wire of sensors that have no calibration. From its data sheet."""

    accuracy: float  # half width, terminals apart [K]
    cold_junction: float  # half width [K]
    resolution: float  # step between two figures [K]
    wire: ThermocoupleType | None = None
    tolerance: ToleranceClass | None = None
    source: str | None = None


@dataclass(frozen=True, slots=True)
class Oven:
    """One oven with everything entered about it."""

    source: Source
    name: str
    survey_limits: SurveyLimits
    check_greatest: float  # working less check sensor, either way [K]
    check_uncertainty: float | None  # k = 2, of that difference [K]
    surveys: tuple[SurveyDone, ...]
    checks: tuple[SensorCheck, ...]
    limits_source: str | None
    instrument: Instrument | None = None


class _Dated(Record):
    done_on: Date
    due: Date
    by: Words

    @model_validator(mode="after")
    def _in_order(self) -> "_Dated":
        if self.due < self.done_on:
            raise as_custom(
                BadInput(
                    "is due before it was done", value=self.due.isoformat(),
                    allowed=f"at least {self.done_on.isoformat()}", fix="check both dates",
                )
            )  # fmt: skip
        return self


class _Survey(_Dated):
    passed: bool
    log: str = ""


class _Check(_Dated):
    channel: Words
    working: Annotated[float, *of_kind("temperature")]
    check: Annotated[float, *of_kind("temperature")]


class _SurveyLimits(Record):
    target: Annotated[float, *of_kind("temperature")]
    within: Step
    soak: Annotated[float, *of_kind("time"), Field(gt=0.0)]
    uncertainty: Step | None = None
    sample_interval: Annotated[float, *of_kind("time"), Field(gt=0.0)]


class _CheckLimits(Record):
    greatest: Step
    uncertainty: Step | None = None


class _Logger(Record):
    accuracy: Step
    cold_junction: Step
    resolution: Step
    wire: ThermocoupleType | None = None
    tolerance: ToleranceClass | None = None
    source: str | None = None


class _OvenFile(Record):
    format: int = Field(ge=1, le=1)
    oven: Words
    source: str | None = None
    survey: _SurveyLimits
    check: _CheckLimits
    logger: _Logger | None = None
    surveys: tuple[_Survey, ...] = ()
    checks: tuple[_Check, ...] = ()


def read_oven(oven: Path | bytes, file: str = "") -> Oven:
    """The oven; ``SeveralBadInputs`` names everything wrong."""
    data, source = opened(oven, file)
    entered = validated(_OvenFile, toml_table(data, source.file), source.file, "an oven file")
    survey = entered.survey
    return Oven(
        source=source,
        name=entered.oven,
        survey_limits=SurveyLimits(
            survey.target, survey.within, survey.soak, survey.uncertainty, survey.sample_interval
        ),
        check_greatest=entered.check.greatest,
        check_uncertainty=entered.check.uncertainty,
        surveys=tuple(SurveyDone(one.done_on, one.due, one.passed, one.log, one.by) for one in entered.surveys),
        checks=tuple(
            SensorCheck(one.channel, one.done_on, one.due, one.working, one.check, one.by) for one in entered.checks
        ),
        limits_source=entered.source,
        instrument=None if entered.logger is None else Instrument(**entered.logger.model_dump()),
    )
