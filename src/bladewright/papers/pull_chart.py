"""A coupon's pull curve on paper: force per width over peeled length, the judged part, the mean and the limit."""

from typing import Final

import numpy as np

from bladewright.papers import wording
from bladewright.papers.charts import METRE_PER_INCH, ON_WHITE, plain_frame, second_scale, sheet, svg
from bladewright.papers.records import PullChart
from bladewright.units import scale_and_zero

_SHOWN: Final = "lbf/in"
_NEWTON_PER_MM: Final = 0.1751268  # one lbf/in in N/mm: 4.4482216 N over 25.4 mm
_PLAIN_TRAVEL: Final = 2.0  # crosshead travel per length peeled when no limits are entered: two in a T-peel


def _per_width(newton_per_metre: float) -> float:
    return newton_per_metre / scale_and_zero(_SHOWN, "force per width")[0]


def pull_chart(item: PullChart) -> bytes:
    """The chart as SVG."""
    per_peel = item.limits.travel_per_peel if item.limits else _PLAIN_TRAVEL
    inch = per_peel * METRE_PER_INCH
    with sheet(2.7) as drawing:
        axes = drawing.subplots()
        force = np.asarray(item.curve.force) / item.width * _per_width(1.0)
        axes.plot(np.asarray(item.curve.travel) / inch, force, color="0.0", linewidth=0.8)
        axes.set_ylim(bottom=min(0.0, float(np.nanmin(force))), top=1.15 * float(np.nanmax(force)))
        axes.margins(x=0.0)
        axes.set_xlabel(f"inches peeled (crosshead travel divided by {per_peel:g})")
        axes.set_ylabel("lbf per inch of width")
        second_scale(axes, "N per mm", _NEWTON_PER_MM)
        plain_frame(axes)
        if item.judged is not None:
            start, end = item.judged[0] / inch, item.judged[1] / inch
            axes.axvspan(start, end, color="0.9", linewidth=0.0, zorder=0.5)
            words = "judged part"
            if item.mean is not None:
                mean = _per_width(item.mean.value * scale_and_zero(item.mean.unit, "force per width")[0])
                axes.plot([start, end], [mean, mean], color="0.0", linewidth=1.4, linestyle=(0, (5, 2)))
                words = f"judged part: mean {wording.value_text(item.mean)} (heavy dashes)"
            axes.text(
                0.5 * (start + end), 0.04, words, transform=axes.get_xaxis_transform(), ha="center", bbox=ON_WHITE
            )
        if item.limits is not None:
            least = _per_width(item.limits.mean_least)
            axes.axhline(least, color="0.0", linewidth=0.7, linestyle=(0, (1, 1.5)))
            axes.text(
                0.99,
                least,
                f"least mean {least:.4g} lbf/in",
                transform=axes.get_yaxis_transform(),
                ha="right",
                va="top",
            )
        return svg(drawing)


def pull_words(item: PullChart) -> tuple[str, str]:
    """The same in words: alternative text, and the note under the chart."""
    per_width = np.asarray(item.curve.force) / item.width * _per_width(1.0)
    mean = "no mean given" if item.mean is None else f"mean {wording.value_text(item.mean)}"
    marks = "" if item.mean is None else "".join(f"; {mark}" for mark in wording.marks(item.mean))
    alt = (
        f"Pull curve of the {item.label} coupon: {mean}{marks}, least {np.nanmin(per_width):.1f} and greatest "
        f"{np.nanmax(per_width):.1f} pounds-force per inch of width."
    )
    limit = "No peel limit entered." if item.limits is None else f"Limit from {item.limits.source or 'no source'}."
    judged = "" if item.judged is not None else " Which part was judged is not given."
    return alt, f"{mean[0].upper()}{mean[1:]}{marks}. {limit}{judged} A pull test is not durability."
