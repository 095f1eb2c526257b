"""The blade seen from above and its twist: what is built in where, from the drawing alone."""

import math
from typing import Final

import numpy as np
from matplotlib.axes import Axes
from matplotlib.patches import Polygon, Rectangle

from bladewright.drawing.file import BladeDrawing
from bladewright.papers.charts import plain_frame, sheet, svg
from bladewright.papers.letters import printable

_MM: Final = 1000.0
_GRAM: Final = 1000.0
_SMALL: Final = 6.2


def planform_chart(drawing: BladeDrawing) -> bytes:
    """The chart as SVG. Chordwise scale is stretched, and the paper says so."""
    with sheet(3.3) as page:
        above, twist = page.subplots(2, 1, sharex=True, height_ratios=(2.4, 1.0))
        _planform(above, drawing)
        _twist(twist, drawing)
        return svg(page)


def planform_words(drawing: BladeDrawing) -> tuple[str, str]:
    """The same in words: alternative text, and the note under the chart."""
    plan = drawing.planform
    parts = [f"root {plan.root:.3f} m, tip {plan.tip:.3f} m, feathering axis at {plan.feathering_axis:.0%} of chord"]
    parts += [
        f"radius {s.radius:.3f} m chord {s.chord * _MM:.1f} mm twist {math.degrees(s.twist):+.2f}°"
        for s in plan.stations
    ]
    if drawing.reflex is not None:
        reflex = drawing.reflex
        parts.append(
            f"reflex of the {reflex.side} skin {math.degrees(reflex.angle):.2f}° from {reflex.start:.0%} of chord"
        )
    if drawing.doubler is not None:
        parts.append(f"doubler {drawing.doubler.inner:.3f} to {drawing.doubler.outer:.3f} m")
    if drawing.tip_weight is not None:
        weight = drawing.tip_weight
        parts.append(f"tip weight {weight.mass:.3f} kg, {weight.inner:.3f} to {weight.outer:.3f} m")
    parts += [
        f"trim pocket {p.name} at {p.radius:.3f} m, up to {p.greatest * _GRAM:.0f} g" for p in drawing.trim.pockets
    ]
    alt = f"Planform of {drawing.name}: " + "; ".join(parts) + "."
    return alt, "As drawn, not as measured. Chordwise scale stretched. " + "; ".join(parts) + "."


def _chord(drawing: BladeDrawing, radius: float) -> float:
    stations = drawing.planform.stations
    return float(np.interp(radius, [s.radius for s in stations], [s.chord for s in stations]))


def _aft(drawing: BladeDrawing, radius: float, fraction: float) -> float:
    """Distance aft of the feathering axis. [mm]"""
    return (fraction - drawing.planform.feathering_axis) * _chord(drawing, radius) * _MM


def _strip(drawing: BladeDrawing, inner: float, outer: float, front: float, back: float) -> list[tuple[float, float]]:
    inside = [s.radius for s in drawing.planform.stations if inner < s.radius < outer]
    radii = [inner, *inside, outer]
    return [(r, _aft(drawing, r, front)) for r in radii] + [(r, _aft(drawing, r, back)) for r in reversed(radii)]


def _planform(axes: Axes, drawing: BladeDrawing) -> None:
    plan = drawing.planform
    axes.grid(False)
    axes.add_patch(
        Polygon(_strip(drawing, plan.root, plan.tip, 0.0, 1.0), facecolor="1.0", edgecolor="0.0", linewidth=1.0)
    )
    if drawing.spar is not None:
        back = drawing.spar.web_place
        strip = _strip(drawing, plan.root, plan.tip, 0.0, back)
        axes.add_patch(Polygon(strip, facecolor="0.93", edgecolor="0.4", linewidth=0.4))
        _label(axes, 0.5 * (plan.root + plan.tip), _aft(drawing, plan.root, 0.06), "spar")
    if drawing.reflex is not None:
        strip = _strip(drawing, plan.airfoil_start, plan.tip, drawing.reflex.start, 1.0)
        axes.add_patch(Polygon(strip, facecolor="none", edgecolor="0.3", linewidth=0.4, hatch="...."))
        middle = 0.55 * plan.root + 0.45 * plan.tip
        angle = math.degrees(drawing.reflex.angle)
        _label(axes, middle, _aft(drawing, middle, 0.86), f"reflex {angle:.2f}°, {drawing.reflex.side} skin")
    if drawing.doubler is not None:
        doubler = drawing.doubler
        strip = _strip(drawing, doubler.inner, doubler.outer, doubler.front, doubler.back)
        axes.add_patch(Polygon(strip, facecolor="none", edgecolor="0.0", linewidth=0.5, hatch="////"))
        _label(
            axes, 0.5 * (doubler.inner + doubler.outer), _aft(drawing, doubler.outer, doubler.back + 0.09), "doubler"
        )
        for bolt in doubler.bolts:
            axes.plot(bolt.radius, bolt.chordwise * _MM, "o", color="1.0", markeredgecolor="0.0", markersize=3.0)
    if drawing.tip_weight is not None:
        weight = drawing.tip_weight
        middle = _aft(drawing, weight.outer, weight.chordwise)
        box = (weight.inner, middle - 8.0), weight.outer - weight.inner, 16.0
        axes.add_patch(Rectangle(*box, facecolor="0.35", edgecolor="0.0", linewidth=0.5))
        axes.annotate(
            f"tip weight {weight.mass:.3f} kg", (weight.inner, middle), (-4, 0), textcoords="offset points",
            ha="right", va="center", fontsize=_SMALL,
        )  # fmt: skip
    for pocket in drawing.trim.pockets:
        place = pocket.radius, _aft(drawing, pocket.radius, pocket.chordwise)
        axes.plot(*place, "s", color="1.0", markeredgecolor="0.0", markersize=3.2)
        axes.annotate(
            printable(f"{pocket.name}, up to {pocket.greatest * _GRAM:.0f} g"), (plan.tip, place[1]), (4, 0),
            textcoords="offset points", va="center", fontsize=_SMALL,
        )  # fmt: skip
    axes.axhline(0.0, color="0.0", linewidth=0.5, linestyle=(0, (8, 2, 1.5, 2)))
    axes.set_ylabel("mm aft of\nfeathering axis")
    axes.set_xlim(min(0.0, plan.root), plan.tip * (1.16 if drawing.trim.pockets else 1.02))
    axes.invert_yaxis()
    axes.margins(y=0.08)
    axes.autoscale_view(scalex=False)
    plain_frame(axes)


def _label(axes: Axes, x: float, y: float, words: str) -> None:
    axes.text(
        x, y, printable(words), ha="center", va="center", fontsize=_SMALL,
        bbox={"facecolor": "1.0", "linewidth": 0.0, "pad": 0.6},
    )  # fmt: skip


def _twist(axes: Axes, drawing: BladeDrawing) -> None:
    stations = drawing.planform.stations
    radii, degrees = [s.radius for s in stations], [math.degrees(s.twist) for s in stations]
    axes.plot(radii, degrees, color="0.0", marker="o", markersize=2.4)
    for radius, angle in ((radii[0], degrees[0]), (radii[-1], degrees[-1])):
        axes.annotate(
            f"{angle:+.2f}°", (radius, angle), (-3, 4), textcoords="offset points", ha="right", fontsize=_SMALL
        )
    axes.margins(y=0.35)
    axes.set_ylabel("twist, °\nnose up +")
    axes.set_xlabel("radius, m")
    plain_frame(axes)
