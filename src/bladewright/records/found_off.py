"""A sensor was found off: every cure on file that may have been judged by it, and whose verdict that makes worse."""

import datetime
from collections.abc import Callable
from dataclasses import dataclass

from bladewright.drawing.limits import CureLimits
from bladewright.errors import BadInput
from bladewright.evidence.records import CureLog
from bladewright.figures import Finding, Outcome, counted
from bladewright.proof.affected_runs import AffectedRuns, Run, RunReview, SensorFound, review_affected_runs
from bladewright.proof.cure import judge_cure
from bladewright.proof.reached_runs import at_shares, day_begins, known_somewhere, ways_off
from bladewright.records.book import opened
from bladewright.records.cure_inputs import newest_logger
from bladewright.records.runs import filed_runs


@dataclass(frozen=True, slots=True)
class FoundOff:
    """What somebody found at a calibration, as they wrote it."""

    sensor: str
    off: str  # "4 degC" read too much, "+/- 4 degC" nobody knows which way
    last_good: datetime.date | None  # None: never
    found: datetime.date
    channel: str = ""


@dataclass(frozen=True, slots=True)
class ReachedRun:
    """One run it may have reached."""

    review: RunReview
    sha256: str
    outcomes: tuple[Outcome, ...]  # with none, half and all of the offset


@dataclass(frozen=True, slots=True)
class Reached:
    """The review one way: read too much, or too little."""

    review: AffectedRuns
    runs: tuple[ReachedRun, ...]
    not_judged: tuple[tuple[str, str], ...]  # files, and why: they count


def reached_runs(asked: FoundOff, tell: Callable[[str], None] = lambda _: None) -> tuple[Reached, ...]:
    """The cures on file judged again at none, half and all of it; two reviews where nobody knows which way."""
    zone = opened().zone
    since = None if asked.last_good is None else day_begins(asked.last_good, zone)
    until = day_begins(asked.found + datetime.timedelta(days=1), zone)
    if asked.last_good is not None and asked.last_good > asked.found:
        raise BadInput(
            "is after the day it was found off", field="last_good", value=asked.last_good.isoformat(),
            allowed=f"{asked.found.isoformat()} or earlier", fix="check both days",
        )  # fmt: skip
    offsets = ways_off(asked.off)
    tell("reading the cures on file")
    runs, without = filed_runs(asked.sensor, asked.channel, since)
    known_somewhere(runs, asked.channel)
    hashes = {_named(run): run.log.source.sha256 for run in runs}
    judged = set()

    def judge(log: CureLog, limits: CureLimits) -> tuple[Finding, ...]:
        judged.add(log.source.sha256)
        tell(f"judging again: {len(judged)} of {counted(len(runs), 'run')}")
        return judge_cure(log, limits)

    found = []
    for offset in offsets:
        sensor = SensorFound(asked.sensor, offset, since, until)
        review = review_affected_runs(sensor, runs, judge)
        shares = {(one.file, one.started, one.serials): one.outcomes for one in at_shares(sensor, runs, review)}
        found.append(
            Reached(
                review,
                tuple(
                    ReachedRun(one, hashes[name], shares[name])
                    for one in review.reviewed
                    for name in ((one.file, one.started, one.serials),)
                ),
                without,
            )
        )
    return tuple(found)


def _named(run: Run) -> tuple[str, str, tuple[str, ...]]:
    """What a review tells a run by."""
    return run.log.source.file, "" if run.log.start is None else run.log.time_of(0), run.serials


def sensors_on_file() -> tuple[str, ...]:
    """The mould sensors that the newest filed cure was logged by."""
    how = newest_logger()
    return () if how is None else tuple(form.name or str(form.column) for form in how.columns if form.role == "mould")
