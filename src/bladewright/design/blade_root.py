"""How the drawn rotor holds its blades, as the beam takes it."""

from typing import Final, Literal

from bladewright.drawing.rotor import Rotor
from bladewright.engine.dynamics.blade_beam import Pattern, Root

PATTERNS: Final[tuple[Pattern, ...]] = ("collective", "cyclic")
#: the drawing's hub
HELD: Final[dict[str, Literal["teetering", "hinged", "clamped"]]] = {
    "teetering": "teetering",
    "hinged": "hinged",
    "rigid": "clamped",
}


def blade_root(rotor: Rotor, stiffness: float) -> Root:
    """The root with a control run of this stiffness [N m/rad]; a precone that is not entered is none."""
    return Root(HELD[rotor.hub], stiffness, rotor.hinge_offset, rotor.precone or 0.0)
