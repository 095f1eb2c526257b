"""Moduli of the parts that bear, or which of them nobody entered."""

from dataclasses import dataclass

from bladewright.drawing.file import BladeDrawing
from bladewright.figures import Missing


@dataclass(frozen=True, slots=True)
class ShearModuli:
    """Shear moduli of the torsion-bearing parts [Pa]."""

    skin: float
    spar: float
    film: float


def shear_moduli(drawing: BladeDrawing) -> ShearModuli | Missing:
    """Of skin, spar and film, or the entries that are missing."""
    names = _materials(drawing, ("skin", "spar", "adhesive"))
    values = {part: drawing.materials[name].shear_modulus for part, name in names.items()}
    needs = tuple(f"materials.{names[part]}.shear_modulus" for part, value in values.items() if value is None)
    needs += tuple(part for part in ("spar", "adhesive") if part not in names)
    skin, spar, film = (values.get(part) for part in ("skin", "spar", "adhesive"))
    if skin is None or spar is None or film is None:
        return Missing("torsional stiffness and shear centre", needs)
    return ShearModuli(skin, spar, film)


def youngs_moduli(drawing: BladeDrawing) -> dict[str, float] | Missing:
    """Of every material that bears, by its key, or the entries that are missing."""
    names = set(_materials(drawing, ("skin", "spar", "adhesive", "doubler")).values())
    values = {name: drawing.materials[name].youngs_modulus for name in sorted(names)}
    needs = tuple(f"materials.{name}.youngs_modulus" for name, value in values.items() if value is None)
    if needs:
        return Missing("bending stiffness and elastic centre", needs)
    return {name: value for name, value in values.items() if value is not None}


def _materials(drawing: BladeDrawing, parts: tuple[str, ...]) -> dict[str, str]:
    present = {part: getattr(drawing, part) for part in parts}
    return {part: record.material for part, record in present.items() if record is not None}
