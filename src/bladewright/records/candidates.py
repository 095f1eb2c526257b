"""What matching may know of an accepted blade, from what is on file for it. What was not measured is not known."""

from bladewright.design.as_built import CHANGE, as_built
from bladewright.design.handle_force import HandleForce, hover_case, lowest_collective_case
from bladewright.design.outline import chord_at
from bladewright.design.records import Departure
from bladewright.design.spanwise import spanwise
from bladewright.drawing.file import BladeDrawing
from bladewright.evidence.records import Measured, Weighing
from bladewright.figures import Figure
from bladewright.pairing.records import Balance, Candidate
from bladewright.proof.records import BladeEvidence, Verdict
from bladewright.units import to_si

SECTION_MOMENT = CHANGE + "section moment coefficient"
PITCH = CHANGE + "effective pitch"


def candidate(drawing: BladeDrawing, verdict: Verdict, evidence: BladeEvidence) -> Candidate | None:
    """The blade as matching sees it, or None if it was never weighed.

    The uncertainty of the handle force is that of what was measured on the blade; what the model itself leaves open
    is the same for all blades of a drawing and stands in its validity.
    """
    weighing = newest(evidence.weighings)
    if weighing is None:
        return None
    rows = [row for sheet in evidence.sheets for row in sheet.rows]
    found = _effects(drawing, rows)
    hover = _share(drawing, rows, hover_case(drawing))
    # where a lever that rises by itself does harm
    lowest = _share(drawing, rows, lowest_collective_case(drawing))
    moment, pitch = found.get(SECTION_MOMENT), found.get(PITCH)
    return Candidate(
        serial=verdict.serial,
        span_moment=weighing.span_moment_difference,
        span_moment_uncertainty=weighing.span_moment_uncertainty,
        chordwise_centre=weighing.chordwise_difference,
        chordwise_uncertainty=weighing.chordwise_uncertainty,
        section_moment=moment.value if moment else None,
        section_moment_uncertainty=moment.uncertainty if moment else None,
        effective_pitch=_radians(pitch.value) if pitch else None,
        effective_pitch_uncertainty=_radians(pitch.uncertainty) if pitch and pitch.uncertainty is not None else None,
        handle_force=hover.value if hover else None,
        handle_force_uncertainty=hover.uncertainty if hover else None,
        handle_force_lowest=lowest.value if lowest else None,
        handle_force_lowest_uncertainty=lowest.uncertainty if lowest else None,
        only_with=verdict.may_fly_only_with,
    )


def newest(weighings: tuple[Weighing, ...]) -> Weighing | None:
    """The weighing that counts: the last one made, and of one day's the last one filed."""
    return max(enumerate(weighings), key=lambda pair: (pair[1].weighed_on, pair[0]), default=(0, None))[1]


def balance_of(drawing: BladeDrawing) -> Balance:
    """How far a trim weight moves the chordwise centre of a blade as drawn; the chord is that at the first pocket."""
    along = spanwise(drawing)
    at = drawing.trim.pockets[0].radius if drawing.trim.pockets else drawing.planform.tip
    axis = drawing.planform.feathering_axis
    return Balance(along.total_mass, along.chordwise_centre, chord_at(drawing, at), axis)


def departures_of(drawing: BladeDrawing, rows: list[Measured]) -> list[Departure]:
    """What was measured of the drawing's own fields."""
    return [Departure(r.feature, r.value, r.uncertainty, r.station) for r in rows if _is_field(drawing, r.feature)]


def _effects(drawing: BladeDrawing, rows: list[Measured]) -> dict[str, Figure]:
    """The flight effects that every measurement they need was made for."""
    measured = {row.feature for row in rows}
    if drawing.reflex is not None and "reflex.angle" not in measured:
        return {}
    found = as_built(drawing, departures_of(drawing, rows)).effects
    known = {figure.name: figure for figure in found}
    return known if "planform.twist" in measured else {SECTION_MOMENT: known[SECTION_MOMENT]}


def _share(drawing: BladeDrawing, rows: list[Measured], nominal: HandleForce) -> Figure | None:
    """This blade's share at the handle in one condition."""
    change = _effects(drawing, rows).get(f"{CHANGE}handle force, {nominal.case}, this blade's share")
    if nominal.total is None or change is None or drawing.rotor is None:
        return None
    whole = nominal.total
    return Figure(
        name=f"handle force, {nominal.case}, this blade's share",
        value=whole.value / drawing.rotor.blades + change.value,
        unit=whole.unit,
        uncertainty=change.uncertainty,
        method=change.method,
        validity=whole.validity,
        inside_validity=whole.inside_validity,
        source=whole.source,
        validated=whole.validated,
    )


def _radians(degrees: float) -> float:
    return to_si(f"{degrees!r} deg", "angle")


def _is_field(drawing: BladeDrawing, dotted: str) -> bool:
    if dotted in ("planform.twist", "planform.chord"):  # measured along the span
        return True
    value: object = drawing
    for name in dotted.split("."):
        value = getattr(value, name, None)
    return isinstance(value, float)
