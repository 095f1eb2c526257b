"""A cure log as plain data to draw: curves thinned without losing a peak, what they are held to, and the places found.

Temperatures and pressures in the units of whoever looks; the log shows the tool, not the bondline.
"""

import datetime
import zoneinfo
from collections.abc import Sequence
from dataclasses import dataclass
from typing import Final, Literal

import numpy as np

from bladewright import units
from bladewright.drawing.limits import CureLimits
from bladewright.engine.statistics.extremes import extremes
from bladewright.evidence.records import CureLog, Floats, Role
from bladewright.figures import Axis, Chart, Curve, Level, Outcome, Reach
from bladewright.proof.dwell import dwell_of
from bladewright.proof.finding_places import Place
from bladewright.proof.wording import minutes

#: pixels of a wide screen that a curve is thinned to; each keeps its own extremes (our own choice)
PIXELS: Final = 600
#: the same where it is drawn anew every few seconds
LIVE: Final = 250
#: how far around a place a close look reaches [min] (our own choice)
AROUND: Final = 10.0


@dataclass(frozen=True, slots=True)
class Spoken:
    """The units somebody reads a log in."""

    temperature: str
    pressure: str


SPOKEN: Final[dict[str, Spoken]] = {"metric": Spoken("degC", "kPa"), "inch": Spoken("degF", "psi")}


@dataclass(frozen=True, slots=True)
class Marked:
    """A finding's place on the chart. ``on``: the panel it stands in; ``height`` None: at its foot."""

    number: int
    words: str
    outcome: Outcome
    on: Literal["temperature", "pressure"]
    start: float  # [min]
    end: float | None  # [min]
    height: float | None


@dataclass(frozen=True, slots=True)
class CureDrawn:
    """Everything on the chart of a cure: two panels over one axis of time."""

    temperature: Chart
    pressure: Chart | None
    heaters: tuple[Curve, ...]  # beside the mould's own: they prove nothing of the blade
    behind: tuple[Curve, ...]  # what was planned
    marks: tuple[Marked, ...]
    band: tuple[Level, Level] | None  # where the mould has to stay in the dwell: floor and top
    ticks: tuple[tuple[float, str], ...]  # minute, and the clock on the wall then
    close: tuple[float, float] | None = None  # the part looked at [min]


def cure_drawn(
    log: CureLog,
    limits: CureLimits | None,
    system: str,
    places: Sequence[Place] = (),
    behind: Sequence[Curve] = (),
    look_at: int | None = None,
    pixels: int = PIXELS,
) -> CureDrawn:
    """The log with its limits and the places of its findings; ``look_at`` is the number of one to look at closely.

    ``system`` is "metric" or "inch"; ``behind`` are curves of kelvin over seconds of this log.
    """
    spoken = SPOKEN[system]
    x = Axis("time from the first row", "min")

    def curves(role: Role, unit: str) -> tuple[Curve, ...]:
        return _curves(log, role, unit, pixels)

    mould, pressure = curves("mould", spoken.temperature), curves("pressure", spoken.pressure)
    return CureDrawn(
        temperature=Chart(
            "cure-log", f"Cure {log.source.file}", x, Axis("temperature", spoken.temperature), mould,
            levels=_levels(limits, spoken.temperature), reaches=_dwell(log, limits),
            note="The log shows the tool, not the bondline.",
        ),
        pressure=Chart(
            "cure-pressure", "Pressure", x, Axis("gauge", spoken.pressure), pressure,
            levels=_pressure_levels(limits, spoken.pressure),
        ) if pressure else None,
        heaters=(*curves("heater", spoken.temperature), *curves("air", spoken.temperature)),
        behind=tuple(_planned(curve, spoken.temperature) for curve in behind),
        marks=tuple(_marked(log, place, spoken) for place in places),
        band=_band(limits, spoken.temperature),
        ticks=_ticks(log, behind),
        close=_close(log, places, look_at),
    )  # fmt: skip


def _kind(unit: str) -> str:
    return "pressure" if unit in ("kPa", "psi") else "temperature"


def _shown(values: Floats, unit: str) -> Floats:
    """SI in the unit somebody reads."""
    scale, zero = units.scale_and_zero(unit, _kind(unit))
    shown: Floats = (values - zero) / scale
    return shown


def _level(value: float, unit: str) -> float:
    return float(_shown(np.array([value]), unit)[0])


