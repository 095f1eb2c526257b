"""A sensor was found off: which cures that reaches, and which verdicts change.

Nobody knows when it went off. Every run since it was last known good is judged again with none, half and all of what
was found, rule by rule, and the worst stands. A correction therefore never lifts a fail, and cannot.
"""

import datetime
import math
from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass, replace
from typing import Final

from bladewright.drawing.limits import CureLimits
from bladewright.errors import BadInput
from bladewright.evidence.records import CureLog
from bladewright.figures import Finding, Outcome, counted
from bladewright.proof.cure import judge_cure
from bladewright.proof.sensor_faults import FAULTS
from bladewright.proof.wording import fahrenheit_steps

Judge = Callable[[CureLog, CureLimits], tuple[Finding, ...]]

#: how much of the offset is taken to have been there (common practice, no source)
SHARES: Final = (0.0, 0.5, 1.0)
#: the worse of two outcomes is the one further on
_WORSE: Final = (Outcome.PASS, Outcome.REFER, Outcome.MISSING, Outcome.FAIL)


@dataclass(frozen=True, slots=True)
class SensorFound:
    """What a calibration found: the sensor read so much more than was true."""

    sensor: str
    offset: float  # [K] reading less true; above zero: the blade was colder than the log says
    last_good: datetime.datetime | None  # when it last was known good; None: never, so every run counts
    found: datetime.datetime  # when it was found off and taken out of use


@dataclass(frozen=True, slots=True, eq=False)
class Run:
    """One cure on file: its log, the limits it was judged by, the serials in it, and where the sensor sat."""

    log: CureLog
    limits: CureLimits
    serials: tuple[str, ...] = ()
    channel: str | None = None  # the sensor's channel in that run; None: not on record, so it may have been any
    used: bool = True  # False only where a record shows that the sensor was not in that run


@dataclass(frozen=True, slots=True)
class ChangedRule:
    """A rule that came out worse, with how much of the offset that took."""

    rule: str
    before: Outcome
    after: Outcome
    share: float  # the least share tried at which it came out so [1]
    channel: str  # the channel the sensor was taken to be on
    sentence: str


@dataclass(frozen=True, slots=True)
class RunReview:
    """One run judged at every share, the worst of each rule."""

    file: str
    serials: tuple[str, ...]
    started: str  # UTC, or "" where the log has no clock
    before: Outcome
    after: Outcome
    findings: tuple[Finding, ...]  # the worst of each rule
    changed: tuple[ChangedRule, ...]
    remark: str = ""  # why it is counted, where that is not plain


@dataclass(frozen=True, slots=True)
class AffectedRuns:
    """Every run that was looked at."""

    sensor: str
    told: str
    reviewed: tuple[RunReview, ...]
    not_reached: tuple[tuple[str, str], ...]  # file, and why the sensor does not reach it

    @property
    def changed(self) -> tuple[RunReview, ...]:
        """Runs whose verdict on the cure is worse than it was."""
        return tuple(run for run in self.reviewed if run.after is not run.before)

    @property
    def serials(self) -> tuple[str, ...]:
        """Serials whose cure verdict is worse than it was."""
        return tuple(sorted({serial for run in self.changed for serial in run.serials}))


def review_affected_runs(found: SensorFound, runs: Sequence[Run], judge: Judge = judge_cure) -> AffectedRuns:
    """Every run since the sensor was last good, judged at none, half and all of what was found.

    ``judge`` is how those runs were judged: by their readings, or through the calibrations of their day.
    """
    _can_be(found)
    reviewed, spared = [], []
    for run in runs:
        why = _not_reached(found, run)
        if why:
            spared.append((run.log.source.file, why))
        else:
            reviewed.append(_reviewed(found, run, judge))
    review = AffectedRuns(found.sensor, "", tuple(reviewed), tuple(spared))
    return replace(review, told=_told(found, review))


def worst_outcome(findings: Iterable[Finding]) -> Outcome:
    """The worst of some findings; of none it is missing."""
    return max((finding.outcome for finding in findings), key=_WORSE.index, default=Outcome.MISSING)


def worse(one: Outcome, than: Outcome) -> bool:
    """Whether an outcome is worse than another: fail, missing, refer, pass."""
    return _WORSE.index(one) > _WORSE.index(than)


def shifted(log: CureLog, channel: str, by: float) -> CureLog:
    """The log with one channel's readings moved by so much [K]."""
    names = [one.name for one in log.channels]
    values = log.values.copy()
    values[:, names.index(channel)] += by
    return replace(log, values=values)


