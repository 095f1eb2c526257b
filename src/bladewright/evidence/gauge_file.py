"""One gauge of the shop: what it measures, when it was calibrated, until when that holds, and how it was found."""

import datetime
from dataclasses import dataclass
from pathlib import Path
from typing import Literal, Self

from pydantic import Field, model_validator

from bladewright.errors import BadInput
from bladewright.evidence.dates import Date
from bladewright.evidence.files import opened
from bladewright.evidence.records import Source
from bladewright.evidence.shop_file import Words
from bladewright.typed import Record, as_custom, toml_table, validated

#: how a gauge was found at its calibration, before anything was set right
Found = Literal["within its limits", "outside its limits"]


@dataclass(frozen=True, slots=True)
class Gauge:
    """A gauge as entered. No calibration: nobody can say what it reads."""

    source: Source
    name: str  # as dimension sheets and weighings call it
    measures: str
    calibrated_on: datetime.date | None
    due: datetime.date | None
    calibrated_by: str
    found: Found | None
    set_aside: bool  # no longer measured with

    def holds_on(self, day: datetime.date) -> bool:
        """Whether a day is one of those the calibration is good for."""
        return self.calibrated_on is not None and self.due is not None and self.calibrated_on <= day <= self.due


class _Calibrated(Record):
    on: Date
    due: Date
    by: Words
    found: Found

    @model_validator(mode="after")
    def _in_order(self) -> Self:
        if self.due < self.on:
            raise as_custom(
                BadInput(
                    "is due before it was done", value=self.due.isoformat(),
                    allowed=f"at least {self.on.isoformat()}", fix="check both dates",
                )
            )  # fmt: skip
        return self


class _GaugeFile(Record):
    format: int = Field(ge=1, le=1)
    gauge: Words
    measures: Words
    calibrated: _Calibrated | None = None
    set_aside: bool = False


def gauge_bytes(
    name: str,
    measures: str,
    calibrated_on: datetime.date,
    due: datetime.date,
    by: str,
    found: Found,
    *,
    set_aside: bool = False,
) -> bytes:
    """A gauge's file with one calibration; ``read_gauge`` reads it back."""
    import tomlkit

    document = tomlkit.document()
    document["format"] = 1
    document["gauge"], document["measures"] = name, measures
    if set_aside:
        document["set_aside"] = True
    document["calibrated"] = {"on": calibrated_on, "due": due, "by": by, "found": found}
    return tomlkit.dumps(document).encode("utf-8")


def read_gauge(gauge: Path | bytes, file: str = "") -> Gauge:
    """The gauge; ``SeveralBadInputs`` names everything wrong."""
    data, source = opened(gauge, file)
    entered = validated(_GaugeFile, toml_table(data, source.file), source.file, "a gauge's file")
    done = entered.calibrated
    return Gauge(
        source=source,
        name=entered.gauge,
        measures=entered.measures,
        calibrated_on=None if done is None else done.on,
        due=None if done is None else done.due,
        calibrated_by="" if done is None else done.by,
        found=None if done is None else done.found,
        set_aside=entered.set_aside,
    )
