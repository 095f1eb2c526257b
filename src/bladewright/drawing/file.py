"""Reading and writing the drawing file, with every mistake named by file, field, value, allowed and fix."""

import itertools
from pathlib import Path
from typing import Any

from pydantic import Field

from bladewright.drawing.blade import (
    Adhesive,
    Doubler,
    ErosionTape,
    Filler,
    Finish,
    Planform,
    Reflex,
    Section,
    Skin,
    Spar,
    TipWeight,
    Trim,
)
from bladewright.drawing.cure_entries import OvenEntries
from bladewright.drawing.fatigue import StressLife
from bladewright.drawing.fitting import strength_complaints
from bladewright.drawing.limits import REQUIRED_PROOFS, Limits
from bladewright.drawing.loads import FlightProfile, Loads
from bladewright.drawing.materials import Material
from bladewright.drawing.oven import CureSchedule
from bladewright.drawing.quantities import Record
from bladewright.drawing.rotor import Rotor
from bladewright.drawing.rotor_fit import rotor_complaints
from bladewright.errors import BadInput, SeveralBadInputs
from bladewright.typed import toml_table, validated


class BladeDrawing(Record):
    """One blade type, whole: what it is, what it flies on, what it must hold, what must be on record."""

    format: int = Field(ge=1, le=1)
    name: str
    title: str = ""
    section: Section
    planform: Planform
    materials: dict[str, Material]
    skin: Skin
    spar: Spar | None = None
    reflex: Reflex | None = None
    doubler: Doubler | None = None
    tip_weight: TipWeight | None = None
    filler: Filler | None = None
    erosion_tape: ErosionTape | None = None
    adhesive: Adhesive | None = None
    trim: Trim = Field(default_factory=Trim)
    finish: Finish | None = None
    rotor: Rotor | None = None
    loads: Loads | None = None
    flight_profile: FlightProfile | None = None
    fatigue: dict[str, StressLife] = Field(default_factory=dict)
    oven: OvenEntries | None = None
    schedule: CureSchedule | None = None
    limits: Limits = Field(default_factory=Limits)
    required_proofs: tuple[str, ...] = REQUIRED_PROOFS

    @property
    def materials_validated(self) -> bool:
        """Whether every material has a source; mass, and whatever rests on it, is unvalidated otherwise."""
        return all(material.validated for material in self.materials.values())


def read_drawing(path: Path) -> BladeDrawing:
    """The drawing in a TOML file."""
    return parse_drawing(path.read_bytes(), path.name)


def parse_drawing(data: bytes, file: str) -> BladeDrawing:
    """The drawing in the bytes of a TOML file; ``SeveralBadInputs`` names everything wrong at once."""
    return drawing_of(toml_table(data, file), file)


def drawing_of(table: dict[str, Any], file: str) -> BladeDrawing:
    """The drawing in a table; ``SeveralBadInputs`` names everything wrong at once."""
    drawing = validated(BladeDrawing, table, file, "a blade drawing")
    complaints = tuple(_complaints(drawing, file))
    if complaints:
        raise SeveralBadInputs(complaints)
    return drawing


def _complaints(drawing: BladeDrawing, file: str) -> list[BadInput]:
    """What no single field can know: names that must exist, orders that must hold."""
    found: list[BadInput] = []

    def complain(field: str, what: str, value: object, allowed: str, fix: str) -> None:
        found.append(BadInput(what, file=file, field=field, value=value, allowed=allowed, fix=fix))

    parts = {
        "skin.material": drawing.skin.material,
        "spar.material": drawing.spar and drawing.spar.material,
        "doubler.material": drawing.doubler and drawing.doubler.material,
        "tip_weight.material": drawing.tip_weight and drawing.tip_weight.material,
        "filler.material": drawing.filler and drawing.filler.material,
        "adhesive.material": drawing.adhesive and drawing.adhesive.material,
        "doubler.bolt.grip_material": drawing.doubler and drawing.doubler.bolt and drawing.doubler.bolt.grip_material,
    }
    for field, name in parts.items():
        if name is not None and name not in drawing.materials:
            known = ", ".join(sorted(drawing.materials)) or "none"
            complain(field, f"{name!r} is not one of the materials", name, known, f"add a [materials.{name}] table")
    section = drawing.section
    if (section.designation is None) == (section.top is None or section.bottom is None):
        complain(
            "section",
            "needs either a designation or top and bottom coordinates",
            section.designation,
            'designation = "23012", or both top and bottom',
            "enter one of the two",
        )
    if section.designation is not None and section.trailing_edge is None:
        complain(
            "section.trailing_edge",
            "is needed with a designation: the three ways of ending the thickness form are different shapes",
            None,
            '"open", "closed" or "rescaled"',
            "enter how the drawing ends the section",
        )
    radii = [station.radius for station in drawing.planform.stations]
    if len(radii) < 2 or any(b <= a for a, b in itertools.pairwise(radii)):
        complain(
            "planform.stations",
            "must be two or more, each further out than the one before",
            None,
            "increasing radius",
            "put the stations in order of radius",
        )
    elif not (radii[0] <= drawing.planform.root < drawing.planform.tip <= radii[-1] + 1e-9):
        complain(
            "planform.stations",
            "do not reach from root to tip",
            None,
            f"first at or inside {drawing.planform.root:g} m, last at {drawing.planform.tip:g} m",
            "add a station",
        )
    if not drawing.planform.root <= drawing.planform.airfoil_start < drawing.planform.tip:
        complain(
            "planform.airfoil_start",
            "must lie between root and tip",
            drawing.planform.airfoil_start,
            f"{drawing.planform.root:g} m to {drawing.planform.tip:g} m",
            "check the radius",
        )
    found += rotor_complaints(drawing.rotor, drawing.planform.tip, file)
    found += strength_complaints(
        drawing.planform, drawing.spar, drawing.doubler, drawing.flight_profile, drawing.fatigue, file
    )
    return found
