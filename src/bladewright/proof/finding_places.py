"""Where in a log each finding was seen: at which minute, on which channel, at what reading."""

import datetime
import math
from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from bladewright.evidence.records import CureLog
from bladewright.figures import Finding, Outcome, Where
from bladewright.proof.wording import minutes


@dataclass(frozen=True, slots=True)
class Place:
    """One place of one finding, in the log's own time. ``number`` is the finding's in the list it was taken from."""

    number: int  # from 1
    rule: str
    outcome: Outcome
    channel: str  # the first one named; "" where the finding is on all of them
    start: float  # [s] from the first row
    end: float | None  # [s] None: a moment and not a stretch
    reading: float | None  # of the channel at the start [K] or [Pa]; None: no channel, or no reading
    began: str  # by the clock on the wall

    @property
    def from_minute(self) -> float:
        """Where it starts on a chart. [min]"""
        return round(minutes(self.start), 2)

    @property
    def to_minute(self) -> float:
        """Where it ends on a chart. [min]"""
        return self.from_minute if self.end is None else round(minutes(self.end), 2)


def finding_places(log: CureLog, findings: Sequence[Finding]) -> tuple[Place, ...]:
    """Every place of every finding that names a time in this log; a finding on the whole file has none."""
    return tuple(
        place
        for number, finding in enumerate(findings, start=1)
        for where in finding.where
        if (place := _placed(log, number, finding, where)) is not None
    )


def _placed(log: CureLog, number: int, finding: Finding, where: Where) -> Place | None:
    start = _seconds(log, where.time)
    if where.file not in ("", log.source.file) or start is None:
        return None
    columns = {channel.name: column for column, channel in enumerate(log.channels)}
    named = [name for name in (where.channel, *where.channel.split(", ")) if name in columns]
    sample = min(int(np.searchsorted(log.seconds, start)), len(log.seconds) - 1)
    reading = float(log.values[sample, columns[named[0]]]) if named else math.nan
    return Place(
        number=number,
        rule=finding.rule,
        outcome=finding.outcome,
        channel=named[0] if named else "",
        start=start,
        end=_seconds(log, where.until),
        reading=None if math.isnan(reading) else reading,
        began=log.clock_of(sample),
    )


def _seconds(log: CureLog, written: str) -> float | None:
    """A time as a finding has it, in seconds from the log's first row; None where it has none."""
    if not written:
        return None
    if log.start is None:
        return float(written.removesuffix(" s"))
    return (datetime.datetime.fromisoformat(written) - log.start).total_seconds()
