"""Moduli of the parts that bear, or which of them nobody entered."""

from dataclasses import dataclass

import numpy as np

from bladewright.drawing.file import BladeDrawing
from bladewright.engine.arrays import Floats
from bladewright.figures import Missing

#: parts that bear, in the order the elements number them
BEARING = ("skin", "adhesive", "spar", "doubler", "filler")


@dataclass(frozen=True, slots=True)
class Moduli:
    """Of the parts in the order of ``BEARING``; nought for a part that is not drawn or does not bear."""

    young: Floats | Missing  # (5,) [Pa]
    shear: Floats | Missing  # (5,) [Pa]

    @property
    def missing(self) -> tuple[Missing, ...]:
        """What keeps stiffness from being known."""
        return tuple(gap for gap in (self.young, self.shear) if isinstance(gap, Missing))


def moduli(drawing: BladeDrawing) -> Moduli:
    """Young's and shear moduli of what bears, or the entries that are missing."""
    return Moduli(
        _values(drawing, "youngs_modulus", "bending stiffness and elastic centre"),
        _values(drawing, "shear_modulus", "torsional stiffness and shear centre"),
    )


def filler_bears(drawing: BladeDrawing) -> bool:
    """Whether both moduli of the filler are entered; without, it only weighs."""
    if drawing.filler is None:
        return False
    material = drawing.materials[drawing.filler.material]
    return material.youngs_modulus is not None and material.shear_modulus is not None


def material_of(drawing: BladeDrawing, part: str) -> str | None:
    """Key of the material of a part that bears; None where it is not drawn or does not bear."""
    record = getattr(drawing, part)
    if record is None or (part == "filler" and not filler_bears(drawing)):
        return None
    return str(record.material)


def _values(drawing: BladeDrawing, kind: str, what: str) -> Floats | Missing:
    keys = [material_of(drawing, part) for part in BEARING]
    values = [0.0 if key is None else getattr(drawing.materials[key], kind) for key in keys]
    needs = [f"materials.{key}.{kind}" for key, value in zip(keys, values, strict=True) if value is None]
    needs += [part for part in ("spar", "adhesive") if getattr(drawing, part) is None]
    return Missing(what, tuple(dict.fromkeys(needs))) if needs else np.array(values, dtype=np.float64)
