"""A void map typed at the desk: the drawn blade's bondlines to fill in, and the file that comes of it."""

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any, Final

from bladewright.design.bondlines import Bondline, bondlines
from bladewright.design.damage_place import station_of
from bladewright.drawing.file import BladeDrawing
from bladewright.errors import BadInput, SeveralBadInputs
from bladewright.evidence.void_map import FOUND, VoidMapEntries, void_map_bytes
from bladewright.papers.void_map_drawing import stretch_text
from bladewright.records.acts import Act
from bladewright.records.blades import blade_named
from bladewright.records.drawings import read_filed as read_drawing
from bladewright.records.holding import Handed

#: voids in one map typed by hand; more are dropped as a file; our own choice
MOST_ROWS: Final = 60


@dataclass(frozen=True, slots=True)
class LineToLookAt:
    """One bondline of the drawn blade, and its whole stretch in words."""

    name: str
    whole: str


def lines_of(serial: str, system: str = "metric") -> tuple[LineToLookAt, ...]:
    """Every bondline an inspection can reach."""
    drawn = bondlines(read_drawing(blade_named(serial).drawing))
    return tuple(LineToLookAt(line.name, stretch_text(line.inner, line.outer, system)) for line in drawn)


def typed_map(act: Act, serial: str, typed: Mapping[str, Any], rows: int) -> tuple[Handed, dict[str, str]]:
    """The file of what was typed, and in which entry each of its fields was typed.

    ``typed`` holds the entries by the names of the file's fields, with empty rows between them.
    """
    drawing = read_drawing(blade_named(serial).drawing)
    places: dict[str, str] = {}
    looked_at = _looked_at(drawing, typed, places)
    voids = _voids(drawing, typed, rows, places)
    _refuse_unsaid(bool(voids), none_found=bool(typed.get("none_found")))
    day = typed["found_on"].isoformat()
    entries = VoidMapEntries(
        serial=serial,
        found_by=act.by,
        found_on=day,
        method=typed["method"],
        uncertainty=typed["uncertainty"],
        looked_at=looked_at,
        voids=voids,
    )
    return Handed(f"{serial} void map {day}.toml", void_map_bytes(entries)), places


def _looked_at(drawing: BladeDrawing, typed: Mapping[str, Any], places: dict[str, str]) -> list[dict[str, str]]:
    found: list[dict[str, str]] = []
    for number, line in enumerate(bondlines(drawing), 1):
        row = f"looked_at.{number}"
        inner, outer = (str(typed.get(f"{row}.{end}", "")).strip() for end in ("inner", "outer"))
        if typed.get(f"{row}.whole"):
            inner, outer = _whole(line, row, inner, outer)
        if inner or outer:
            found.append({"bondline": line.name, "inner": inner, "outer": outer})
            places |= {f"looked_at.{len(found)}.{end}": f"{row}.{end}" for end in ("inner", "outer", "bondline")}
            places[f"looked_at.{len(found)}"] = f"{row}.outer"
    return found


def _whole(line: Bondline, row: str, inner: str, outer: str) -> tuple[str, str]:
    if inner or outer:
        raise BadInput(
            "is ticked as looked at over its whole span, and a stretch is entered as well",
            field=f"{row}.whole",
            value=line.name,
            allowed="one of the two",
            fix="take out the tick, or the stretch",
        )
    return f"{line.inner!r} m", f"{line.outer!r} m"


def _voids(drawing: BladeDrawing, typed: Mapping[str, Any], rows: int, places: dict[str, str]) -> list[dict[str, str]]:
    found: list[dict[str, str]] = []
    wrong: list[BadInput] = []
    for number in range(1, rows + 1):
        row = {name: str(typed.get(f"voids.{number}.{name}", "")).strip() for name in FOUND}
        if not any(row.values()):
            continue
        try:
            row["station"] = _radius(row["station"], drawing)
        except BadInput as error:
            error.field = f"voids.{number}.station"
            wrong.append(error)
        found.append(row)
        places |= {f"voids.{len(found)}.{name}": f"voids.{number}.{name}" for name in FOUND}
    if wrong:
        raise SeveralBadInputs(wrong)
    return found


def _radius(text: str, drawing: BladeDrawing) -> str:
    """A share of the rotor radius, ``0.75R``, as the radius it is; anything else as it was typed."""
    return f"{station_of(text, drawing)!r} m" if text[-1:] in ("R", "r") else text


def _refuse_unsaid(found: bool, *, none_found: bool) -> None:
    """A void nobody entered must not read as a void nobody found."""
    if found == none_found:
        raise BadInput(
            "is ticked, and a void is entered" if found else "is not ticked, and no void is entered",
            field="none_found",
            value="ticked" if found else "not ticked",
            allowed="a tick where none was found; voids where some were",
            fix="take out the tick" if found else "tick it, or enter the voids",
        )
