"""Any chart of plain data on paper: the same curves a screen shows, told apart without colour."""

from typing import Any, Final

import numpy as np
from matplotlib.axes import Axes

from bladewright.figures import Bars, Chart, Curve, Level, Reach, rounded
from bladewright.papers import wording
from bladewright.papers.charts import ON_WHITE, STROKES, plain_frame, sheet, svg
from bladewright.papers.letters import printable

_HEIGHT: Final = 2.9  # [in]
_TALL: Final = 4.4  # with many lines beside [in]
_COLUMNS: Final = 3  # of the legend over such a drawing
_FLAT: Final = 1.5  # of a section at true scale [in]
_ROW: Final = 0.21  # of one bar [in]
LETTERS: Final = "abcdefghijklmnopqrstuvwxyz"
#: shares of a line's length where letters stand, so that those of neighbours do not lie on each other
_FIRST_LETTER, _NEXT_LETTER, _LETTERS_ABREAST = 0.08, 0.075, 11
_MARKERS: Final = "os^Dv"
_BESIDE: Final[dict[str, Any]] = {"color": "0.55", "linewidth": 0.5}
_SHADES: Final = ("0.93", "0.82")  # of reaches; the later lies on the earlier
_LEVEL: Final[dict[str, Any]] = {"color": "0.0", "linewidth": 0.7, "linestyle": (0, (1, 1.5))}


def printed_chart(chart: Chart) -> bytes:
    """The chart as SVG."""
    beside = [curve for curve in chart.curves if curve.beside]
    curves = [curve for curve in chart.curves if not curve.beside]
    height = _FLAT if chart.true_scale else _HEIGHT if not beside else _TALL
    with sheet(height) as page:
        axes = page.subplots()
        for number, reach in enumerate(chart.reaches):
            _reach(axes, reach, number)
        for curve in beside:
            _line_beside(axes, curve)
        for number, curve in enumerate(curves):
            _curve(axes, curve, number, LETTERS[number] if beside and number < len(LETTERS) else "")
        for number, level in enumerate(chart.levels):
            _level(axes, level, from_left=bool(number % 2))
        axes.set_xlabel(printable(wording.axis_text(chart.x)))
        axes.set_ylabel(printable(wording.axis_text(chart.y)))
        axes.margins(x=0.0 if not chart.true_scale else 0.02)
        if chart.true_scale:
            axes.set_aspect("equal", adjustable="datalim")
        if chart.y.downward:
            axes.invert_yaxis()
        if beside:
            axes.set_ylim(bottom=0.0)
            page.legend(loc="outside upper center", ncols=_COLUMNS)  # lines run all over: no room inside
        elif len(curves) > 1:
            axes.legend(loc="best")
        plain_frame(axes)
        return svg(page)


def printed_bars(bars: Bars) -> bytes:
    """The bars as SVG, the first on top, each with its value."""
    with sheet(_ROW * len(bars.rows) + 0.6) as page:
        axes = page.subplots()
        places = np.arange(len(bars.rows))[::-1]
        values = [value for _, value in bars.rows]
        axes.barh(places, values, height=0.62, color=["0.35" if value >= 0.0 else "0.75" for value in values])
        axes.axvline(0.0, color="0.0", linewidth=0.6)
        axes.set_yticks(places, [printable(words) for words, _ in bars.rows])
        reach = max((abs(value) for value in values), default=1.0) or 1.0
        axes.set_xlim(min(0.0, *values) - 0.16 * reach, max(0.0, *values) + 0.16 * reach)
        for place, value in zip(places, values, strict=True):
            side = "left" if value >= 0.0 else "right"
            axes.text(value, place, f" {rounded(value, None)} ", ha=side, va="center", fontsize=6.2)
        axes.set_xlabel(printable(wording.axis_text(bars.axis)))
        axes.grid(axis="y", visible=False)
        plain_frame(axes)
        return svg(page)


