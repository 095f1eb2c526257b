"""Any chart of plain data as a figure for the screen: a plain dictionary that the plotting script in the page draws."""

from typing import Any, Final

from bladewright.figures import Bars, Chart, Curve, Level, Reach
from bladewright.papers import wording

#: told apart by people who do not see all colours alike, on white: M. Okabe, K. Ito, 2008 (from memory)
COLOURS: Final = ("#0072b2", "#d55e00", "#009e73", "#cc79a7", "#e69f00", "#56b4e9", "#000000")
DASHES: Final = ("solid", "dash", "dot", "dashdot", "longdash")  # as many as have no common count with the colours
FADED: Final = 0.15
_TALL: Final = 640  # with many lines beside [px]
_SHADE: Final = "#8c8c8c"
_BESIDE: Final = "#777777"
_GRID: Final = "#dddddd"
_TEXT: Final = {"family": "system-ui, sans-serif", "size": 14, "color": "#1a1a1a"}


def screen_chart(chart: Chart) -> dict[str, Any]:
    """The chart as data and layout."""
    beside = [curve for curve in chart.curves if curve.beside]
    curves = [curve for curve in chart.curves if not curve.beside]
    traces = [_line_beside(curve, chart) for curve in beside]
    traces += [trace for number, curve in enumerate(curves) for trace in _traces(curve, number, chart)]
    layout = _layout(wording.axis_text(chart.x), wording.axis_text(chart.y))
    layout["showlegend"] = len(curves) > 1
    layout["shapes"], layout["annotations"] = _levels(chart.levels)
    for number, reach in enumerate(chart.reaches):
        shade, words = _reach(reach, number)
        layout["shapes"].append(shade)
        layout["annotations"].append(words)
    if beside:
        layout["annotations"] += [_end_of(curve) for curve in beside]
        layout["yaxis"]["rangemode"] = "tozero"
        layout["height"] = _TALL
    if chart.y.downward:
        layout["yaxis"]["autorange"] = "reversed"
    if chart.true_scale:
        layout["yaxis"] |= {"scaleanchor": "x", "scaleratio": 1}
        layout["height"] = 300
    return {"data": traces, "layout": layout}


def screen_bars(bars: Bars) -> dict[str, Any]:
    """The bars as data and layout, the first on top."""
    words, values = [row[0] for row in bars.rows], [row[1] for row in bars.rows]
    trace = {
        "type": "bar",
        "orientation": "h",
        "x": values,
        "y": words,
        "marker": {"color": [COLOURS[0] if value >= 0.0 else COLOURS[1] for value in values]},
        "hovertemplate": "%{y}: %{x:.4g} " + wording.unit(bars.axis.unit) + "<extra></extra>",
    }
    layout = _layout(wording.axis_text(bars.axis), "")
    layout["yaxis"] |= {"autorange": "reversed", "automargin": True}
    layout |= {"height": 120 + 26 * len(words), "showlegend": False}
    return {"data": [trace], "layout": layout}


def _traces(curve: Curve, number: int, chart: Chart) -> list[dict[str, Any]]:
    colour, unit = COLOURS[number % len(COLOURS)], wording.unit(chart.y.unit)
    line = {
        "type": "scatter",
        "name": curve.name,
        "x": list(curve.x),
        "y": list(curve.y),
        "mode": "markers" if curve.points else "lines",
        "line": {"color": colour, "dash": DASHES[number % len(DASHES)], "width": 2},
        "hovertemplate": "%{x:.4g}: %{y:.4g} " + unit,
    }
    if curve.spread is None:
        return [line]
    pairs = [(x, y, u) for x, y, u in zip(curve.x, curve.y, curve.spread, strict=True) if y is not None]
    around = {
        "type": "scatter",
        "x": [x for x, _, _ in pairs] + [x for x, _, _ in reversed(pairs)],
        "y": [y + u for _, y, u in pairs] + [y - u for _, y, u in reversed(pairs)],
        "fill": "toself",
        "fillcolor": colour,
        "opacity": FADED,
        "line": {"width": 0},
        "mode": "lines",
        "hoverinfo": "skip",
        "showlegend": False,
    }
    return [around, line]


def _line_beside(curve: Curve, chart: Chart) -> dict[str, Any]:
    """A thin line that has no place in the legend: its name stands at its end."""
    return {
        "type": "scatter",
        "name": curve.name,
        "x": list(curve.x),
        "y": list(curve.y),
        "mode": "lines",
        "line": {"color": _BESIDE, "width": 1},
        "hovertemplate": "%{x:.4g}: %{y:.4g} " + wording.unit(chart.y.unit),
        "showlegend": False,
    }


def _end_of(curve: Curve) -> dict[str, Any]:
    x, y = [(x, y) for x, y in zip(curve.x, curve.y, strict=True) if y is not None][-1]
    return {"text": curve.name, "x": x, "y": y, "xanchor": "left", "showarrow": False, "font": {"size": 12}}


def _reach(reach: Reach, number: int) -> tuple[dict[str, Any], dict[str, Any]]:
    """The shaded part and its words, those of a second one lower."""
    ends = {"x0": reach.least, "x1": reach.greatest, "y0": 0, "y1": 1, "yref": "paper"}
    shade = {"type": "rect", "layer": "below", "line": {"width": 0}, "fillcolor": _SHADE, "opacity": FADED} | ends
    middle, height = 0.5 * (reach.least + reach.greatest), 1.0 - 0.05 * number
    place = {"x": middle, "y": height, "yref": "paper", "yanchor": "top"}
    return shade, {"text": reach.words, "showarrow": False, "font": {"size": 12}} | place


def _levels(levels: tuple[Level, ...]) -> tuple[list[dict[str, Any]], list[dict[str, Any]]]:
    shapes, notes = [], []
    for number, level in enumerate(levels):
        along, across = ("x", "y") if level.upright else ("y", "x")
        ends = {f"{along}0": level.at, f"{along}1": level.at, f"{across}0": 0, f"{across}1": 1}
        shapes.append(
            {"type": "line", f"{across}ref": "paper", "line": {"color": "#555555", "dash": "dot", "width": 1.5}} | ends
        )
        side = 0 if not level.upright and number % 2 else 1  # lines close together are told apart from both ends
        place = {along: level.at, across: side, f"{across}ref": "paper", "xanchor": "right" if side else "left"}
        notes.append({"text": level.words, "showarrow": False, "font": {"size": 12}, "yanchor": "bottom"} | place)
    return shapes, notes


def _layout(x: str, y: str) -> dict[str, Any]:
    axis = {"gridcolor": _GRID, "zerolinecolor": "#888888", "automargin": True}
    return {
        "xaxis": {"title": {"text": x}} | axis,
        "yaxis": {"title": {"text": y}} | axis,
        "font": _TEXT,
        "plot_bgcolor": "#ffffff",
        "paper_bgcolor": "#ffffff",
        "margin": {"l": 70, "r": 30, "t": 30, "b": 60},
        "height": 430,
        "hovermode": "closest",
        "legend": {"orientation": "h", "y": 1.02, "yanchor": "bottom"},
    }
