"""A torn coupon: its mean peel over the steady part, and how the bond broke on both faces.

End coupons speak for the ends; a pull test is not durability. Adhesion failure at any load stops the line.
"""

from dataclasses import dataclass

import numpy as np

from bladewright import units
from bladewright.drawing.limits import PeelLimits
from bladewright.evidence.records import Coupon, FailureMode, PullCurve, TornFace
from bladewright.figures import Figure, Finding, Outcome, Where
from bladewright.proof.comparing import held_to
from bladewright.proof.wording import no_limit, ruled

UNIT = "lbf/in"
_PLAY = 0.01  # of the judged travel: a smaller step back is the encoder's (common practice, no source)
METHOD = "trapezium over the judged travel, divided by the coupon's width"


@dataclass(frozen=True, slots=True)
class SteadyPart:
    """The part of a pull curve that is judged, by crosshead travel from the curve's first row."""

    begin: float  # [m] crosshead travel as logged
    end: float  # [m]
    reached: bool  # the curve goes on to the end
    mean: float  # [N/m]
    least: float  # [N/m] of the samples in it
    greatest: float  # [N/m]
    first_peak: float  # [N/m] of the samples before it; shown, never judged


def judge_coupon(coupon: Coupon, curve: PullCurve | None, limits: PeelLimits | None) -> tuple[Finding, ...]:
    """Every rule's finding on one torn coupon."""
    if limits is None:
        return (no_limit(_rule(coupon, "limits"), "coupon", "limits.peel", (Where(coupon.source.file),)),)
    return (
        _uncertainty(coupon, limits),
        mean_peel(coupon, curve, limits),
        adhesion_failure(coupon, limits),
        void_share(coupon, limits),
    )


def judged_travel(curve: PullCurve, limits: PeelLimits) -> tuple[float, float]:
    """Crosshead travel between which the mean is taken, as logged. [m]"""
    start = float(curve.travel[0])
    begin = start + limits.skip * limits.travel_per_peel
    return begin, begin + limits.length * limits.travel_per_peel


def steady_part(curve: PullCurve, width: float, limits: PeelLimits) -> SteadyPart | None:
    """Mean force per width over the judged travel; None where no travel of it was logged or travel runs backwards."""
    begin, end = judged_travel(curve, limits)
    travel, force = np.maximum.accumulate(curve.travel), curve.force / width
    inside = (travel > begin) & (travel < end)
    last = min(end, float(travel[-1]))
    if _runs_backwards(curve, limits) or not last > begin:
        return None
    places = np.concatenate(([begin], travel[inside], [last]))
    loads = np.concatenate(([np.interp(begin, travel, force)], force[inside], [np.interp(last, travel, force)]))
    before = force[travel <= begin]
    return SteadyPart(
        begin=begin,
        end=last,
        reached=last >= end - 1e-9 * abs(end),
        mean=float(np.trapezoid(loads, places)) / (last - begin),
        least=float(loads.min()),
        greatest=float(loads.max()),
        first_peak=float(before.max()) if len(before) else float(loads[0]),
    )


def _runs_backwards(curve: PullCurve, limits: PeelLimits) -> bool:
    """Whether the crosshead went back by more than its encoder's play."""
    back = float((np.maximum.accumulate(curve.travel) - curve.travel).max())
    return back > _PLAY * limits.length * limits.travel_per_peel


def mean_figure(part: SteadyPart, curve: PullCurve, limits: PeelLimits) -> Figure:
    """The mean peel as papers and findings show it."""
    return Figure(
        name="mean peel",
        value=_shown(part.mean),
        unit=UNIT,
        uncertainty=None if limits.uncertainty is None else _shown(part.mean) * limits.uncertainty,
        method=METHOD,
        source=curve.source.file,
        validated=bool(limits.source),
    )


def judged_mean(curve: PullCurve, width: float, limits: PeelLimits) -> Figure | None:
    """The mean a coupon [m] wide is judged by, or None where its curve does not give one."""
    part = steady_part(curve, width, limits)
    return None if part is None else mean_figure(part, curve, limits)


def shares(face: TornFace) -> tuple[dict[FailureMode, float], float]:
    """Each failure mode's share of the bonded area, void left out; and void's share of the whole face."""
    areas = dict(face.areas)
    whole = sum(areas.values())
    void = areas.get("void", 0.0)
    bonded = whole - void
    if bonded <= 0.0:
        return {}, 1.0
    return {mode: area / bonded for mode, area in areas.items() if mode != "void"}, void / whole


