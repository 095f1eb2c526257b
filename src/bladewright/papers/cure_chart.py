"""A cure log on paper: mould sensors against their band, dwell, slope guide, sensors that stopped reading, pressure."""

import math
from typing import Any, Final, cast

import numpy as np
from matplotlib.axes import Axes

from bladewright.drawing.limits import CureLimits
from bladewright.engine.statistics.extremes import extremes
from bladewright.evidence.records import CureLog, Floats, Role
from bladewright.papers.charts import ON_WHITE, PAGE_WIDTH, STROKES, plain_frame, second_scale, sheet, svg
from bladewright.papers.letters import printable
from bladewright.papers.records import CureChart
from bladewright.units import from_si

_MINUTE: Final = 60.0
#: points drawn per curve; a printed line shows no more, and the extremes of each interval are kept
_POINTS: Final = 1200
_GUIDE: Final = 12.0  # minutes the slope guide spans
_PASCAL_PER_PSI: Final = 6894.757  # 1 lbf (4.4482216 N) on a square of 0.0254 m
_MARGIN: Final = 6.0  # minutes shown before and after the dwell
_KEY_WIDTH: Final = 0.55  # of a line sample and the space around it in the list of sensors [in]
_LETTER_WIDTH: Final = 0.058  # [in]
_LONGEST: Final = 32  # letters of a sensor name in that list [count]
_MIDDLE: Final = 0.5  # of the height of a panel
_SMALL: Final = 6.2  # letters of notes inside a chart [pt]


def cure_chart(item: CureChart) -> bytes:
    """The chart as SVG: the whole cure, the band close up and the pressure, where there is something to show."""
    log = item.log
    pressure = log.with_role("pressure")
    around = _around_the_band(item)
    heights = [3.0, *([2.0] if around else []), *([1.1] if pressure else [])]
    with sheet(sum(heights) + 0.45) as drawing:
        panels = np.atleast_1d(drawing.subplots(len(heights), 1, height_ratios=heights))
        _whole(panels[0], item)
        if around and item.limits is not None:
            _close_up(panels[1], log, item.limits, around)
        if pressure:
            _pressure(panels[-1], log, item.limits, pressure)
            panels[-1].sharex(panels[0])
        panels[-1].set_xlabel("minutes from the first row of the log")
        handles, names = panels[0].get_legend_handles_labels()
        longest = max(map(len, names), default=0)
        columns = max(1, int(PAGE_WIDTH / (_KEY_WIDTH + _LETTER_WIDTH * longest)))
        drawing.legend(handles, names, loc="outside lower center", ncols=columns)
        return svg(drawing)


def cure_words(item: CureChart) -> tuple[str, str]:
    """The same in words: alternative text, and the note under the chart."""
    log, limits = item.log, item.limits
    mould = log.with_role("mould")
    length = log.seconds[-1] / _MINUTE
    alt = f"Cure log over {length:.0f} minutes with {len(mould)} mould sensors"
    values = log.values[:, mould]
    if np.isfinite(values).any():
        greatest = from_si(float(np.nanmax(values)), "degF", "temperature")
        alt += f", greatest mould temperature {greatest:.1f} degrees Fahrenheit"
    alt += f", first row at {log.clock_of(0)}."
    notes = [f"First row {log.clock_of(0)}."]
    if limits is None:
        notes.append("No cure limits entered: nothing is drawn to judge the curves by.")
    else:
        alt += f" Band: {_band_text(limits)}."
        notes.append(f"Limits from {limits.source or 'no source: unvalidated data'}.")
    if item.dwell is not None:
        dwell = f"Dwell {(item.dwell[1] - item.dwell[0]) / _MINUTE:.1f} min, from {item.dwell[0] / _MINUTE:.1f} min."
        alt += " " + dwell
        notes.append(dwell + " It starts when the slowest mould sensor enters the band and ends when the first leaves.")
    elif limits is not None:
        notes.append("No dwell given: close up of the time any mould sensor was above the band's floor.")
    for name, first, last in open_gaps(log):
        gap = f"{name} gives no reading from {first / _MINUTE:.0f} to {last / _MINUTE:.0f} min."
        alt += " " + gap
        notes.append(gap)
    if len(log.seconds) > _POINTS:
        notes.append(f"Drawn from {len(log.seconds)} rows by the extremes of each interval.")
    return alt, " ".join(notes)


