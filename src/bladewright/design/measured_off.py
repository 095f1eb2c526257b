"""A departure as somebody types it: a measured value, or how far off the drawing it is."""

from bladewright.design.departed import ALONG_THE_SPAN
from bladewright.design.outline import chord_at, twist_at
from bladewright.design.records import Departure
from bladewright.drawing.entries import number_at
from bladewright.drawing.file import BladeDrawing
from bladewright.drawing.kinds import kind_of
from bladewright.errors import BadInput
from bladewright.units import to_si

#: what a shop measures on finished blades, by the drawing's field
MEASURED = (
    "reflex.angle",
    "reflex.start",
    "skin.top_thickness",
    "skin.bottom_thickness",
    "tip_weight.mass",
    "tip_weight.chordwise",
    "adhesive.seam_start",
    *ALONG_THE_SPAN,
)


def measured_fields(drawing: BladeDrawing) -> tuple[str, ...]:
    """Those of them this drawing has."""
    return tuple(field for field in MEASURED if field in ALONG_THE_SPAN or number_at(drawing, field) is not None)


def measured_off(
    drawing: BladeDrawing, field: str, *, value: str = "", off: str = "", uncertainty: str = "", station: str = ""
) -> Departure:
    """Texts with units as a departure; ``BadInput`` names the text that cannot be used."""
    kind = kind_of(drawing, field)
    if kind is None:
        raise BadInput(
            "is not a measured field of this drawing",
            field="field",
            value=field,
            allowed="an entry of the drawing with a unit, like reflex.angle",
            fix="choose one that is measured",
        )
    if bool(value) == bool(off):
        raise BadInput(
            "needs the measured value or how far off it is, one of the two",
            field="value",
            allowed="2.31 deg measured, or 0.31 deg off",
            fix="fill in one of them and leave the other empty",
        )
    place = _read("station", station, "length") if station else None
    if field in ALONG_THE_SPAN and place is None:
        raise BadInput(
            "is measured at a radius", field="station", allowed="a radius of the blade, like 2.5 m",
            fix="say where it was measured",
        )  # fmt: skip
    found = _read("value", value, kind) if value else _drawn(drawing, field, place) + _read("off", off, kind)
    return Departure(field, found, _read("uncertainty", uncertainty, kind) if uncertainty else None, place)


def _drawn(drawing: BladeDrawing, field: str, place: float | None) -> float:
    if place is not None and field in ALONG_THE_SPAN:
        return {"planform.twist": twist_at, "planform.chord": chord_at}[field](drawing, place)
    return number_at(drawing, field) or 0.0


def _read(entry: str, text: str, kind: str) -> float:
    try:
        return to_si(text, kind)
    except BadInput as error:
        error.field = entry
        raise
