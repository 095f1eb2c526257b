"""A coupon's pull curve and the run of all coupons as charts of plain data, in one person's units."""

from typing import Final

from bladewright.drawing.limits import PeelLimits
from bladewright.evidence.records import PullCurve
from bladewright.figures import Axis, Chart, Curve, Level, Reach
from bladewright.proof.peel import steady_part
from bladewright.proof.peel_run import PeelRun, spans
from bladewright.units import from_si

_PLAIN_TRAVEL: Final = 2.0  # crosshead travel per length peeled when no limits are entered: two in a T-peel
_MOST: Final = 2000  # points of a curve on a screen; between them the eye sees nothing
_UNITS: Final = {"inch": ("in", "lbf/in"), "metric": ("mm", "N/mm")}


def pull_curve_chart(label: str, curve: PullCurve, width: float, limits: PeelLimits | None, system: str) -> Chart:
    """Force per width over the length peeled, with the judged part, its mean and the limit. ``width`` [m]."""
    length_unit, force_unit = _UNITS[system]
    per_peel = limits.travel_per_peel if limits else _PLAIN_TRAVEL
    start = float(curve.travel[0]) if len(curve.travel) else 0.0

    def peeled(travel: float) -> float:
        return from_si((travel - start) / per_peel, length_unit, "length")

    def force(per_width: float) -> float:
        return from_si(per_width, force_unit, "force per width")

    step = max(1, len(curve.travel) // _MOST)
    curves = [
        Curve(
            "pull",
            tuple(peeled(float(x)) for x in curve.travel[::step]),
            tuple(force(float(y)) for y in curve.force[::step] / width),
        )
    ]
    levels, reaches = [], []
    part = steady_part(curve, width, limits) if limits else None
    if limits:
        levels.append(Level(f"least mean {force(limits.mean_least):.3g} {force_unit}", force(limits.mean_least)))
    if part:
        begin, end = peeled(part.begin), peeled(part.end)
        curves.append(Curve(f"mean of the judged part, {force(part.mean):.3g}", (begin, end), (force(part.mean),) * 2))
        reaches.append(Reach("judged part", begin, end))
    source = (limits.source or "no source") if limits else "no peel limit entered"
    return Chart(
        name="pull-curve",
        title=f"Pull curve of the {label} coupon",
        x=Axis("length peeled", length_unit),
        y=Axis("force per width", force_unit),
        curves=tuple(curves),
        levels=tuple(levels),
        reaches=tuple(reaches),
        note=f"{curve.source.file}; limit: {source}. A pull test is not durability.",
    )


def peel_run_chart(run: PeelRun, by: str, system: str) -> Chart:
    """Mean peel over coupons in the order torn, told apart by lot, batch or person, with the change that was found."""
    unit = _UNITS[system][1]

    def force(per_width: float) -> float:
        return from_si(per_width, unit, "force per width")

    numbered = list(enumerate(run.results, start=1))
    groups = list(dict.fromkeys(result.which(by) for result in run.results))
    curves = []
    for group in groups:
        own = [(number, result) for number, result in numbered if result.which(by) == group]
        known = all(result.uncertainty is not None for _, result in own)
        curves.append(
            Curve(
                f"{by} {group}",
                tuple(float(number) for number, _ in own),
                tuple(force(result.mean or 0.0) for _, result in own),
                tuple(force(result.uncertainty or 0.0) for _, result in own) if known and len(groups) == 1 else None,
                points=True,
            )
        )
    count, reaches = float(len(numbered)), list[Reach]()
    if run.before:
        stretches = ((1.0, float(run.before)), (run.before + 1.0, count))
        for words, stretch, level in zip(("median before", "median after"), stretches, run.levels[:2], strict=True):
            curves.append(Curve(words, stretch, (force(level.value),) * 2))
        reaches += [Reach("change, 95 %", float(first), last + 1.0) for first, last in spans(run.places)]
    for least in dict.fromkeys(result.least for result in run.results if result.least is not None):
        under = [float(number) for number, result in numbered if result.least == least]  # each under its own limit
        ends = (under[0] - 0.5, under[-1] + 0.5)
        curves.append(Curve(f"least mean {force(least):.3g} {unit}", ends, (force(least),) * 2))
    return Chart(
        name="peel-run",
        title="Mean peel, coupon after coupon",
        x=Axis("coupons in the order torn"),
        y=Axis("mean peel", unit),
        curves=tuple(curves),
        reaches=tuple(reaches),
        note="Coupons speak for the ends. What is common to all of them, the load cell say, does not show here.",
    )
