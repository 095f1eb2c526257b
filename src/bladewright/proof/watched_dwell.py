"""The dwell of a running cure: what is counted so far, what is left, and when it may end if every zone stays."""

import datetime
import zoneinfo
from dataclasses import dataclass
from enum import StrEnum

import numpy as np

from bladewright.drawing.limits import CureLimits
from bladewright.evidence.records import CureLog
from bladewright.figures import Figure, clock_text
from bladewright.proof.dwell import band, inside
from bladewright.proof.mould import Mould
from bladewright.proof.watched_channels import FAR, FLOOR, ChannelNow
from bladewright.proof.wording import figure, minutes


class Stage(StrEnum):
    """Where a cure stands, by its mould sensors."""

    BEFORE = "before heat"
    HEATING = "heating"
    DWELL = "in the dwell"
    DONE = "dwell complete"
    SHORT = "dwell broken off"
    COOLING = "cooling"
    RELEASED = "cold enough to release"


@dataclass(frozen=True, slots=True)
class DwellNow:
    """The dwell so far. Runs are never added: one that breaks off counts anew."""

    stage: Stage
    counted: Figure  # of the run that is under way, or the longest there was
    sure: Figure | None  # the same with the band drawn in by the sensors' uncertainty
    left: Figure | None  # until the least dwell is complete; None: complete, or not under way
    ends: str  # when, by the clock on the wall; "" where nothing says so
    told: str
    warnings: tuple[str, ...] = ()
    not_shown: tuple[str, ...] = ()  # the cure is over and its least dwell is not in the log


@dataclass(frozen=True, slots=True)
class _Stay:
    """Runs in the band: how long the one at the latest row is, and the longest there was. [s]"""

    now: float
    longest: float
    began: int | None  # sample the present one began at


def dwell_now(mould: Mould, limits: CureLimits, channels: tuple[ChannelNow, ...]) -> DwellNow:
    """Where the dwell stands at the latest row."""
    log = mould.log
    stay = _stay(mould, limits, 0.0)
    sure = None if limits.sensor_uncertainty is None else _stay(mould, limits, limits.sensor_uncertainty)
    complete = limits.dwell_least * (1.0 - 1e-9)
    stage = _stage(mould, limits, stay, complete)
    running = stay.began is not None
    counted = stay.now if running else stay.longest
    certain = None if sure is None else (sure.now if running else sure.longest)
    left, ends, said = None, "", _TOLD[stage]
    latest = float(log.seconds[-1])
    if stage is Stage.DWELL:
        left = limits.dwell_least - (counted if certain is None else certain)
        ends = clock_at(log, latest + left)
        said = f"{minutes(counted):.1f} of {minutes(limits.dwell_least):.4g} min; may end at {ends} if every zone stays"
    elif stage is Stage.HEATING and (arrives := _arrival(channels)) is not None:
        ends = clock_at(log, latest + arrives + limits.dwell_least)
        said = f"the slowest zone arrives in {minutes(arrives):.0f} min at the present rate, which slows "
        said += f"near the target; the dwell would end at {ends} at the earliest"
    elif stage is Stage.DONE:
        said = f"{minutes(counted):.1f} of {minutes(limits.dwell_least):.4g} min: complete"
        if certain is not None and certain < complete:
            said += f" by the readings, but only {minutes(certain):.1f} min are sure by their uncertainty"
        if limits.dwell_greatest is not None:
            out_by = float(log.seconds[stay.began or 0]) + limits.dwell_greatest
            said += f"; out of the band by {clock_at(log, out_by)}"
    elif stage in (Stage.COOLING, Stage.RELEASED, Stage.SHORT):
        said += f"; the longest dwell was {minutes(stay.longest):.1f} of {minutes(limits.dwell_least):.4g} min"
    return DwellNow(
        stage=stage,
        counted=_minutes("dwell counted", counted, mould, limits),
        sure=None if certain is None else _minutes("dwell counted, band drawn in by U", certain, mould, limits),
        left=None if left is None else _minutes("dwell left", left, mould, limits),
        ends=ends,
        told=said,
        warnings=_warnings(stage, stay, left, channels, limits),
        not_shown=(said,) if stage is Stage.RELEASED and stay.longest < complete else (),
    )


_TOLD = {
    Stage.BEFORE: "heat is not on yet",
    Stage.HEATING: "on the way to the band",
    Stage.DWELL: "",
    Stage.DONE: "",
    Stage.SHORT: "a zone left the band, or could not be read, before the dwell was complete",
    Stage.COOLING: "cooling down",
    Stage.RELEASED: "cold enough to release",
}


