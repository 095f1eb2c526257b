"""Each channel of a running cure: what it reads, how fast it moves, and how long until it is at its limit."""

import math
from dataclasses import dataclass

import numpy as np

from bladewright.drawing.limits import CureLimits
from bladewright.evidence.records import Floats
from bladewright.figures import Figure
from bladewright.proof.dwell import band
from bladewright.proof.mould import Mould
from bladewright.proof.wording import fahrenheit, fahrenheit_per_minute, fahrenheit_steps, figure, minutes, psi

#: samples the present rate is taken over: one noisy reading is no rate, and an old one is not the present (our choice)
PRESENT = 6
#: a rate below this many of its own standard deviations leads nowhere that can be told (our own choice)
STANDS_OUT = 3.0
#: a rate that takes longer than this to reach a limit says nothing of it (our own choice) [s]
FAR = 4.0 * 3600.0
#: how the lower end of the band is called
FLOOR = "the floor of its band"


@dataclass(frozen=True, slots=True)
class ChannelNow:
    """One channel at the latest row."""

    channel: str
    role: str
    zone: str
    side: str
    reading: Figure | None  # None: nothing that can be believed
    rate: Figure | None  # through the latest readings
    limit: str  # the limit it moves towards; "" where none is entered
    to_limit: Figure | None  # at the present rate; None: not on the way, or further off than is worth saying
    state: str  # "below the band", "in the band", "above the band", "within", "OUTSIDE", "no reading"
    since: str = ""  # since when it has no reading to be believed
    why: str = ""
    limit_at: Figure | None = None  # the limit it moves towards; None: it moves towards none

    @property
    def towards(self) -> str:
        """What that limit is, without its number."""
        words, _, _ = self.limit.rpartition(", ")
        return words or "its limit"


def channels_now(mould: Mould, limits: CureLimits) -> tuple[ChannelNow, ...]:
    """Mould sensors, then heaters, then pressures."""
    log = mould.log
    count = len(log.seconds)
    tail = slice(max(0, count - PRESENT), count)
    believed = mould.believed(tail)
    found = [_mould(mould, limits, column, believed[:, place]) for place, column in enumerate(mould.columns)]
    for role, held in (("heater", _heater), ("pressure", _pressure)):
        for column in log.with_role(role):  # type: ignore[arg-type]
            found.append(held(mould, limits, column, log.values[tail, column]))  # noqa: PERF401
    return tuple(found)


@dataclass(frozen=True, slots=True)
class Slope:
    """Slope of the straight line through some readings. ``sure``: it stands out of their scatter."""

    per_second: float  # [K/s] or [Pa/s]
    sure: bool


def slope(seconds: Floats, readings: Floats) -> Slope | None:
    """Slope of some readings by least squares, with whether it stands out; None from fewer than three of them."""
    there = ~np.isnan(readings)
    count = int(np.count_nonzero(there))
    if count < 3:
        return None
    times, values = seconds[there] - seconds[there].mean(), readings[there] - readings[there].mean()
    square = float((times * times).sum())
    rate = float((times * values).sum()) / square
    scatter = math.sqrt(float(((values - rate * times) ** 2).sum()) / (count - 2) / square)
    return Slope(rate, abs(rate) > STANDS_OUT * scatter)


def _mould(mould: Mould, limits: CureLimits, column: int, readings: Floats) -> ChannelNow:
    low, high = band(limits, 0.0)
    top = high if limits.overshoot_greatest is None else limits.overshoot_greatest
    value, rate = float(readings[-1]), _slope(mould, readings)
    state = "below the band" if value < low else "above the band" if value > high else "in the band"
    state = "OUTSIDE" if value > top else state
    floor = f"{fahrenheit(limits.target - limits.below):.4g} degF"
    rises = rate is not None and rate.per_second > 0.0
    if value < low:
        target, words = (low, f"its band, {floor}") if rises else (math.nan, "")
    elif rises or value > high:
        target, words = top, f"the most allowed, {fahrenheit(top):.4g} degF"
    else:
        target, words = low, f"{FLOOR}, {floor}"
    return _channel(mould, limits, column, value, rate, target, words, state)