def _can_be(found: SensorFound) -> None:
    if not math.isfinite(found.offset):
        raise BadInput(
            "is not a difference of temperature", field="offset", value=str(found.offset), allowed="a finite number",
            fix="enter what the sensor read less what was true",
        )  # fmt: skip
    for field, moment in (("last_good", found.last_good), ("found", found.found)):
        if moment is not None and moment.tzinfo is None:
            raise BadInput(
                "has no zone", field=field, value=moment.isoformat(), allowed="a time with its offset from UTC",
                fix="say in which zone the clock was",
            )  # fmt: skip
    if found.last_good is not None and found.last_good > found.found:
        raise BadInput(
            "was last good after it was found off", field="last_good", value=found.last_good.isoformat(),
            allowed=f"at most {found.found.isoformat()}", fix="check both dates",
        )  # fmt: skip


def _not_reached(found: SensorFound, run: Run) -> str:
    """Why a run is left out; empty where it counts. Without a clock it counts."""
    if not run.used:
        return "the record shows that the sensor was not in this run"
    if run.log.start is None:
        return ""
    ended = run.log.start + datetime.timedelta(seconds=float(run.log.seconds[-1]))
    if found.last_good is not None and ended < found.last_good:
        return "ended before the sensor was last known good"
    return "began after the sensor was taken out of use" if run.log.start > found.found else ""


def _reviewed(found: SensorFound, run: Run, judge: Judge) -> RunReview:
    channels, remark = _channels(found, run)
    before = judge(run.log, run.limits)
    worst = {finding.rule: finding for finding in before}
    changed: dict[str, ChangedRule] = {}
    for share in SHARES[1:]:
        for channel in channels:
            for finding in judge(shifted(run.log, channel, -share * found.offset), run.limits):
                held = worst[finding.rule]
                if finding.rule == FAULTS or not worse(finding.outcome, held.outcome):
                    continue  # the trial itself makes the sensor depart from the others: that is no new suspicion
                worst[finding.rule] = finding
                first = changed.get(finding.rule)
                changed[finding.rule] = ChangedRule(
                    finding.rule, first.before if first else held.outcome, finding.outcome, share, channel,
                    finding.sentence,
                )  # fmt: skip
    findings = tuple(worst.values())
    return RunReview(
        file=run.log.source.file,
        serials=run.serials,
        started="" if run.log.start is None else run.log.time_of(0),
        before=worst_outcome(before),
        after=worst_outcome(findings),
        findings=findings,
        changed=tuple(changed.values()),
        remark=" ".join(filter(None, (remark, _clockless(run.log)))),
    )


def _clockless(log: CureLog) -> str:
    return "The log has no clock, so it is counted." if log.start is None else ""


def _channels(found: SensorFound, run: Run) -> tuple[tuple[str, ...], str]:
    """Where the sensor may have sat in a run: on its channel, or on any mould sensor's where that is not on record."""
    names = tuple(channel.name for channel in run.log.channels)
    if run.channel is None:
        every = tuple(names[column] for column in run.log.with_role("mould"))
        return every, f"It is not on record where {found.sensor} sat, so each mould sensor was tried."
    if run.channel not in names:
        raise BadInput(
            "is not a channel of this log", file=run.log.source.file, field="channel", value=run.channel,
            allowed=", ".join(names), fix="name the channel as the logger description does",
        )  # fmt: skip
    return (run.channel,), ""


def _told(found: SensorFound, review: AffectedRuns) -> str:
    """The answer in two sentences."""
    way = "high" if found.offset > 0.0 else "low"
    off = f"{abs(found.offset):.3g} K ({fahrenheit_steps(abs(found.offset)):.3g} degF) {way}"
    since = "ever" if found.last_good is None else f"since {found.last_good:%Y-%m-%d}"
    said = f"{found.sensor} read {off}; {counted(len(review.reviewed), 'run')} {since} may have been judged by it. "
    quietly = [run.file for run in review.reviewed if run.changed and run.after is run.before]
    if quietly:
        said += f"Some rules get worse where the verdict was no better already: {', '.join(quietly)}. "
    if not review.changed:
        return said + "No verdict gets worse; none gets better by this."
    worse = f"{counted(len(review.changed), 'verdict')} on a cure {'get' if len(review.changed) > 1 else 'gets'} worse"
    return said + f"{worse}: {', '.join(run.file for run in review.changed)}. None gets better by this."