def _minutes(name: str, seconds: float, mould: Mould, limits: CureLimits) -> Figure:
    return figure(
        name, minutes(seconds), "min", None, method="samples with every mould sensor in the band, unbroken",
        source=mould.log.source.file, limits_source=limits.source,
    )  # fmt: skip


def clock_at(log: CureLog, seconds: float) -> str:
    """A moment so many seconds from the first row, by the clock on the wall; else in minutes of the log."""
    if log.start is None:
        return f"{minutes(seconds):.0f} min of the log"
    moment = log.start + datetime.timedelta(seconds=seconds + 59.0)  # the minute by which it is sure to have come
    return clock_text(moment.astimezone(zoneinfo.ZoneInfo(log.zone)).replace(second=0, microsecond=0))


def _stay(mould: Mould, limits: CureLimits, narrower: float) -> _Stay:
    """Unbroken runs of samples in the band; neither a hole nor a doubt is bridged."""
    low, high = band(limits, narrower)
    held = inside(mould, low, high) & ~mould.doubted
    seconds = mould.log.seconds
    starts = held.copy()
    starts[1:] &= ~held[:-1]
    starts[mould.holes + 1] |= held[mould.holes + 1]
    firsts = np.flatnonzero(starts)
    if not len(firsts):
        return _Stay(0.0, 0.0, None)
    samples = np.flatnonzero(held)
    run = np.searchsorted(firsts, samples, side="right") - 1
    lasts = samples[np.flatnonzero(np.diff(run, append=run[-1] + 1))]
    lengths = seconds[lasts] - seconds[firsts]
    running = bool(held[-1])
    return _Stay(float(lengths[-1]) if running else 0.0, float(lengths.max()), int(firsts[-1]) if running else None)


def _stage(mould: Mould, limits: CureLimits, stay: _Stay, complete: float) -> Stage:
    low, _ = band(limits, 0.0)
    hottest = mould.hottest[~np.isnan(mould.hottest)]
    begun = limits.target - limits.below if limits.heat_begins is None else limits.heat_begins
    peak = float(hottest.max()) if len(hottest) else 0.0
    latest = float(hottest[-1]) if len(hottest) else 0.0
    been_in = bool((mould.coldest >= low).any())
    if limits.release is not None and been_in and latest < limits.release:
        return Stage.RELEASED
    if stay.began is not None:
        return Stage.DONE if stay.now >= complete else Stage.DWELL
    if stay.longest >= complete:
        return Stage.COOLING
    if been_in:
        return Stage.SHORT
    return Stage.HEATING if peak > begun or limits.heat_begins is None else Stage.BEFORE


def _arrival(channels: tuple[ChannelNow, ...]) -> float | None:
    """How long until the slowest mould sensor is in the band at the present rate [s]; None where one is not coming."""
    slowest = 0.0
    for channel in channels:
        if channel.role != "mould" or channel.state == "in the band":
            continue
        if channel.state != "below the band" or channel.to_limit is None:
            return None
        slowest = max(slowest, 60.0 * channel.to_limit.value)
    return slowest if slowest <= FAR else None


def _warnings(
    stage: Stage, stay: _Stay, left: float | None, channels: tuple[ChannelNow, ...], limits: CureLimits
) -> tuple[str, ...]:
    """What stands against the dwell."""
    found = []
    if stage is Stage.DWELL and stay.longest > stay.now:
        found.append(
            f"The dwell broke off after {minutes(stay.longest):.1f} min and counts anew: runs are never added. "
            "A second dwell is a new process and needs its own proof."
        )
    if stage is Stage.SHORT:
        found.append(
            f"Not every zone is known to be in the band; the dwell stands at {minutes(stay.longest):.1f} of "
            f"{minutes(limits.dwell_least):.4g} min. Do not open the mould and do not add time by hand for it: ask "
            "a person with design authority."
        )
    if stage is Stage.DWELL and left is not None:
        found += [
            f"{channel.channel} leaves the band in {channel.to_limit.value:.0f} min at the present rate, and "
            f"{minutes(left):.0f} min of the dwell are left."
            for channel in channels
            if channel.role == "mould" and channel.to_limit is not None and channel.to_limit.value < minutes(left)
            and channel.limit.startswith(FLOOR)
        ]  # fmt: skip
    return tuple(found)