def _numbers(values: Floats, places: int) -> tuple[float | None, ...]:
    """Plain numbers, None where there is none, no finer than anybody reads off a chart."""
    return tuple(None if value != value else value for value in np.round(values, places).tolist())


def _curves(log: CureLog, role: Role, unit: str, pixels: int) -> tuple[Curve, ...]:
    found = []
    for column in log.with_role(role):
        kept = extremes(log.seconds, log.values[:, column], pixels)
        along, values = log.seconds[kept] / 60.0, _shown(log.values[kept, column], unit)
        found.append(Curve(log.channels[column].name, tuple(np.round(along, 3).tolist()), _numbers(values, 2)))
    return tuple(found)


def _planned(curve: Curve, unit: str) -> Curve:
    kelvin = np.array([np.nan if value is None else value for value in curve.y])
    along = np.round(np.array(curve.x) / 60.0, 3)
    return Curve(curve.name, tuple(along.tolist()), _numbers(_shown(kelvin, unit), 1), beside=True)


def _levels(limits: CureLimits | None, unit: str) -> tuple[Level, ...]:
    if limits is None:
        return ()
    edges = [
        (limits.overshoot_greatest, "mould never above"),
        (limits.heater_greatest, "heaters at most"),
        (limits.release, "release below"),
    ]
    return tuple(
        Level(f"{words} {units.written(value, unit, 'temperature', 4)}", _level(value, unit))
        for value, words in edges
        if value is not None
    )


def _band(limits: CureLimits | None, unit: str) -> tuple[Level, Level] | None:
    if limits is None:
        return None
    floor, top = limits.target - limits.below, limits.target + limits.above
    words = f"band {_level(floor, unit):.4g} to {units.written(top, unit, 'temperature', 4)}"
    return Level(words, _level(floor, unit)), Level(words, _level(top, unit))


def _pressure_levels(limits: CureLimits | None, unit: str) -> tuple[Level, ...]:
    if limits is None:
        return ()
    edges = ((limits.pressure_least, "at least"), (limits.pressure_greatest, "at most"))
    return tuple(
        Level(f"{words} {units.written(value, unit, 'pressure', 3)}", _level(value, unit))
        for value, words in edges
        if value is not None
    )


def _dwell(log: CureLog, limits: CureLimits | None) -> tuple[Reach, ...]:
    dwell = None if limits is None else dwell_of(log, limits)
    if dwell is None:
        return ()
    return (Reach(f"dwell {minutes(dwell.seconds):.0f} min", minutes(dwell.start), minutes(dwell.end)),)


def _marked(log: CureLog, place: Place, spoken: Spoken) -> Marked:
    roles = {channel.name: channel.role for channel in log.channels}
    pressure = roles.get(place.channel) == "pressure"
    unit = spoken.pressure if pressure else spoken.temperature
    return Marked(
        number=place.number,
        words=f"{place.number}  {place.rule.removeprefix('cure: ')}: {place.outcome.value}",
        outcome=place.outcome,
        on="pressure" if pressure else "temperature",
        start=minutes(place.start),
        end=None if place.end is None else minutes(place.end),
        height=None if place.reading is None else round(_level(place.reading, unit), 2),
    )


def _ticks(log: CureLog, behind: Sequence[Curve]) -> tuple[tuple[float, str], ...]:
    """Whole minutes of an even step, no more than ten, each with the clock on the wall; the plan may go further."""
    longest = minutes(max(float(log.seconds[-1]), *(curve.x[-1] for curve in behind if curve.x), 0.0))
    step = next((step for step in (1, 2, 5, 10, 15, 30, 60, 120, 300, 600) if longest <= 10 * step), None)
    step = step or int(longest / 10) + 1
    return tuple((float(at), clock_after(log, 60.0 * at)) for at in range(0, int(longest) + 1, step))


def clock_after(log: CureLog, seconds: float) -> str:
    """Hours and minutes on the shop's wall so long after the first row; "" where the log has no clock."""
    if log.start is None:
        return ""
    return f"{(log.start + datetime.timedelta(seconds=seconds)).astimezone(zoneinfo.ZoneInfo(log.zone)):%H:%M}"


def _close(log: CureLog, places: Sequence[Place], look_at: int | None) -> tuple[float, float] | None:
    """The minutes around the places of one finding."""
    mine = [place for place in places if place.number == look_at]
    if not mine:
        return None
    first = min(place.start for place in mine)
    last = max(place.start if place.end is None else place.end for place in mine)
    return minutes(first) - AROUND, min(minutes(last), minutes(float(log.seconds[-1]))) + AROUND
