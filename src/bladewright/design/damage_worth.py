"""How much worse damage is than a clean blade, by whichever calculation its kind asks for."""

import dataclasses

from bladewright.design.bond_strength import STATES, BondStrength, bond_strength
from bladewright.design.damage_place import Damage
from bladewright.design.damaged_bond import bondline_at, voided_bond
from bladewright.design.damaged_skin import dented_skin, nicked_skin
from bladewright.design.strength_case import LoadedBlade
from bladewright.design.worth import Worth
from bladewright.drawing.file import BladeDrawing
from bladewright.figures import Missing

ASKED = {"nick": nicked_skin, "dent": dented_skin, "void": voided_bond, "bondline": bondline_at}
OF_THE_FILM = ("void", "bondline")


def damage_worth(damage: Damage, drawing: BladeDrawing, loaded: LoadedBlade) -> Worth:
    """Whatever can be worked out of this damage in the worst limit case at its station."""
    worth = ASKED[damage.kind](damage, drawing, loaded)
    gaps = _states_left_out(drawing) if damage.kind in OF_THE_FILM else ()
    return dataclasses.replace(worth, missing=(*worth.missing, *gaps))


def _states_left_out(drawing: BladeDrawing) -> tuple[Missing, ...]:
    """The film may be weakest in a state nobody entered."""
    strength = bond_strength(drawing)
    entered = drawing.adhesive.allowables if drawing.adhesive else None
    if not isinstance(strength, BondStrength) or entered is None:
        return ()
    gone = tuple(f"adhesive.allowables.{name}" for name in STATES if getattr(entered, name) is None)
    return (Missing("strength of the film in every state the blade meets", gone),) if gone else ()