def chart_words(chart: Chart) -> str:
    """The chart for those who cannot see it: what is drawn, from where to where, and the lines across."""
    said = [_curve_words(curve, chart) for curve in chart.curves]
    said += [
        f"shaded from {rounded(one.least, None)} to {rounded(one.greatest, None)}: {one.words}" for one in chart.reaches
    ]
    said += [f"line across at {rounded(level.at, None)}: {level.words}" for level in chart.levels]
    return f"{chart.title}: {chart.y.words} over {chart.x.words}. " + "; ".join(said) + "."


def bars_words(bars: Bars) -> str:
    """The bars in words."""
    unit = wording.unit(bars.axis.unit)
    said = "; ".join(f"{words} {rounded(value, None)} {unit}".rstrip() for words, value in bars.rows)
    return f"{bars.title}: {said}."


def _level(axes: Axes, level: Level, *, from_left: bool) -> None:
    """The line and its words; lines close together are told apart from both ends."""
    if level.upright:
        axes.axvline(level.at, **_LEVEL)
        place, across, side = (level.at, 0.97), axes.get_xaxis_transform(), "right"
    else:
        axes.axhline(level.at, **_LEVEL)
        place, across = (0.005 if from_left else 0.995, level.at), axes.get_yaxis_transform()
        side = "left" if from_left else "right"
    axes.text(*place, printable(level.words), transform=across, ha=side, va="center", bbox=ON_WHITE)


def _reach(axes: Axes, reach: Reach, number: int) -> None:
    """The shaded part, its words above; two that overlap are told apart by height and by shade."""
    axes.axvspan(reach.least, reach.greatest, color=_SHADES[number % len(_SHADES)], linewidth=0.0, zorder=0.1)
    middle, height = 0.5 * (reach.least + reach.greatest), 1.01 + 0.035 * number
    axes.text(
        middle,
        height,
        printable(reach.words),
        transform=axes.get_xaxis_transform(),
        ha="center",
        va="bottom",
        fontsize=6.2,
    )


def _line_beside(axes: Axes, curve: Curve) -> None:
    """A thin line, named where it ends."""
    y = np.array([np.nan if value is None else value for value in curve.y])
    axes.plot(curve.x, y, **_BESIDE)
    end = int(np.flatnonzero(np.isfinite(y))[-1])
    place, gap = (curve.x[end], y[end]), (2.0, 0.0)
    axes.annotate(printable(curve.name), place, gap, textcoords="offset points", va="center", fontsize=6.2)


def _curve(axes: Axes, curve: Curve, number: int, letter: str = "") -> None:
    """A line; with a letter it carries that at a place of its own, and in the legend, where dashes are too many."""
    stroke = STROKES[number % len(STROKES)]
    x = np.asarray(curve.x)
    y = np.array([np.nan if value is None else value for value in curve.y])
    if curve.points:
        shape = _MARKERS[number % len(_MARKERS)]
        axes.plot(
            x, y, shape, color="0.0", markerfacecolor="1.0", markersize=4.0, label=printable(curve.name), clip_on=False
        )
        return
    axes.plot(x, y, label=printable(f"{letter}  {curve.name}" if letter else curve.name), **stroke)
    known = np.flatnonzero(np.isfinite(y))
    if letter and known.size:
        at = known[int((_FIRST_LETTER + _NEXT_LETTER * (number % _LETTERS_ABREAST)) * (known.size - 1))]
        axes.text(x[at], y[at], letter, ha="center", va="center", fontsize=6.2, bbox=ON_WHITE)
    if curve.spread is not None:
        axes.fill_between(x, y - np.asarray(curve.spread), y + np.asarray(curve.spread), color="0.88", linewidth=0.0)


def _curve_words(curve: Curve, chart: Chart) -> str:
    known = [(x, y) for x, y in zip(curve.x, curve.y, strict=True) if y is not None]
    if not known:
        return f"{curve.name}: no value"
    (x0, y0), (x1, y1) = known[0], known[-1]
    values = [y for _, y in known]
    ends = f"{rounded(y0, None)} at {rounded(x0, None)}, {rounded(y1, None)} at {rounded(x1, None)}"
    reach = f"from {rounded(min(values), None)} to {rounded(max(values), None)} {wording.unit(chart.y.unit)}".rstrip()
    return f"{curve.name}: {ends}; {reach}"
