"""A nick or a dent in the skin: what is left of it, how much worse the stress is there, and the nick as a crack."""

import numpy as np

from bladewright.design.damage_place import Damage
from bladewright.design.nicked_life import nicked_life
from bladewright.design.strength_case import LoadedBlade
from bladewright.design.worth import CLEAN, DAMAGED, NOT_BONDED, WORSE, Worth
from bladewright.drawing.file import BladeDrawing
from bladewright.engine.strength.margins import margin_of_safety
from bladewright.engine.strength.notch import dent_factor, fatigue_factor, nick_factor, worst_nick_factor
from bladewright.figures import Figure, Missing

CRACK = "margin of safety, the nick taken as a crack"
EDGE = 1.122  # stress intensity of an edge crack over that of a central one; Tada, Paris, Irwin, 1973 (from memory)
ROUND_ABOUT = 0.01  # of the chord: how well a place is told


def _skin_stress(damage: Damage, drawing: BladeDrawing, loaded: LoadedBlade) -> tuple[float, str] | Missing:
    """Greatest pull of the outer face at the place, over all cases [Pa]; of the whole section with no place told."""
    material = drawing.materials[drawing.skin.material]
    if material.youngs_modulus is None:
        return Missing("stress in the skin", (f"materials.{drawing.skin.material}.youngs_modulus",))
    blade = loaded.blade
    at = int(np.abs(blade.y - damage.station).argmin())
    axis = drawing.planform.feathering_axis * blade.chord[at]
    outer = blade.layout.outer[at]
    place = outer[:, 0] / blade.chord[at]
    near = np.ones(len(place), dtype=bool)
    if damage.chordwise is not None:
        nearest = np.abs(place - damage.chordwise).min()
        near = np.abs(place - damage.chordwise) <= nearest + ROUND_ABOUT  # both faces
    worst, words = 0.0, loaded.loads[0].case.name
    for case in loaded.loads:
        for x, z in outer[near]:
            everywhere = np.full_like(blade.y, 1.0)
            strain = blade.strain(case, everywhere * (x - axis), everywhere * z)
            stress = material.youngs_modulus * float(np.interp(damage.station, blade.y, strain))
            if stress > worst:
                worst, words = stress, case.case.name
    return worst, words


def nicked_skin(damage: Damage, drawing: BladeDrawing, loaded: LoadedBlade) -> Worth:
    """By the stress factor of its bottom, and as a crack; the sharper says which counts."""
    found = _skin_stress(damage, drawing, loaded)
    material = drawing.materials[drawing.skin.material]
    depth, thickness = damage.depth or 0.0, min(drawing.skin.top_thickness, drawing.skin.bottom_thickness)
    if isinstance(found, Missing) or material.ultimate_strength is None:
        need = Missing("margin beside a nick", (f"materials.{drawing.skin.material}.ultimate_strength",))
        return Worth(None, (), (found if isinstance(found, Missing) else need,), ())
    stress, case = found
    if stress <= 0.0:
        return Worth(None, (), (Missing("margin beside a nick", ("a case that pulls there",)),), ())
    clean = margin_of_safety(material.ultimate_strength, stress, loaded.ultimate)
    left = 1.0 - depth / thickness
    nicked = NOT_BONDED if left <= 0.0 else margin_of_safety(material.ultimate_strength, stress / left, loaded.ultimate)
    rows = [
        (CLEAN, clean, f"skin's ultimate in {case}"),
        (DAMAGED, nicked, f"what is left of the skin's depth, {case}"),
    ]
    missing: list[Missing] = []
    factor, how = _notch(damage, material.notch_length, depth)
    if factor is None:
        missing.append(Missing("stress at the nick's bottom", (f"materials.{drawing.skin.material}.notch_length",)))
    margins = [nicked]
    if material.fracture_toughness is None:
        missing.append(Missing("the nick taken as a crack", (f"materials.{drawing.skin.material}.fracture_toughness",)))
    elif depth > 0.0:
        intensity = EDGE * stress * float(np.sqrt(np.pi * depth))
        cracked = margin_of_safety(material.fracture_toughness, intensity, loaded.ultimate)
        rows.append((CRACK, cracked, f"sharp bottom, {EDGE:g} S sqrt(pi d), {case}"))
        margins.append(cracked)
    figures = [_margin_figure(*row, drawing, material.source) for row in rows]
    if factor is not None:
        figures.append(
            Figure(
                WORSE + ", where it repeats", factor, "1", method=how, validity="long lives; screening",
                source=material.source or "", validated=bool(material.source),
            )
        )  # fmt: skip
    if factor is not None:
        lasting = nicked_life(damage, drawing, loaded, factor)
        if isinstance(lasting, Missing):
            missing.append(lasting)
        else:
            figures += lasting
    change = ["a radius measured at the nick's bottom (--root-radius)"] if damage.root_radius is None else []
    return Worth(min(margins), tuple(figures), tuple(missing), (*change, "blending it out within an entered limit"))


def _notch(damage: Damage, length: float | None, depth: float) -> tuple[float | None, str]:
    """Fatigue factor of the nick's bottom; the worst of all radii where nobody measured it."""
    if damage.root_radius is not None:
        sharp = nick_factor(depth, damage.root_radius)
        return fatigue_factor(sharp, damage.root_radius, length or 0.0), "1 + 2 sqrt(d/r), with the notch rule"
    if length is None:
        return None, ""
    return worst_nick_factor(depth, length), "1 + sqrt(d/a), the worst of every radius at its bottom"


def dented_skin(damage: Damage, drawing: BladeDrawing, loaded: LoadedBlade) -> Worth:
    """By the bending of a skin that runs past it, an upper bound."""
    found = _skin_stress(damage, drawing, loaded)
    material = drawing.materials[drawing.skin.material]
    if isinstance(found, Missing) or material.ultimate_strength is None:
        need = Missing("margin beside a dent", (f"materials.{drawing.skin.material}.ultimate_strength",))
        return Worth(None, (), (found if isinstance(found, Missing) else need,), ())
    stress, case = found
    if stress <= 0.0:
        return Worth(None, (), (Missing("margin beside a dent", ("a case that pulls there",)),), ())
    factor = dent_factor(damage.depth or 0.0, min(drawing.skin.top_thickness, drawing.skin.bottom_thickness))
    clean, dented = (
        margin_of_safety(material.ultimate_strength, s, loaded.ultimate) for s in (stress, factor * stress)
    )
    bound = "an upper bound: nothing beside or beneath the skin helps"
    figures = (
        _margin_figure(CLEAN, clean, f"skin's ultimate in {case}", drawing, material.source),
        _margin_figure(DAMAGED, dented, f"1 + 6 d/t, {bound}; {case}", drawing, material.source),
        Figure(WORSE, factor, "1", method=f"1 + 6 d/t; {bound}", validated=bool(material.source)),
    )
    return Worth(dented, figures, (), ("whether spar or film still holds the skin beneath it", "a tap test round it"))


def _margin_figure(name: str, value: float, method: str, drawing: BladeDrawing, source: str | None) -> Figure:
    sourced = bool(source) and bool(drawing.loads and drawing.loads.source)
    validity = "elastic, steady loads at the station"
    return Figure(name, value, "1", method=method, validity=validity, source=source or "", validated=sourced)