def _heater(mould: Mould, limits: CureLimits, column: int, readings: Floats) -> ChannelNow:
    value, rate, top = float(readings[-1]), _slope(mould, readings), limits.heater_greatest
    state = "no limit entered" if top is None else "OUTSIDE" if value > top else "within"
    target = math.nan if top is None or rate is None or not rate.per_second > 0.0 else top
    return _channel(
        mould, limits, column, value, rate, target, "" if top is None else f"{fahrenheit(top):.4g} degF", state
    )


def _pressure(mould: Mould, limits: CureLimits, column: int, readings: Floats) -> ChannelNow:
    value, rate = float(readings[-1]), _slope(mould, readings)
    least, greatest = limits.pressure_least, limits.pressure_greatest
    state = "no limit entered" if least is None and greatest is None else "within"
    if least is not None and value < least:
        state = "below what is asked under heat"
    if greatest is not None and value > greatest:
        state = "OUTSIDE"
    target = None if rate is None else greatest if rate.per_second > 0.0 else least
    return _channel(
        mould, limits, column, value, rate, math.nan if target is None else target,
        "" if target is None else f"{psi(target):.4g} psi", state,
    )  # fmt: skip


def _slope(mould: Mould, readings: Floats) -> Slope | None:
    return slope(mould.log.seconds[-len(readings) :], readings)


def _channel(
    mould: Mould,
    limits: CureLimits,
    column: int,
    value: float,
    rate: Slope | None,
    target: float,
    words: str,
    state: str,
) -> ChannelNow:
    """The channel with its figures in the shop's units; a rate towards the target makes a time."""
    log = mould.log
    channel = log.channels[column]
    seconds = (target - value) / rate.per_second if rate is not None and rate.sure else None
    near = seconds is not None and 0.0 < seconds <= FAR
    since, why = ("", "") if not math.isnan(value) else _lost(mould, column)
    pressure = channel.role == "pressure"
    spread = limits.sensor_uncertainty if channel.role == "mould" else None

    def shown(name: str, number: float, unit: str, method: str, uncertainty: float | None = None) -> Figure:
        return figure(
            f"{channel.name} {name}", number, unit, uncertainty, method=method, source=log.source.file,
            limits_source=limits.source,
        )  # fmt: skip

    reading = None
    if not math.isnan(value):
        number = psi(value) if pressure else fahrenheit(value)
        known = None if spread is None else fahrenheit_steps(spread)
        reading = shown("reading", number, "psi" if pressure else "degF", "latest row", known)
    moved = None
    if rate is not None and not math.isnan(value):
        number = psi(60.0 * rate.per_second) if pressure else fahrenheit_per_minute(rate.per_second)
        unit = "psi/min" if pressure else "degF/min"
        moved = shown("rate", number, unit, f"straight line through the latest {PRESENT} rows")
    to_limit = None
    if near and seconds is not None:
        to_limit = shown("time to limit", minutes(seconds), "min", "at the present rate")
    limit_at = None
    if not math.isnan(target):
        number = psi(target) if pressure else fahrenheit(target)
        limit_at = shown("limit", number, "psi" if pressure else "degF", "entered")
    return ChannelNow(
        channel.name, channel.role, channel.zone, channel.side, reading, moved, words, to_limit,
        "no reading" if math.isnan(value) else state, since, why, limit_at,
    )  # fmt: skip


def _lost(mould: Mould, column: int) -> tuple[str, str]:
    """Since when a channel says nothing that can be believed, and why."""
    log, last = mould.log, len(mould.log.seconds) - 1
    for stretch in mould.frozen:
        if stretch.column == column and stretch.last == last:
            return log.clock_of(stretch.first), "it repeats one reading while others move"
    there = np.flatnonzero(~np.isnan(log.values[:, column]))
    first = int(there[-1]) + 1 if len(there) else 0
    return log.clock_of(min(first, last)), "the logger has none"
