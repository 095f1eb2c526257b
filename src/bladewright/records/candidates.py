"""What matching may know of an accepted blade, from what is on file for it. What was not measured is not known."""

import functools
from collections.abc import Iterable
from dataclasses import dataclass, field, replace

from bladewright.design.as_built import CHANGE, as_built
from bladewright.design.at_the_handle import HandleForce
from bladewright.design.handle_force import hover_case, lowest_collective_case
from bladewright.design.records import Departure
from bladewright.drawing.entries import number_at
from bladewright.drawing.file import BladeDrawing
from bladewright.evidence.records import Measured, Weighing
from bladewright.figures import Figure
from bladewright.pairing.records import Candidate
from bladewright.proof.records import BladeEvidence, Verdict
from bladewright.units import to_si

SECTION_MOMENT = CHANGE + "section moment coefficient"
PITCH = CHANGE + "effective pitch"


@dataclass(frozen=True, slots=True)
class _AsMeasured:
    """What was measured of a blade of one drawing revision: the same measurements have the same effects."""

    drawing_sha256: str
    rows: tuple[Measured, ...]
    drawing: BladeDrawing = field(compare=False)


def candidate(drawing: BladeDrawing, verdict: Verdict, evidence: BladeEvidence) -> Candidate | None:
    """The blade as matching sees it, on a verdict, or None if it was never weighed."""
    return candidate_of(drawing, verdict.drawing_sha256, verdict.serial, evidence, verdict.may_fly_only_with)


def candidate_of(
    drawing: BladeDrawing,
    drawing_sha256: str,
    serial: str,
    evidence: BladeEvidence,
    only_with: tuple[str, ...] | None,
) -> Candidate | None:
    """The blade as matching sees it, or None if it was never weighed. Of the evidence, sheets and weighings are read.

    The uncertainty of a blade's handle force is that of what was measured on it. What the model leaves open is the
    same for all blades of a drawing and is given beside it; until it is quantified, a person decides.
    """
    weighing = newest(evidence.weighings)
    if weighing is None:
        return None
    rows = tuple(row for sheet in evidence.sheets for row in sheet.rows)
    measured = _AsMeasured(drawing_sha256, rows, drawing)
    found = _effects(measured)
    share, share_lowest = _share(measured, hover_case(drawing)), _share(measured, lowest_collective_case(drawing))
    moment, pitch = found.get(SECTION_MOMENT), found.get(PITCH)
    return Candidate(
        serial=serial,
        span_moment=weighing.span_moment_difference,
        span_moment_uncertainty=weighing.span_moment_uncertainty,
        chordwise_centre=weighing.chordwise_difference,
        chordwise_uncertainty=weighing.chordwise_uncertainty,
        section_moment=moment.value if moment else None,
        section_moment_uncertainty=moment.uncertainty if moment else None,
        effective_pitch=_radians(pitch.value) if pitch else None,
        effective_pitch_uncertainty=_radians(pitch.uncertainty) if pitch and pitch.uncertainty is not None else None,
        handle_force=share.value if share else None,
        handle_force_uncertainty=share.uncertainty if share else None,
        handle_force_lowest=share_lowest.value if share_lowest else None,
        handle_force_lowest_uncertainty=share_lowest.uncertainty if share_lowest else None,
        handle_force_model_uncertainty=_of_the_model(drawing),
        handle_force_validated=all(one.validated for one in (share, share_lowest) if one is not None),
        only_with=only_with,
    )


def newest(weighings: tuple[Weighing, ...]) -> Weighing | None:
    """The weighing that counts: the last one made, and of one day's the last one filed."""
    return max(enumerate(weighings), key=lambda pair: (pair[1].weighed_on, pair[0]), default=(0, None))[1]


def departures_of(drawing: BladeDrawing, rows: Iterable[Measured]) -> list[Departure]:
    """What was measured of the drawing's own fields."""
    return [Departure(r.feature, r.value, r.uncertainty, r.station) for r in rows if _is_field(drawing, r.feature)]


@functools.lru_cache(maxsize=512)
def _effects(measured: _AsMeasured) -> dict[str, Figure]:
    """The flight effects that every measurement they need was made for."""
    drawing = measured.drawing
    features = {row.feature for row in measured.rows}
    if drawing.reflex is not None and "reflex.angle" not in features:
        return {}
    found = as_built(drawing, departures_of(drawing, measured.rows)).effects
    known = {figure.name: figure for figure in found}
    return known if "planform.twist" in features else {SECTION_MOMENT: known[SECTION_MOMENT]}


def _share(measured: _AsMeasured, nominal: HandleForce) -> Figure | None:
    """This blade's share at the handle in one case: the drawing's share and what was measured to differ."""
    rotor = measured.drawing.rotor
    share = f"handle force, {nominal.case}, this blade's share"
    change = _effects(measured).get(CHANGE + share)
    if nominal.total is None or change is None or rotor is None:
        return None
    return replace(
        nominal.total,
        name=share,
        value=nominal.total.value / rotor.blades + change.value,
        uncertainty=change.uncertainty,
        method=change.method,
    )


def _of_the_model(drawing: BladeDrawing) -> float | None:
    """What the drawing's own handle force leaves open, as one blade's share; None: not quantified. [N]"""
    totals = [case.total for case in (hover_case(drawing), lowest_collective_case(drawing))]
    spreads = [total.uncertainty if total else None for total in totals]
    known = [spread for spread in spreads if spread is not None]
    if len(known) < len(spreads) or drawing.rotor is None:
        return None
    return max(known) / drawing.rotor.blades


def _radians(degrees: float) -> float:
    return to_si(f"{degrees!r} deg", "angle")


def _is_field(drawing: BladeDrawing, dotted: str) -> bool:
    if dotted in ("planform.twist", "planform.chord"):  # measured along the span
        return True
    return number_at(drawing, dotted) is not None
