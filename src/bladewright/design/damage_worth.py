"""How much worse damage is than a clean blade, by whichever calculation its kind asks for."""

from bladewright.design.damage_place import Damage
from bladewright.design.damaged_bond import bondline_at, voided_bond
from bladewright.design.damaged_skin import dented_skin, nicked_skin
from bladewright.design.strength_case import LoadedBlade
from bladewright.design.worth import Worth
from bladewright.drawing.file import BladeDrawing

ASKED = {"nick": nicked_skin, "dent": dented_skin, "void": voided_bond, "bondline": bondline_at}


def damage_worth(damage: Damage, drawing: BladeDrawing, loaded: LoadedBlade) -> Worth:
    """Whatever can be worked out of this damage in the worst limit case at its station."""
    return ASKED[damage.kind](damage, drawing, loaded)
