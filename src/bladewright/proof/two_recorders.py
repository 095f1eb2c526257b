"""Several logs of one run, side by side: each is judged, the worst of each rule stands, and they must agree."""

import itertools
import math
from collections.abc import Callable, Sequence
from dataclasses import replace

import numpy as np

from bladewright.drawing.limits import CureLimits
from bladewright.errors import BadInput
from bladewright.evidence.records import CureLog, Floats
from bladewright.figures import Finding, Outcome, Where
from bladewright.proof.affected_runs import worse
from bladewright.proof.comparing import held_to
from bladewright.proof.cure import judge_cure
from bladewright.proof.mould import HOLE
from bladewright.proof.wording import fahrenheit_steps, figure, ruled

AGREE = "cure: recorders agree"
#: what two sensors of one zone may differ by where no uncertainty is entered: the band's narrower side [1], our choice
SHARE_OF_BAND = 0.5


Judge = Callable[[CureLog, CureLimits], tuple[Finding, ...]]


def judge_recorders(logs: Sequence[CureLog], limits: CureLimits, judge: Judge = judge_cure) -> tuple[Finding, ...]:
    """Every rule at its worst over all logs of one run, and whether the logs agree; one log is judged as it is."""
    if not logs:
        raise BadInput("no log was given", field="logs", allowed="at least one log of the run")
    worst: dict[str, Finding] = {}
    for log in logs:
        for finding in judge(log, limits):
            held = worst.get(finding.rule)
            worst[finding.rule] = finding if held is None or worse(finding.outcome, held.outcome) else held
    pairs = [recorders_agree(one, other, limits) for one, other in itertools.combinations(logs, 2)]
    told = [replace(one, rule=f"{one.rule} ({number})") for number, one in enumerate(pairs, 1)]
    return (*worst.values(), *(pairs if len(pairs) == 1 else told))


def recorders_agree(one: CureLog, other: CureLog, limits: CureLimits) -> Finding:
    """Mould sensors of the same zone in two logs of one run, at the times both recorded."""
    files = f"{one.source.file} and {other.source.file}"
    shift = _shift(one, other)
    apart = [] if shift is None else list(_apart(one, other, shift, limits))
    allowed = SHARE_OF_BAND * min(limits.below, limits.above)
    if limits.sensor_uncertainty is not None:
        allowed = math.sqrt(2.0) * limits.sensor_uncertainty  # two sensors, each with its own error
    limit = f"at most {fahrenheit_steps(allowed):.3g} degF apart"
    if not apart:
        why = "one counts seconds only" if shift is None else "no zone of the mould is in both at the same time"
        return ruled(
            AGREE, Outcome.REFER, f"{files} cannot be compared: {why}.", proof="cure", limit=limit,
            limit_source=limits.source, where=(Where(one.source.file), Where(other.source.file)),
            next_step="A person says which of them is the record of this blade.",
            would_change="two logs with their days, and the zones of their sensors",
        )  # fmt: skip
    value, column, sample = max(apart)
    outcome = Outcome.PASS if held_to(value, greatest=allowed) is Outcome.PASS else Outcome.REFER
    return ruled(
        AGREE,
        outcome,
        f"{files} differ by {fahrenheit_steps(value):.1f} degF at most, in {one.channels[column].name}.",
        proof="cure",
        worst=figure(
            "difference of two recorders", fahrenheit_steps(value), "degF", None,
            method="straight lines between the samples of the second", source=files, limits_source=limits.source,
        ),
        limit=limit,
        limit_source=limits.source,
        where=(
            Where(one.source.file, one.channels[column].name, int(one.rows[sample]), one.time_of(sample)),
            Where(other.source.file),
        ),
        next_step="Find out which of them is wrong, its clock or its sensor; until then the worse one counts.",
        would_change="a calibration of both",
    )  # fmt: skip


def _shift(one: CureLog, other: CureLog) -> float | None:
    """Seconds from the first log's start to the second's."""
    if one.start is None or other.start is None:
        return None
    return (other.start - one.start).total_seconds()


def _apart(one: CureLog, other: CureLog, shift: float, limits: CureLimits) -> list[tuple[float, int, int]]:
    """For each zone in both: greatest difference [K], the first log's column, its sample."""
    found = []
    for column in one.with_role("mould"):
        for match in other.with_role("mould"):
            mine, theirs = one.channels[column], other.channels[match]
            if not mine.zone or (mine.zone, mine.side) != (theirs.zone, theirs.side):
                continue
            difference = np.abs(one.values[:, column] - _at(other, match, one.seconds - shift, limits))
            if not np.isnan(difference).all():
                sample = int(np.nanargmax(difference))
                found.append((float(difference[sample]), column, sample))
    return found


def _at(log: CureLog, column: int, seconds: Floats, limits: CureLimits) -> Floats:
    """A channel at other times, by straight lines; nothing outside the log, across a hole or beside a silence. [K]"""
    if len(log.seconds) < 2:
        return np.full(len(seconds), np.nan)
    after = np.clip(np.searchsorted(log.seconds, seconds), 1, len(log.seconds) - 1)
    step = log.seconds[after] - log.seconds[after - 1]
    share = (seconds - log.seconds[after - 1]) / step
    low, high = log.values[after - 1, column], log.values[after, column]
    there = (share >= 0.0) & (share <= 1.0) & (step <= HOLE * limits.sample_interval * (1.0 + 1e-9))
    return np.where(there, low + share * (high - low), np.nan)