def mean_peel(coupon: Coupon, curve: PullCurve | None, limits: PeelLimits) -> Finding:
    """Mean force per width over the steady part, against the least allowed."""
    rule = _rule(coupon, "mean peel")
    limit = f"at least {_shown(limits.mean_least):.4g} {UNIT} over {_inches(limits.length):.4g} in of peel"
    part = steady_part(curve, coupon.width, limits) if curve is not None else None
    if curve is None or part is None:
        backwards = curve is not None and _runs_backwards(curve, limits)
        said = f"The {coupon.label} coupon has no pull curve on file." if curve is None else (
            f"The {coupon.label} coupon's travel runs backwards." if backwards
            else f"The {coupon.label} coupon's curve ends before the judged part begins."
        )  # fmt: skip
        return ruled(
            rule=rule,
            outcome=Outcome.MISSING,
            sentence=said,
            proof="coupon",
            limit=limit,
            limit_source=limits.source,
            where=(Where(curve.source.file if curve else coupon.source.file),),
            next_step="File the pull curve, or tear the retained coupon.",
            would_change="a pull curve over the whole judged part",
        )
    mean = mean_figure(part, curve, limits)
    outcome = held_to(part.mean, least=limits.mean_least, uncertainty=(limits.uncertainty or 0.0) * part.mean)
    said = (
        f"The {coupon.label} coupon peels at {mean.value:.1f} {UNIT} on average, between {_shown(part.least):.1f} and "
        f"{_shown(part.greatest):.1f}; at least {_shown(limits.mean_least):.4g} {UNIT} are asked. The first peak of "
        f"{_shown(part.first_peak):.1f} is not judged."
    )
    if not part.reached:
        outcome = Outcome.REFER if outcome is Outcome.PASS else outcome
        said += (
            f" The curve ends {_inches(part.end - part.begin) / limits.travel_per_peel:.2f} in into the judged part."
        )
    return ruled(
        rule=rule,
        outcome=outcome,
        sentence=said,
        proof="coupon",
        worst=mean,
        limit=limit,
        limit_source=limits.source,
        where=(Where(curve.source.file),),
        next_step="Stop that adhesive and treatment batch; tear the retained coupon.",
        would_change="the retained coupon, torn before a witness",
    )


def adhesion_failure(coupon: Coupon, limits: PeelLimits) -> Finding:
    """The worse face's adhesion failure as a share of the bonded area. Nobody may deviate from its limit."""
    found = [(shares(face)[0], face.face) for face in coupon.faces]
    share, face = max(((modes.get("AF", 0.0), name) for modes, name in found), default=(1.0, "no"))
    outcome = held_to(share, greatest=limits.adhesion_greatest)
    if share > 0.0 and outcome is Outcome.PASS:
        outcome = Outcome.REFER
    if not found or any(not modes for modes, _ in found):
        outcome = Outcome.MISSING
    said = f"No adhesion failure on either face of the {coupon.label} coupon."
    if outcome is Outcome.MISSING:
        said = f"Nothing of the {coupon.label} coupon was bonded, or no face was read."
    elif share > 0.0:
        said = (
            f"Adhesion failure over {100.0 * share:.3g} % of the bonded area of the {coupon.label} coupon's {face} "
            "face. Adhesion failure at any load stops the line."
        )
    return ruled(
        rule=_rule(coupon, "adhesion failure"),
        outcome=outcome,
        sentence=said,
        proof="coupon",
        worst=Figure(
            "adhesion failure", 100.0 * share, "%", None,
            method="share of the bonded area, void left out; the worse face", source=coupon.source.file,
            validated=bool(limits.source),
        ),
        limit=f"at most {100.0 * limits.adhesion_greatest:.3g} % of the bonded area on either face",
        limit_source=limits.source,
        where=(Where(coupon.source.file, f"{face} face"),),
        deviable=outcome is Outcome.REFER,
        next_step="Stop the line: find every blade of that surface treatment batch and adhesive roll.",
        would_change="nothing: no later test restores a bond that let go",
    )  # fmt: skip


def void_share(coupon: Coupon, limits: PeelLimits) -> Finding:
    """The worse face's area that was never bonded, as a share of the whole face."""
    rule = _rule(coupon, "void")
    if limits.void_greatest is None:
        return no_limit(rule, "coupon", "limits.peel.void_greatest", (Where(coupon.source.file),))
    share, face = max(((shares(face)[1], face.face) for face in coupon.faces), default=(1.0, "no"))
    outcome = held_to(share, greatest=limits.void_greatest)
    return ruled(
        rule=rule,
        outcome=outcome,
        sentence=f"{100.0 * share:.3g} % of the {coupon.label} coupon's {face} face was never bonded; "
        f"{100.0 * limits.void_greatest:.3g} % is allowed.",
        proof="coupon",
        worst=Figure(
            "void", 100.0 * share, "%", None, method="share of the whole face; the worse face",
            source=coupon.source.file, validated=bool(limits.source),
        ),
        limit=f"at most {100.0 * limits.void_greatest:.3g} % of either face",
        limit_source=limits.source,
        where=(Where(coupon.source.file, f"{face} face"),),
        next_step="Map voids over the whole span; a person decides.",
    )  # fmt: skip


def _uncertainty(coupon: Coupon, limits: PeelLimits) -> Finding:
    rule = _rule(coupon, "uncertainty")
    if limits.uncertainty is None:
        return no_limit(rule, "coupon", "limits.peel.uncertainty", (Where(coupon.source.file),))
    return ruled(
        rule=rule,
        outcome=Outcome.PASS,
        sentence=f"The mean is known within {100.0 * limits.uncertainty:.3g} % (k = 2).",
        proof="coupon",
        limit="entered",
        limit_source=limits.source,
    )


def _rule(coupon: Coupon, what: str) -> str:
    return f"{coupon.label} coupon: {what}"


def _shown(force_per_width: float) -> float:
    return units.from_si(force_per_width, UNIT, "force per width")


def _inches(length: float) -> float:
    return units.from_si(length, "in", "length")
