"""A chart of plain lines as a picture to scale: markup without script or style, for a page or a print."""

import math
from collections.abc import Iterator
from dataclasses import dataclass
from typing import Final
from xml.sax.saxutils import quoteattr

from bladewright.figures import Chart, Curve

#: how a part's name begins -> its fill and stroke, told apart in print by how dark they are; our own choice
PAINTS: Final = {
    "skins": ("#dfe7ea", "#33474f"),
    "blade": ("#dfe7ea", "#33474f"),
    "spar": ("#9db8c4", "#1f3f4d"),
    "reflex": ("#f2d9a6", "#7a5a12"),
    "doubler": ("#c9d8a6", "#46591d"),
    "tip weight": ("#b88a3e", "#4f370c"),
    "filler": ("#e3cfe0", "#5d2f58"),
    "bolt hole": ("#ffffff", "#46591d"),
}
PLAIN: Final = ("none", "#555555")
BESIDE: Final = "#8a2a1c"  # of the drawing compared with
GRIDS: Final = (1.0, 2.0, 5.0, 10.0, 20.0, 50.0, 100.0, 200.0, 500.0, 1000.0)  # [mm]
SQUARES: Final = 26  # across, at the most
MARGIN: Final = 0.02  # of the width


@dataclass(frozen=True, slots=True)
class Key:
    """What a colour of the picture stands for."""

    words: str
    fill: str
    stroke: str


@dataclass(frozen=True, slots=True)
class ScaledPicture:
    """The picture, its words, its colours, and how large its squares are."""

    title: str
    svg: str
    keys: tuple[Key, ...]
    note: str
    square: float  # [mm]
    compared: bool  # whether another drawing's outline lies over it


def scaled_picture(chart: Chart, beside: Chart | None = None) -> ScaledPicture:
    """Closed lines filled, open ones drawn; what it is compared with as a broken outline over it."""
    curves = (*chart.curves, *(beside.curves if beside else ()))
    left, right = _ends(value for curve in curves for value in curve.x)
    low, high = _ends(value for curve in curves for value in curve.y if value is not None)
    edge = MARGIN * (right - left)
    left, right, low, high = left - edge, right + edge, low - edge, high + edge
    sign = 1.0 if chart.y.downward else -1.0
    top = low if chart.y.downward else -high
    square = next((size for size in GRIDS if (right - left) / size <= SQUARES), GRIDS[-1])
    words = dict.fromkeys(curve.name for curve in chart.curves if not curve.beside)
    paints = {name: _paint(name) for name in words}
    inside = [*_grid(left, right, top, top + high - low, square)]
    inside += [_drawn(curve, sign, *paints.get(curve.name, PLAIN)) for curve in chart.curves]
    if beside is not None:
        inside += [_outline(curve, sign) for curve in beside.curves if not curve.beside]
    box = f"{left:.2f} {top:.2f} {right - left:.2f} {high - low:.2f}"
    label = quoteattr(f"{chart.title}, to scale: {', '.join(words)}. {chart.note}")
    markup = f'<svg class="drawn" viewBox="{box}" role="img" aria-label={label}>{"".join(inside)}</svg>'
    return ScaledPicture(
        chart.title, markup, tuple(Key(name, *paint) for name, paint in paints.items()), chart.note, square,
        beside is not None,
    )  # fmt: skip


def _ends(values: Iterator[float]) -> tuple[float, float]:
    seen = list(values)
    return min(seen), max(seen)


def _grid(left: float, right: float, top: float, bottom: float, square: float) -> Iterator[str]:
    look = 'stroke="#d9d9d9" stroke-width="1" vector-effect="non-scaling-stroke"'
    for at in range(math.ceil(left / square), math.floor(right / square) + 1):
        x = at * square
        yield f'<line x1="{x:.2f}" x2="{x:.2f}" y1="{top:.2f}" y2="{bottom:.2f}" {look}/>'
    for at in range(math.ceil(top / square), math.floor(bottom / square) + 1):
        y = at * square
        yield f'<line x1="{left:.2f}" x2="{right:.2f}" y1="{y:.2f}" y2="{y:.2f}" {look}/>'


def _paint(name: str) -> tuple[str, str]:
    return next((paint for begins, paint in PAINTS.items() if name.startswith(begins)), PLAIN)


def _path(curve: Curve, sign: float) -> str:
    """Through the points in turn; a gap lifts the pen."""
    told, pen = [], "M"
    for x, y in zip(curve.x, curve.y, strict=True):
        if y is None:
            pen = "M"
            continue
        told.append(f"{pen}{x:.2f} {sign * y:.2f}")
        pen = "L"
    return "".join(told)


def _drawn(curve: Curve, sign: float, fill: str, stroke: str) -> str:
    dash = ' stroke-dasharray="9 3 2 3"' if curve.beside else ""
    return (
        f'<path d="{_path(curve, sign)}" fill="{"none" if curve.beside else fill}" fill-rule="evenodd" '
        f'stroke="{stroke}" stroke-width="1.4" stroke-linejoin="round" vector-effect="non-scaling-stroke"{dash}/>'
    )


def _outline(curve: Curve, sign: float) -> str:
    return (
        f'<path d="{_path(curve, sign)}" fill="none" stroke="{BESIDE}" stroke-width="1.2" '
        'stroke-dasharray="5 4" vector-effect="non-scaling-stroke"/>'
    )