def open_gaps(log: CureLog) -> list[tuple[str, float, float]]:
    """Runs of missing readings of mould sensors: name, from and until. [s]"""
    found = []
    for column in log.with_role("mould"):
        missing = np.concatenate(([False], np.isnan(log.values[:, column]), [False]))
        edges = np.flatnonzero(np.diff(missing.astype(np.int8))).reshape(-1, 2)
        name = log.channels[column].name
        found += [(name, float(log.seconds[a]), float(log.seconds[b - 1])) for a, b in edges]
    return found


def _band_text(limits: CureLimits) -> str:
    low, high = _edges(limits)
    return f"{low:.0f} to {high:.0f} °F"


def _fahrenheit(values: Floats) -> Floats:
    scaled: Floats = values * 1.8 - 459.67
    return scaled


def _around_the_band(item: CureChart) -> tuple[float, float] | None:
    """The part worth a close look: the dwell, or all the time any mould sensor was above the band's floor. [min]"""
    if item.limits is None:
        return None
    log = item.log
    start, end = item.dwell or (math.nan, math.nan)
    if item.dwell is None:
        values = log.values[:, log.with_role("mould")]
        hot = np.flatnonzero(np.any(values > item.limits.target - item.limits.below, axis=1))
        if not len(hot):
            return None
        start, end = float(log.seconds[hot[0]]), float(log.seconds[hot[-1]])
    margin = max(_MARGIN, 0.1 * (end - start) / _MINUTE)
    return start / _MINUTE - margin, end / _MINUTE + margin


