"""What differs between the blades of a set before and after trim weight, and the set's handle force in its band."""

from typing import Final

from matplotlib.axes import Axes

from bladewright.figures import Figure
from bladewright.papers import wording
from bladewright.papers.charts import plain_frame, sheet, svg
from bladewright.papers.letters import printable
from bladewright.papers.records import SetRecordPaper
from bladewright.units import from_si

_ROW: Final = 0.72  # height of one quantity [in]


def _pairs(paper: SetRecordPaper) -> list[tuple[Figure | None, Figure | None]]:
    """Each quantity before and after, matched by name."""
    before = {figure.name: figure for figure in paper.match.differences}
    after = {figure.name: figure for figure in paper.match.after_trim}
    return [(before.get(name), after.get(name)) for name in {**before, **after}]


def difference_chart(paper: SetRecordPaper) -> bytes:
    """The chart as SVG: one row a quantity, each on its own scale."""
    pairs, force = _pairs(paper), paper.match.handle_force
    rows = len(pairs) + (force is not None)
    with sheet(_ROW * rows + 0.35) as drawing:
        panels = drawing.subplots(rows, 1, squeeze=False)[:, 0]
        for axes, (before, after) in zip(panels, pairs, strict=False):
            _bars(axes, before, after, paper)
        if force is not None:
            _force(panels[-1], force, paper)
        return svg(drawing)


def difference_words(paper: SetRecordPaper) -> tuple[str, str]:
    """The same in words: alternative text, and the note under the chart."""
    said = []
    for before, after in _pairs(paper):
        figure = after or before
        if figure is not None:
            first = wording.value_text(before) if before else "not given"
            then = wording.value_text(after) if after else "not given"
            said.append(f"{figure.name}: before {first}, after {then}")
    if paper.match.handle_force is not None:
        said.append(f"handle force of the set {wording.value_text(paper.match.handle_force)}")
    note = (
        "Light: before trim weight. Dark: after. Thin lines with ends: uncertainty, k = 2; none: not quantified. "
        "Dotted: limit. A difference smaller than its uncertainty is not resolved."
    )
    return "Differences between the blades. " + "; ".join(said) + ".", note


def _bars(axes: Axes, before: Figure | None, after: Figure | None, paper: SetRecordPaper) -> None:
    named = after or before
    assert named is not None  # a pair comes from a name that one of them has
    for place, figure, grey in ((1.0, before, "0.78"), (0.0, after, "0.25")):
        if figure is None:
            continue
        axes.barh(place, figure.value, height=0.62, color=grey, edgecolor="0.0", linewidth=0.4)
        if figure.uncertainty is not None:
            axes.errorbar(figure.value, place, xerr=figure.uncertainty, color="0.0", linewidth=0.6, capsize=2.0)
    axes.axvline(0.0, color="0.0", linewidth=0.6)
    for limit in paper.limits:
        if limit.name == named.name and limit.unit == named.unit:
            for edge in (-limit.value, limit.value):
                axes.axvline(edge, color="0.0", linewidth=0.8, linestyle=(0, (1, 1.5)))
    axes.set_yticks((1.0, 0.0), ("before", "after"))
    _finish(axes, named, _remarks(named, after))


def _force(axes: Axes, force: Figure, paper: SetRecordPaper) -> None:
    if paper.handle_band is not None:
        low, high = (
            from_si(edge, force.unit, "force") for edge in (paper.handle_band.least, paper.handle_band.greatest)
        )
        axes.axvspan(low, high, color="0.89", linewidth=0.0, zorder=0.5)
        for edge in (low, high):
            axes.axvline(edge, color="0.0", linewidth=0.8, linestyle=(0, (1, 1.5)))
    axes.errorbar(
        force.value, 0.5, xerr=force.uncertainty, color="0.0", marker="D", markersize=4, linewidth=0.8, capsize=2.5
    )
    axes.axvline(0.0, color="0.0", linewidth=0.6)
    axes.set_yticks((0.5,), ("the set",))
    axes.set_ylim(0.0, 1.0)
    band = () if paper.handle_band is None else ("grey: allowed band",)
    _finish(axes, force, [*band, *wording.marks(force)])


def _finish(axes: Axes, figure: Figure, remarks: list[str]) -> None:
    axes.margins(x=0.12)
    axes.grid(axis="y", visible=False)
    unit = wording.unit(figure.unit)
    title = printable(f"{figure.name}, {unit}" if unit else figure.name)
    axes.set_title("; ".join([title, *remarks]), loc="left", fontsize=7.0, pad=2.0)
    plain_frame(axes)


def _remarks(named: Figure, after: Figure | None) -> list[str]:
    resolved = after is None or after.uncertainty is None or abs(after.value) >= after.uncertainty
    return [*([] if resolved else ["after: not resolved"]), *wording.marks(named)]
