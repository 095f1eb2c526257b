"""What a film may be asked to bear: the worst of hot-wet, cold and sustained load, as entered."""

from dataclasses import dataclass

from bladewright.drawing.file import BladeDrawing
from bladewright.engine.strength.adherends import Film
from bladewright.figures import Missing

STATES = {"hot_wet": "hot-wet", "cold": "cold", "sustained": "sustained"}


@dataclass(frozen=True, slots=True)
class BondStrength:
    """Shear and peel, each from the state in which it is least."""

    shear: float  # [Pa]
    peel: float  # [Pa]
    shear_state: str
    peel_state: str
    shear_source: str | None
    peel_source: str | None
    refer: str  # why it decides nothing alone; empty where every state is entered


def bond_strength(drawing: BladeDrawing) -> BondStrength | Missing:
    """Of the drawing's film; without a single state entered, what is missing."""
    entered = drawing.adhesive.allowables if drawing.adhesive else None
    if entered is None:
        return Missing("margins of the bond lines", ("adhesive.allowables" if drawing.adhesive else "adhesive",))
    known = {words: getattr(entered, name) for name, words in STATES.items() if getattr(entered, name) is not None}
    gone = [words for name, words in STATES.items() if getattr(entered, name) is None]
    if gone and entered.room is not None:
        known["room temperature"] = entered.room
    if not known:
        return Missing("margins of the bond lines", tuple(f"adhesive.allowables.{name}" for name in STATES))
    shear_state, shear = min(known.items(), key=lambda item: item[1].shear)
    peel_state, peel = min(known.items(), key=lambda item: item[1].peel)
    alone = "room-temperature data alone; " if list(known) == ["room temperature"] else ""
    refer = f"{alone}no allowable entered for {', '.join(gone)}" if gone else ""
    return BondStrength(shear.shear, peel.peel, shear_state, peel_state, shear.source, peel.source, refer)


def film_of(drawing: BladeDrawing, thickness: float | None = None) -> Film | Missing:
    """The cured film, by default as thin as its limits allow: there its ends bear most."""
    glue = drawing.adhesive
    if glue is None:
        return Missing("margins of the bond lines", ("adhesive",))
    material = drawing.materials[glue.material]
    needs = tuple(
        f"materials.{glue.material}.{name}"
        for name in ("shear_modulus", "youngs_modulus")
        if getattr(material, name) is None
    )
    if material.shear_modulus is None or material.youngs_modulus is None:
        return Missing("margins of the bond lines", needs)
    return Film(material.shear_modulus, material.youngs_modulus, thickness or glue.bondline_least)