def _draw(axes: Axes, log: CureLog, values: Floats, **stroke: Any) -> None:
    rows = extremes(log.seconds, values, _POINTS // 2)
    axes.plot(log.seconds[rows] / _MINUTE, values[rows], **stroke)


def _mould(axes: Axes, log: CureLog) -> None:
    for place, column in enumerate(log.with_role("mould")):
        stroke = STROKES[place % len(STROKES)]
        name = printable(log.channels[column].name)
        name = name if len(name) <= _LONGEST else f"{name[: _LONGEST - 1]}…"
        _draw(axes, log, _fahrenheit(log.values[:, column]), label=name, **stroke)


def _whole(axes: Axes, item: CureChart) -> None:
    log, limits = item.log, item.limits
    for role, grey, name in (("heater", "0.72", "heaters"), ("air", "0.55", "air")):
        for place, column in enumerate(log.with_role(cast(Role, role))):
            label = None if place else name
            _draw(axes, log, _fahrenheit(log.values[:, column]), color=grey, linewidth=0.5, label=label)
    _mould(axes, log)
    axes.set_ylabel("°F")
    axes.margins(x=0.0)
    second_scale(axes, "°C", 1.0 / 1.8, 32.0)
    plain_frame(axes)
    if limits is not None:
        _band(axes, limits)
        _slope_guide(axes, limits)
        if item.dwell is not None:
            _dwell(axes, limits, item.dwell)
    _gaps(axes, log)


def _close_up(axes: Axes, log: CureLog, limits: CureLimits, around: tuple[float, float]) -> None:
    """Where a degree can be read off: the band and what lies just outside it."""
    _mould(axes, log)
    axes.set_xlim(*around)
    low, high = _edges(limits)
    reach = 0.6 * (high - low)
    axes.set_ylim(low - reach, high + reach)
    axes.set_ylabel("°F, close up")
    second_scale(axes, "°C", 1.0 / 1.8, 32.0)
    plain_frame(axes)
    axes.axhspan(low, high, color="0.89", linewidth=0.0, zorder=0.5)
    never = limits.overshoot_greatest
    if never is not None:
        level = from_si(never, "degF", "temperature")
        axes.axhline(level, color="0.0", linewidth=0.7, linestyle=(0, (1, 2)))
        if level < high + reach:
            axes.text(
                0.99, level, f"never above {level:.0f} °F", transform=axes.get_yaxis_transform(),
                ha="right", va="bottom", fontsize=_SMALL,
            )  # fmt: skip
    _gaps(axes, log, 0.14)


def _edges(limits: CureLimits) -> tuple[float, float]:
    low = from_si(limits.target - limits.below, "degF", "temperature")
    return low, from_si(limits.target + limits.above, "degF", "temperature")


def _band(axes: Axes, limits: CureLimits) -> None:
    low, high = _edges(limits)
    axes.axhspan(low, high, color="0.89", linewidth=0.0, zorder=0.5)
    axes.text(
        0.01, low, f"band {_band_text(limits)}", transform=axes.get_yaxis_transform(),
        va="top", ha="left", fontsize=_SMALL,
    )  # fmt: skip


def _dwell(axes: Axes, limits: CureLimits, dwell: tuple[float, float]) -> None:
    start, end = dwell[0] / _MINUTE, dwell[1] / _MINUTE
    floor, top = axes.get_ylim()
    height = floor + 0.12 * (top - floor)
    for edge in (start, end):
        axes.plot([edge, edge], [floor, _edges(limits)[0]], color="0.0", linewidth=0.5)
    axes.annotate("", (end, height), (start, height), arrowprops={"arrowstyle": "<->", "linewidth": 0.6})
    words = f"dwell {end - start:.0f} min\n(least {limits.dwell_least / _MINUTE:.0f} min)"
    axes.text(start + 0.03 * (end - start), height, f"\n{words}", ha="left", va="bottom", fontsize=_SMALL)
    axes.set_ylim(floor, top)


def _slope_guide(axes: Axes, limits: CureLimits) -> None:
    """A short line as steep as the fastest allowed rise, to hold a ruler against."""
    rate = limits.ramp_greatest * 1.8 * _MINUTE
    bottom, top = axes.get_ylim()
    left, right = axes.get_xlim()
    span = min(_GUIDE, 0.3 * (top - bottom) / rate)
    start, foot = left + 0.015 * (right - left), bottom + 0.52 * (top - bottom)
    axes.plot([start, start + span], [foot, foot + rate * span], color="0.0", linewidth=1.8, solid_capstyle="butt")
    window = f"over {limits.ramp_window / _MINUTE:.0f} min"
    axes.text(
        start,
        foot - 3.0,
        f"steepest rise\nallowed:\n{rate:.1f} °F/min\n{window}",
        va="top",
        fontsize=_SMALL,
        bbox=ON_WHITE,
        zorder=1.5,  # under the curves: a note may be crossed, a curve may not be hidden
    )


def _gaps(axes: Axes, log: CureLog, height: float = _MIDDLE) -> None:
    left, right = axes.get_xlim()
    for name, first, last in open_gaps(log):
        start, end = first / _MINUTE, last / _MINUTE
        if end < left or start > right:
            continue
        axes.axvspan(start, end, facecolor="none", edgecolor="0.6", hatch="////", linewidth=0.4, zorder=0.6)
        axes.text(
            0.5 * (start + end), height, f"{printable(name)}: no reading", transform=axes.get_xaxis_transform(),
            rotation=90 if height == _MIDDLE else 0, ha="center", va="center", fontsize=_SMALL, bbox=ON_WHITE,
        )  # fmt: skip


def _pressure(axes: Axes, log: CureLog, limits: CureLimits | None, columns: tuple[int, ...]) -> None:
    for place, column in enumerate(columns):
        psi = log.values[:, column] / _PASCAL_PER_PSI
        _draw(axes, log, psi, **STROKES[place % len(STROKES)])
    axes.set_ylabel("psi gauge")
    second_scale(axes, "kPa gauge", _PASCAL_PER_PSI / 1000.0)
    plain_frame(axes)
    if limits is None:
        return
    for limit, name, side in (
        (limits.pressure_least, "least", "top"),
        (limits.pressure_greatest, "greatest", "bottom"),
    ):
        if limit is not None:
            level = limit / _PASCAL_PER_PSI
            axes.axhline(level, color="0.0", linewidth=0.5, linestyle=(0, (4, 2)))
            axes.text(
                0.99, level, f"{name} {level:.0f} psi", transform=axes.get_yaxis_transform(),
                ha="right", va=side, fontsize=_SMALL,
            )  # fmt: skip
    axes.margins(y=0.2)
