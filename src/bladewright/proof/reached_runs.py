"""Which runs a sensor found off may have reached, made ready for the review; and the verdict at each share."""

import datetime
import zoneinfo
from collections.abc import Sequence
from dataclasses import dataclass

from bladewright import units
from bladewright.drawing.limits import CureLimits
from bladewright.errors import BadInput
from bladewright.evidence.records import CureLog
from bladewright.figures import Outcome
from bladewright.proof.affected_runs import SHARES, AffectedRuns, Run, SensorFound, shifted, worse, worst_outcome
from bladewright.proof.cure import judge_cure
from bladewright.proof.sensor_faults import FAULTS

#: nobody wrote down which way the sensor was off
EITHER_WAY = "+/-"


@dataclass(frozen=True, slots=True)
class AtShares:
    """One run's verdict on the cure with none, half and all of the offset, the worse always kept."""

    file: str
    started: str
    serials: tuple[str, ...]
    outcomes: tuple[Outcome, ...]  # one for each of SHARES


def run_of(log: CureLog, limits: CureLimits, sensor: str, channel: str = "", serials: tuple[str, ...] = ()) -> Run:
    """A run with the sensor on the channel named for it, or of its own name; on any mould sensor where neither is."""
    names = [one.name for one in log.channels]
    found = next((name for name in (channel, sensor) if name in names), None)
    return Run(log, limits, serials, found)


def known_somewhere(runs: Sequence[Run], channel: str) -> None:
    """``BadInput`` where a channel was named that no log has: a slip of the pen would try every sensor instead."""
    names = sorted({one.name for run in runs for one in run.log.channels})
    if channel and channel not in names:
        raise BadInput(
            "is a channel of none of these logs", field="channel", value=channel, allowed=", ".join(names),
            fix="name the channel as the logger description does, or leave it out to try every mould sensor",
        )  # fmt: skip


def ways_off(written: str) -> tuple[float, ...]:
    """What a sensor was off by, reading less true [K]: one way, or both where it is written ``+/- 4 degC``."""
    bare = written.strip()
    either = bare.startswith(EITHER_WAY)
    offset = units.to_si(bare.removeprefix(EITHER_WAY).strip() if either else bare, "temperature difference")
    return (offset, -offset) if either else (offset,)


def day_begins(day: datetime.date, zone: str) -> datetime.datetime:
    """The first moment of a day by the shop's clock: runs of the day itself count."""
    return datetime.datetime.combine(day, datetime.time(), zoneinfo.ZoneInfo(zone))


def at_shares(found: SensorFound, runs: Sequence[Run], review: AffectedRuns) -> tuple[AtShares, ...]:
    """The verdict of each reviewed run at each share, on the channel where it comes out worst."""
    reviewed = {(one.file, one.started, one.serials) for one in review.reviewed}
    return tuple(_at_shares(found, run) for run in runs if _named(run) in reviewed)


def _named(run: Run) -> tuple[str, str, tuple[str, ...]]:
    """What tells a run from others in a review: two files may have one name."""
    return run.log.source.file, "" if run.log.start is None else run.log.time_of(0), run.serials


def _at_shares(found: SensorFound, run: Run) -> AtShares:
    log = run.log
    names = [log.channels[column].name for column in log.with_role("mould")]
    channels = names if run.channel is None else [run.channel]
    held = worst_outcome(judge_cure(log, run.limits))
    outcomes = [held]
    for share in SHARES[1:]:
        for channel in channels:
            judged = judge_cure(shifted(log, channel, -share * found.offset), run.limits)
            tried = worst_outcome(finding for finding in judged if finding.rule != FAULTS)  # as in the review
            held = tried if worse(tried, held) else held
        outcomes.append(held)
    return AtShares(*_named(run), tuple(outcomes))
