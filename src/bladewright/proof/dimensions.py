"""Measured dimensions against the drawing, and what a dimension outside comes to in flight."""

import math
from collections.abc import Sequence

from bladewright import units
from bladewright.design.as_built import as_built
from bladewright.design.records import Departure
from bladewright.drawing.entries import number_at
from bladewright.drawing.file import BladeDrawing
from bladewright.drawing.words import in_words
from bladewright.errors import BladewrightError
from bladewright.evidence.records import DimensionSheet, Measured
from bladewright.figures import Figure, Finding, Missing, Outcome, Where, places_known, rounded, spread
from bladewright.proof.comparing import held_to
from bladewright.proof.tolerances import HOLES, Allowed, allowed_for, asked_for, holes_asked_for, proof_of
from bladewright.proof.wording import ruled

LOOSE_TO_MOULD = "dimensions: loose skin against mould"
#: the one effect a pilot feels, by the name the as-built answers give it
_AT_THE_HANDLE = "change of handle force, hover, this blade's share"


def judge_dimensions(
    drawing: BladeDrawing,
    sheets: Sequence[DimensionSheet],
    *,
    holes_signed: bool = False,
) -> tuple[Finding, ...]:
    """Every measured row against its tolerance, and every dimension asked for that nobody measured.

    Holes are asked for as soon as one of them was measured, unless a person signed for all of them.
    """
    if not sheets:
        return ()
    found = [_row(drawing, sheet, row) for sheet in sheets for row in sheet.rows]
    measured = {row.feature for sheet in sheets for row in sheet.rows}
    files = tuple(Where(sheet.source.file) for sheet in sheets)
    holes = holes_asked_for(drawing) if any(map(_is_hole, measured)) and not holes_signed else ()
    wanted = (*asked_for(drawing), *holes)
    found += [_not_measured(feature, files) for feature in wanted if feature not in measured]
    return (*found, *_loose_to_mould(drawing, sheets))


def _is_hole(feature: str) -> bool:
    return proof_of(feature) == HOLES


def rule_of(row: Measured) -> str:
    """A row's rule: a deviation accepts one feature at one station, and no other."""
    at = "" if row.station is None else f" at {row.station:.3f} m"
    return f"{proof_of(row.feature)}: {row.feature}{at}"


def _row(drawing: BladeDrawing, sheet: DimensionSheet, row: Measured) -> Finding:
    allowed = allowed_for(drawing, row)
    where = (Where(sheet.source.file, row.feature, row.row, sheet.measured_on.isoformat()),)
    source = f"drawing {drawing.name}"
    if isinstance(allowed, Missing):
        return ruled(
            rule=rule_of(row), outcome=Outcome.MISSING, proof=proof_of(row.feature), where=where,
            sentence=f"The {in_words(row.feature)} was measured as {row.text}: not judged without "
            f"{', '.join(allowed.needs)}.",
            next_step=f"Enter {', '.join(allowed.needs)}.", would_change="the tolerance entered in the drawing",
        )  # fmt: skip
    outcome = held_to(row.value, least=allowed.least, greatest=allowed.greatest, uncertainty=row.uncertainty)
    said = _against(row, allowed)
    if row.uncertainty is None and outcome is Outcome.PASS:
        outcome = Outcome.REFER
        said += " The gauge's uncertainty was not entered, so inside cannot be told from outside."
    elif outcome is Outcome.REFER:
        said += " It is inside by less than the gauge's uncertainty."
    if outcome is not Outcome.PASS:
        said += f" {_in_flight(drawing, row)}"
    return ruled(
        rule=rule_of(row),
        outcome=outcome,
        sentence=said,
        proof=proof_of(row.feature),
        worst=Figure(
            row.feature,
            _shown(row, row.value),
            row.unit,
            None if row.uncertainty is None else _step(row, row.uncertainty),
            method=row.gauge or "gauge not entered",
            source=sheet.source.file,
        ),
        limit=f"{_shown(row, allowed.least):.5g} to {_shown(row, allowed.greatest):.5g} {row.unit}",
        limit_source=source,
        where=where,
        next_step="A person with design authority decides, by what it does in flight.",
        would_change="a second reading with a gauge of less uncertainty",
    )


def _against(row: Measured, allowed: Allowed) -> str:
    """Like "The reflex of the finished blade is +0.31 deg off the drawing; +/-0.2 deg is allowed"."""
    off = _step(row, row.value - allowed.nominal)
    places = places_known(None if row.uncertainty is None else _step(row, row.uncertainty))
    off = off if places is None else round(off, places) + 0.0
    minus, plus = _step(row, allowed.nominal - allowed.least), _step(row, allowed.greatest - allowed.nominal)
    band = f"+/-{plus:.3g}" if math.isclose(minus, plus, rel_tol=1e-6) else f"-{minus:.3g} to +{plus:.3g}"
    at = "" if row.station is None else f" at {row.station:.2f} m"
    return f"The {in_words(row.feature)}{at} is {off:+.3g} {row.unit} off the drawing; {band} {row.unit} is allowed."


