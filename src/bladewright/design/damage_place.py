"""Damage as somebody found it: what kind, where on the blade, how large; refused where it cannot be."""

from dataclasses import dataclass
from typing import Literal

from bladewright.drawing.file import BladeDrawing
from bladewright.errors import BadInput, MissingInput
from bladewright.units import to_si

Kind = Literal["nick", "dent", "void", "bondline"]
INCH = 0.0254  # [m] exact by definition
#: what must be told of each kind
SIZES: dict[Kind, tuple[str, ...]] = {
    "nick": ("depth",),
    "dent": ("depth",),
    "void": ("along", "across"),
    "bondline": ("thickness",),
}


@dataclass(frozen=True, slots=True)
class Damage:
    """One finding on one blade, SI."""

    kind: Kind
    station: float  # radius [m]
    chordwise: float | None = None  # of the chord; None: nobody said, so every zone at this station counts
    depth: float | None = None  # [m]
    along: float | None = None  # the span [m]
    across: float | None = None  # the chord [m]
    thickness: float | None = None  # of the bond line [m]
    root_radius: float | None = None  # of a nick's bottom [m]
    uncertainty: float | None = None  # k = 2, of every size told [m]

    def sizes(self) -> dict[str, float]:
        """The sizes this kind has, by name. [m]"""
        found = {name: getattr(self, name) for name in SIZES[self.kind]}
        return {name: value for name, value in found.items() if value is not None}


def length_text(value: float) -> str:
    """A size [m] as a gauge and a damage chart tell it: four figures, so that one just over its limit shows."""
    return f"{1e3 * value:.4g} mm ({value / INCH:.3g} in)"


def station_of(text: str, drawing: BladeDrawing) -> float:
    """A radius [m] from ``"2.66 m"`` or from a share of the rotor radius, ``"0.75R"``."""
    told = text.strip()
    if told[-1:] in ("R", "r"):
        try:
            return float(told[:-1].strip()) * drawing.planform.tip
        except ValueError:
            raise BadInput(
                "is not a share of the rotor radius", field="station", value=text, allowed='"0.75R" or "2.66 m"',
                fix="write the share before the R",
            ) from None  # fmt: skip
    try:
        return to_si(told, "length")
    except BadInput as error:
        raise BadInput(
            error.what, field="station", value=text, allowed='"0.75R" or "2.66 m"', fix="write the station as a radius"
        ) from None


def size_of(text: str, field: str) -> float | None:
    """A length [m] as a person wrote it; None for an empty text; the error says which option it was."""
    return _read(text, field, "length")


def share_of(text: str, field: str) -> float | None:
    """A place on the chord."""
    return _read(text, field, "fraction")


def _read(text: str, field: str, kind: str) -> float | None:
    if not text.strip():
        return None
    try:
        return to_si(text, kind)
    except BadInput as error:
        raise BadInput(error.what, field=field, value=text, allowed=error.allowed, fix=error.fix) from None


def require_on_the_blade(damage: Damage, drawing: BladeDrawing) -> None:
    """Refuse a place off the blade, a size that is missing or negative."""
    plan = drawing.planform
    if not plan.root <= damage.station <= plan.tip:
        raise BadInput(
            "the station is off the blade", field="station", value=f"{damage.station:.4g} m",
            allowed=f"{plan.root:g} m to {plan.tip:g} m, or {plan.root / plan.tip:.3g}R to 1R", fix="check the radius",
        )  # fmt: skip
    if damage.chordwise is not None and not 0.0 <= damage.chordwise <= 1.0:
        raise BadInput(
            "the place is off the chord", field="chordwise", value=f"{100.0 * damage.chordwise:.4g} %",
            allowed="0 % to 100 %", fix="measure from the leading edge",
        )  # fmt: skip
    for name in SIZES[damage.kind]:
        if getattr(damage, name) is None:
            raise MissingInput(
                f"a {damage.kind} is asked about by its {name}", field=name, allowed='a length, like "0.4 mm"',
                fix=f'add --{name} "0.4 mm"',
            )  # fmt: skip
    _require_no_larger_than_the_blade(damage, drawing)
    sizes = damage.sizes() | {"root_radius": damage.root_radius or 1.0, "uncertainty": damage.uncertainty or 0.0}
    for name, value in sizes.items():
        if value < 0.0 or (value == 0.0 and name in ("along", "across", "root_radius")):
            raise BadInput(
                "a size is measured from nothing upward", field=name, value=f"{1e3 * value:.4g} mm",
                allowed="0 mm or more" if name in ("depth", "thickness", "uncertainty") else "more than 0 mm",
                fix="measure again",
            )  # fmt: skip


def _require_no_larger_than_the_blade(damage: Damage, drawing: BladeDrawing) -> None:
    """Refuse what the blade has no room for; a radius written in the wrong unit would make a nick look harmless."""
    plan = drawing.planform
    chord = max(station.chord for station in plan.stations)
    for name in ("depth", "along", "across", "thickness", "root_radius", "uncertainty"):
        value, room = getattr(damage, name), plan.tip - plan.root if name == "along" else chord
        if value is not None and value > room:
            raise BadInput(
                "is larger than the blade", field=name, value=f"{1e3 * value:.4g} mm",
                allowed=f"up to {1e3 * room:.4g} mm", fix="check its unit",
            )  # fmt: skip
