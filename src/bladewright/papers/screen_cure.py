"""The chart of a cure for the screen: mould sensors against their band, pressure below, each finding at its place."""

import html
from collections.abc import Sequence
from typing import Any, Final

from bladewright.figures import Axis, Curve, Level, Outcome
from bladewright.papers import wording
from bladewright.papers.screen_chart import COLOURS, DASHES
from bladewright.proof.cure_drawn import CureDrawn, Marked

_HEATER: Final = "#9a9a9a"
_PLAN: Final = "#7a6a4f"
_BAND: Final = "#2e6b3a"
_LIMIT: Final = "#666666"
#: marks told apart by shape as well as by colour
_MARKS: Final[dict[Outcome, tuple[str, str]]] = {
    Outcome.FAIL: ("x", "#b3261e"),
    Outcome.MISSING: ("diamond-open", "#8a5a00"),
    Outcome.REFER: ("triangle-up", "#8a5a00"),
    Outcome.PASS: ("circle-open", "#2e6b3a"),
}
_TALL: Final = 560  # [px]
_PRESSURE: Final = 0.2  # of the height, for the lower panel
_GAP: Final = 0.07


def screen_cure(drawn: CureDrawn) -> dict[str, Any]:
    """The chart as data and layout."""
    whole = drawn.temperature
    unit = wording.unit(whole.y.unit)
    traces = [_line(curve, unit, {"color": _PLAN, "width": 1.5, "dash": "dot"}, "as planned") for curve in drawn.behind]
    traces += [_line(curve, unit, {"color": _HEATER, "width": 1}, "heaters and air") for curve in drawn.heaters]
    traces += [_line(curve, unit, _stroke(number)) for number, curve in enumerate(whole.curves)]
    if drawn.pressure is not None:
        of_pressure = wording.unit(drawn.pressure.y.unit)
        traces += [
            _line(curve, of_pressure, _stroke(number)) | {"yaxis": "y2"}
            for number, curve in enumerate(drawn.pressure.curves)
        ]
    _one_entry_each(traces)
    traces += [trace for outcome in Outcome for panel in ("y", "y2") if (trace := _marks(drawn, outcome, panel))]
    return {"data": traces, "layout": _layout(drawn)}


def _stroke(number: int) -> dict[str, Any]:
    return {"color": COLOURS[number % len(COLOURS)], "dash": DASHES[number % len(DASHES)], "width": 2}


def _told(words: str) -> str:
    """Words as the drawing library shows them: nothing in a name is taken for a mark of its own."""
    return html.escape(words, quote=False).replace("degF", wording.unit("degF")).replace("degC", wording.unit("degC"))


def _line(curve: Curve, unit: str, line: dict[str, Any], called: str = "") -> dict[str, Any]:
    name = _told(curve.name)
    return {
        "type": "scatter",
        "mode": "lines",
        "name": called or name,
        "legendgroup": called or name,
        "x": curve.x,
        "y": curve.y,
        "line": line,
        "connectgaps": False,
        "hovertemplate": f"{name}: %{{y:.1f}} {unit} at %{{x:.1f}} min<extra></extra>",
    }


def _one_entry_each(traces: list[dict[str, Any]]) -> None:
    """Heaters share one entry in the legend, which hides or shows all of them."""
    seen: set[str] = set()
    for trace in traces:
        trace["showlegend"] = trace["name"] not in seen
        seen.add(trace["name"])


def _marks(drawn: CureDrawn, outcome: Outcome, panel: str) -> dict[str, Any] | None:
    """The places of all findings of one outcome, each numbered as in the list beside the chart."""
    on = "pressure" if panel == "y2" else "temperature"
    mine = [mark for mark in drawn.marks if mark.outcome is outcome and mark.on == on and mark.height is not None]
    if not mine:
        return None
    shape, colour = _MARKS[outcome]
    return {
        "type": "scatter",
        "mode": "markers+text",
        "name": f"finding: {outcome.value}",
        "yaxis": panel,
        "showlegend": False,
        "x": [mark.start for mark in mine],
        "y": [mark.height for mark in mine],
        "text": [str(mark.number) for mark in mine],
        "customdata": [mark.number for mark in mine],
        "textposition": "top center",
        "textfont": {"size": 14, "color": colour},
        "marker": {"symbol": shape, "size": 12, "color": colour, "line": {"width": 2, "color": colour}},
        "hovertemplate": [f"{_told(mark.words)}<extra></extra>" for mark in mine],
    }


