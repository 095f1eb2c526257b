"""The clocks of a running cure, as whoever stands at the oven counts them: on, in the band, rising, until release.

Those that look ahead are a straight line through the latest readings, and an estimate.
"""

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from bladewright.drawing.limits import CureLimits
from bladewright.evidence.records import Floats
from bladewright.figures import Figure
from bladewright.proof.dwell import band
from bladewright.proof.mould import Mould
from bladewright.proof.watched_channels import FAR, PRESENT, ChannelNow, Slope, slope
from bladewright.proof.wording import fahrenheit, fahrenheit_per_minute, figure, minutes

#: how long before a limit somebody is told to look there first (our own choice) [s]
NEAR = 900.0


@dataclass(frozen=True, slots=True)
class SensorClock:
    """How long one mould sensor has been in the band without a break, up to the latest row."""

    channel: str
    zone: str
    here: Figure | None  # None: it is not in the band now, or cannot be believed
    since: str  # by the clock on the wall; "" where it is not in the band


@dataclass(frozen=True, slots=True)
class Clocks:
    """Every clock there is something to say of."""

    running: Figure  # from the first row
    in_band: tuple[SensorClock, ...]
    ramp: Figure | None  # of the fastest mould sensor over the window the limit is judged by; None: too short a log
    ramp_greatest: Figure  # the limit it is held to
    ramp_window: Figure
    ramp_channel: str
    release_below: Figure | None  # None: not entered
    release: Figure | None  # until the hottest mould sensor is below release; None: not cooling, or nothing says when
    release_told: str


def clocks_now(mould: Mould, limits: CureLimits) -> Clocks:
    """The clocks at the latest row."""
    log = mould.log
    believed = mould.believed(slice(None))
    fastest, channel = _fastest(mould, limits)
    release, told = _release(mould, limits)
    return Clocks(
        running=_minutes("since the first row", float(log.seconds[-1]), mould, limits, "first row to latest row"),
        in_band=tuple(_in_band(mould, limits, believed[:, place], at) for place, at in enumerate(mould.columns)),
        ramp=fastest,
        ramp_greatest=_entered("greatest ramp", fahrenheit_per_minute(limits.ramp_greatest), "degF/min", limits),
        ramp_window=_entered("window of the ramp", minutes(limits.ramp_window), "min", limits),
        ramp_channel=channel,
        release_below=None
        if limits.release is None
        else _entered("release temperature", fahrenheit(limits.release), "degF", limits),
        release=release,
        release_told=told,
    )


def _minutes(name: str, seconds: float, mould: Mould, limits: CureLimits, method: str) -> Figure:
    return figure(
        name, minutes(seconds), "min", None, method=method, source=mould.log.source.file, limits_source=limits.source
    )


def _entered(name: str, value: float, unit: str, limits: CureLimits) -> Figure:
    return figure(name, value, unit, None, method="entered", source=limits.source or "", limits_source=limits.source)


def _in_band(mould: Mould, limits: CureLimits, readings: Floats, column: int) -> SensorClock:
    """Back from the latest row to the last that was out, or could not be believed; no hole is bridged."""
    log, channel = mould.log, mould.log.channels[column]
    low, high = band(limits, 0.0)
    out = np.flatnonzero(~((readings >= low) & (readings <= high)))
    first = max(int(out[-1]) + 1 if len(out) else 0, int(mould.holes[-1]) + 1 if len(mould.holes) else 0)
    if first >= len(readings):
        return SensorClock(channel.name, channel.zone, None, "")
    here = float(log.seconds[-1] - log.seconds[first])
    shown = _minutes(f"{channel.name} in the band", here, mould, limits, "samples in the band, unbroken")
    return SensorClock(channel.name, channel.zone, shown, log.clock_of(first))


def _fastest(mould: Mould, limits: CureLimits) -> tuple[Figure | None, str]:
    """Rise of the fastest mould sensor between the latest row and the one a whole window before it."""
    log = mould.log
    begun = int(np.searchsorted(log.seconds, log.seconds[-1] - limits.ramp_window * (1.0 + 1e-9), side="left"))
    span = float(log.seconds[-1] - log.seconds[begun])
    if span < limits.ramp_window * (1.0 - 1e-9):
        return None, ""
    rows = mould.believed(np.array([begun, len(log.seconds) - 1]))
    rates = (rows[1] - rows[0]) / span
    if np.isnan(rates).all():
        return None, ""
    at = int(np.nanargmax(rates))
    name = log.channels[mould.columns[at]].name
    found = figure(
        f"{name} ramp", fahrenheit_per_minute(float(rates[at])), "degF/min", None,
        method=f"rise over the latest {minutes(span):.3g} min", source=log.source.file, limits_source=limits.source,
    )  # fmt: skip
    return found, name


def _release(mould: Mould, limits: CureLimits) -> tuple[Figure | None, str]:
    """Until the last mould sensor is below the release temperature, at its present rate."""
    if limits.release is None:
        return None, "the drawing does not say limits.cure.release"
    latest = mould.believed(slice(-1, None))[0]
    hottest = mould.hottest[~np.isnan(mould.hottest)]
    if not len(hottest) or float(hottest.max()) < limits.release:
        return None, "the mould has not been hotter than that yet"
    if np.isnan(latest).any():
        return None, "not every zone is read, so nobody can say when"
    if float(latest.max()) < limits.release:
        return _minutes("until release", 0.0, mould, limits, "latest row"), "every mould sensor is below it"
    times = [_time_down(mould, place, limits.release) for place in range(len(mould.columns))]
    known = [time for time in times if time is not None]
    if len(known) < len(times) or max(known) > FAR:
        return None, "not every zone is on its way down to it"
    told = "pressure stays on until every mould sensor is below it"
    return _minutes("until release", max(known), mould, limits, "the slowest sensor at its present rate"), told


def _time_down(mould: Mould, place: int, release: float) -> float | None:
    """How long one sensor takes to fall to a temperature [K] at its present rate [s]; None: it is not falling."""
    tail = slice(max(0, len(mould.log.seconds) - PRESENT), None)
    readings: Floats = mould.believed(tail)[:, place]
    if readings[-1] < release:
        return 0.0
    now: Slope | None = slope(mould.log.seconds[tail], readings)
    if now is None or not now.sure or not now.per_second < 0.0:
        return None
    return float((release - readings[-1]) / now.per_second)


def soonest(channels: Sequence[ChannelNow]) -> ChannelNow | None:
    """The channel that is first at a limit before long, not counting one on its way up into the band."""
    ahead = [
        (one.to_limit.value, one.channel, one)
        for one in channels
        if one.to_limit is not None and one.to_limit.value <= minutes(NEAR) and one.state != "below the band"
    ]
    return min(ahead)[2] if ahead else None
