"""What the drawing allows a measured dimension to be, and which dimensions it asks to be measured on every blade."""

from dataclasses import dataclass

from bladewright.design.outline import chord_at, section_outline, twist_at
from bladewright.drawing.entries import number_at
from bladewright.drawing.file import BladeDrawing
from bladewright.drawing.tolerances import HOLE, TOLERANCE_OF, tolerance_field
from bladewright.engine.geometry.shape import section_shape
from bladewright.evidence.records import Measured
from bladewright.figures import Missing

#: measured at a radius of the blade
_ALONG_THE_SPAN = ("planform.twist", "planform.chord", "section.thickness")
_ON_EVERY_BLADE = ("reflex.angle", *_ALONG_THE_SPAN)
HOLES, DIMENSIONS = "hole positions", "dimensions"


@dataclass(frozen=True, slots=True)
class Allowed:
    """A dimension as drawn and between which limits it may come out, SI."""

    nominal: float
    least: float
    greatest: float


def proof_of(feature: str) -> str:
    """Which required proof a measured feature speaks for."""
    return HOLES if feature.startswith(HOLE) else DIMENSIONS


def allowed_for(drawing: BladeDrawing, row: Measured) -> Allowed | Missing:
    """The limits of a measured feature, or which entry they wait for."""
    allowed = _allowed(drawing, row)
    kind = "angle" if row.feature == "planform.twist" or row.feature.endswith(".angle") else "length"
    if isinstance(allowed, Allowed) and row.kind != kind:  # 200 mrad is no chord of 200 mm
        return Missing(row.feature, (f"a reading in a unit of {kind}",))
    return allowed


def _allowed(drawing: BladeDrawing, row: Measured) -> Allowed | Missing:
    for dimension in drawing.limits.dimensions:
        if dimension.name == row.feature:
            least, greatest = dimension.nominal - dimension.minus, dimension.nominal + dimension.plus
            return Allowed(dimension.nominal, least, greatest)
    adhesive = drawing.adhesive
    if row.feature == "adhesive.bondline" and adhesive is not None:
        return Allowed(adhesive.bondline, adhesive.bondline_least, adhesive.bondline_greatest)
    nominal, field = _drawn(drawing, row), tolerance_field(row.feature)
    tolerance = number_at(drawing, field) if field else None
    if row.feature in _ALONG_THE_SPAN and not _is_on_the_blade(drawing, row.station):
        return Missing(row.feature, ("the radius it was measured at, on the blade",))
    if nominal is None:
        return Missing(row.feature, (f"{row.feature} in the drawing",))
    if tolerance is None:
        return Missing(row.feature, (field or f"a tolerance of {row.feature}",))
    return Allowed(nominal, nominal - tolerance, nominal + tolerance)


def _is_on_the_blade(drawing: BladeDrawing, radius: float | None) -> bool:
    stations = drawing.planform.stations
    return radius is not None and stations[0].radius <= radius <= stations[-1].radius


def _drawn(drawing: BladeDrawing, row: Measured) -> float | None:
    """The nominal value, at the row's radius where the drawing has one along the span."""
    if row.feature not in _ALONG_THE_SPAN:
        return number_at(drawing, row.feature)
    if row.station is None:
        return None
    if row.feature == "planform.twist":
        return twist_at(drawing, row.station)
    chord = chord_at(drawing, row.station)
    if row.feature == "planform.chord":
        return chord
    return section_shape(section_outline(drawing)).greatest_thickness * chord


def asked_for(drawing: BladeDrawing) -> tuple[str, ...]:
    """Features to be measured on every blade: those the drawing gives a tolerance, and its own list of dimensions."""
    found = [feature for feature in _ON_EVERY_BLADE if number_at(drawing, TOLERANCE_OF[feature]) is not None]
    if drawing.reflex is not None and drawing.reflex.loose_to_mould_limit is not None:
        found.append("reflex.loose_skin.angle")
    return (*found, *(dimension.name for dimension in drawing.limits.dimensions))


def holes_asked_for(drawing: BladeDrawing) -> tuple[str, ...]:
    """Both places of every hole."""
    holes = range(1, len(drawing.doubler.bolts) + 1) if drawing.doubler else ()
    return tuple(f"{HOLE}{hole}.{place}" for hole in holes for place in ("radius", "chordwise"))