def _in_flight(drawing: BladeDrawing, row: Measured) -> str:
    """What the row alone does at the handle, with its uncertainty, or why that is not known."""
    if number_at(drawing, row.feature) is None and row.feature not in ("planform.twist", "planform.chord"):
        return "What it does in flight is not known: no model has this dimension."
    departure = Departure(row.feature, row.value, row.uncertainty, row.station)
    try:
        built = as_built(drawing, (departure,))
    except BladewrightError as error:  # the dimension is judged all the same
        return f"What it does in flight is not known: {error.what}."
    if any(gap.name == f"flight effect of {row.feature}" for gap in built.missing):
        return "What it does in flight is not known: no model has this dimension."
    for effect in built.effects:
        if effect.name == _AT_THE_HANDLE:
            value = units.from_si(effect.value, "lbf", "force")
            if effect.uncertainty is None:
                return f"In flight: {value:+.2g} lbf at the handle in the hover ({spread(effect)})."
            known = units.from_si(effect.uncertainty, "lbf", "force")
            marks = "".join(f"; {mark}" for mark in spread(effect).split("; ")[1:])
            told = f"{'+' if value > 0.0 else ''}{rounded(value, known)} lbf (+/-{known:.2g})"
            return f"In flight: {told} at the handle in the hover{marks}."
    return "What it does at the handle is not known: " + "; ".join(str(gap) for gap in built.missing) + "."


def _not_measured(feature: str, files: tuple[Where, ...]) -> Finding:
    return ruled(
        rule=f"{proof_of(feature)}: {feature}",
        outcome=Outcome.MISSING,
        sentence=f"The {in_words(feature)} was not measured on this blade.",
        proof=proof_of(feature),
        where=files,
        next_step=f"Measure it and enter it as {feature}.",
        would_change=f"a reading of the {in_words(feature)}",
    )


def _loose_to_mould(drawing: BladeDrawing, sheets: Sequence[DimensionSheet]) -> list[Finding]:
    """The loose skin's reflex against the mould's, as measured or as drawn: what differs is locked in as peel."""
    reflex = drawing.reflex
    if reflex is None or reflex.loose_to_mould_limit is None:
        return []
    limit = reflex.loose_to_mould_limit
    rows = [(sheet, row) for sheet in sheets for row in sheet.rows]
    moulds = [row for _, row in rows if row.feature == "reflex.mould.angle"]
    drawn = reflex.mould.angle if reflex.mould else None
    found = []
    for sheet, row in rows:
        if row.feature != "reflex.loose_skin.angle" or (drawn is None and not moulds):
            continue
        others = [(mould.value, mould.uncertainty) for mould in moulds] or [(drawn or 0.0, 0.0)]
        value, other = max(others, key=lambda mould: abs(row.value - mould[0]))
        known = None if row.uncertainty is None or other is None else math.hypot(row.uncertainty, other)
        off = row.value - value
        outcome = held_to(off, least=-limit, greatest=limit, uncertainty=known)
        outcome = Outcome.REFER if known is None and outcome is Outcome.PASS else outcome
        at = "" if row.station is None else f" at {row.station:.3f} m"
        what = "the mould" if moulds else "the mould as drawn"
        found.append(
            ruled(
                rule=LOOSE_TO_MOULD + at,
                outcome=outcome,
                sentence=f"The loose skin's reflex is {_step(row, off):+.3g} {row.unit} from {what}; "
                f"+/-{_step(row, limit):.3g} {row.unit} is allowed. "
                "Bonding locks the difference into the seam as peel.",
                proof="dimensions",
                worst=Figure(
                    "loose skin less mould", _step(row, off), row.unit, None if known is None else _step(row, known),
                    method=row.gauge or "gauge not entered", source=sheet.source.file,
                ),
                limit=f"within {_step(row, limit):.3g} {row.unit}",
                limit_source=f"drawing {drawing.name}",
                where=(Where(sheet.source.file, row.feature, row.row, sheet.measured_on.isoformat()),),
                next_step="Roll the next skins to the mould; a person decides here.",
                would_change="a second reading with a gauge of less uncertainty",
            )
        )  # fmt: skip
    return found


def _shown(row: Measured, value: float) -> float:
    """An SI value in the unit the row was written in."""
    return units.from_si(value, row.unit, row.kind)


def _step(row: Measured, difference: float) -> float:
    """An SI difference in the unit the row was written in."""
    return difference / units.scale_and_zero(row.unit, row.kind)[0]