def _layout(drawn: CureDrawn) -> dict[str, Any]:
    whole, pressure = drawn.temperature, drawn.pressure
    axis = {"gridcolor": "#dddddd", "zeroline": False, "automargin": True}
    foot = _PRESSURE + _GAP if pressure is not None else 0.0
    shapes, notes = _limits(whole.levels, "y")
    if drawn.band is not None:
        band = _band(*drawn.band)
        shapes, notes = [*shapes, band[0]], [*notes, band[1]]
    layout: dict[str, Any] = {
        "xaxis": _time(drawn, whole.x) | axis,
        "yaxis": {"title": {"text": wording.axis_text(whole.y)}, "domain": [foot, 1.0]} | axis,
        "font": {"family": "system-ui, sans-serif", "size": 14, "color": "#1a1a1a"},
        "plot_bgcolor": "#ffffff",
        "paper_bgcolor": "#ffffff",
        "margin": {"l": 60, "r": 20, "t": 20, "b": 60},
        "height": _TALL,
        "hovermode": "closest",
        "legend": {"orientation": "h", "y": 1.02, "yanchor": "bottom"},
    }
    if pressure is not None:
        layout["yaxis2"] = {"title": {"text": wording.axis_text(pressure.y)}, "domain": [0.0, _PRESSURE]} | axis
        more = _limits(pressure.levels, "y2")
        shapes, notes = shapes + more[0], notes + more[1]
        layout["xaxis"]["anchor"] = "y2"
    for reach in whole.reaches:
        ends = {"x0": reach.least, "x1": reach.greatest, "y0": foot, "y1": 1, "yref": "paper"}
        shade = {"type": "rect", "layer": "below", "line": {"width": 0}, "fillcolor": "#8c8c8c", "opacity": 0.15}
        shapes.append(shade | ends)
        place = {"x": reach.least, "xanchor": "left", "y": foot, "yref": "paper", "yanchor": "bottom"}
        notes.append({"text": reach.words, "showarrow": False, "font": {"size": 12}} | place)
    shapes += [_stretch(mark) for mark in drawn.marks if mark.end is not None and mark.outcome is not Outcome.PASS]
    notes += [_at_the_foot(mark) for mark in drawn.marks if mark.height is None]
    return layout | {"shapes": shapes, "annotations": notes}


def _time(drawn: CureDrawn, axis: Axis) -> dict[str, Any]:
    """Minutes, and under them the clock on the wall."""
    time: dict[str, Any] = {
        "title": {"text": wording.axis_text(axis)},
        "tickvals": [minute for minute, _ in drawn.ticks],
        "ticktext": [f"{minute:.0f}<br>{clock}" if clock else f"{minute:.0f}" for minute, clock in drawn.ticks],
    }
    if drawn.close is not None:
        time["range"] = list(drawn.close)
    return time


def _limits(levels: Sequence[Level], axis: str) -> tuple[list[dict[str, Any]], list[dict[str, Any]]]:
    shapes: list[dict[str, Any]] = []
    notes: list[dict[str, Any]] = []
    for level in levels:
        ends = {"x0": 0, "x1": 1, "xref": "paper", "y0": level.at, "y1": level.at, "yref": axis}
        shapes.append({"type": "line", "layer": "below", "line": {"color": _LIMIT, "dash": "dot", "width": 1.5}} | ends)
        under = "at least" in level.words
        place = {"x": 1, "xref": "paper", "xanchor": "right", "y": level.at, "yref": axis}
        place["yanchor"] = "top" if under else "bottom"
        notes.append({"text": _told(level.words), "showarrow": False, "font": {"size": 12}} | place)
    return shapes, notes


def _band(floor: Level, top: Level) -> tuple[dict[str, Any], dict[str, Any]]:
    """The band as a strip all along, with its words under it on the left, where no curve is yet."""
    ends = {"x0": 0, "x1": 1, "xref": "paper", "y0": floor.at, "y1": top.at, "yref": "y"}
    shade = {"type": "rect", "layer": "below", "line": {"width": 0}, "fillcolor": _BAND, "opacity": 0.2} | ends
    place = {"x": 0, "xref": "paper", "xanchor": "left", "y": floor.at, "yref": "y", "yanchor": "top"}
    return shade, {"text": _told(floor.words), "showarrow": False, "font": {"size": 12}} | place


def _stretch(mark: Marked) -> dict[str, Any]:
    """How long something lasted that is not as it should be, as a bar along the foot of its panel."""
    _, colour = _MARKS[mark.outcome]
    ends = {"x0": mark.start, "x1": mark.end, "y0": 0.0, "y1": 1.0, "yref": "paper"}
    return {"type": "rect", "layer": "below", "line": {"width": 1, "color": colour}, "opacity": 0.12} | ends


def _at_the_foot(mark: Marked) -> dict[str, Any]:
    """A number at the foot, where there is no reading to stand at."""
    _, colour = _MARKS[mark.outcome]
    place = {"x": mark.start, "y": 0, "yref": "paper", "yanchor": "bottom", "xanchor": "left"}
    return {
        "text": f"▼{mark.number}",
        "name": "finding",
        "showarrow": False,
        "font": {"size": 14, "color": colour},
    } | place
