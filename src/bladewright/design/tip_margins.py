"""The tip weight held by its bond alone and by its bolts alone: each must do it, and each is shown."""

from collections.abc import Iterator, Sequence

import numpy as np

from bladewright.design.bond_strength import bond_strength, film_of
from bladewright.design.inner_loads import InnerLoads
from bladewright.design.margins import LIMIT, Margin, apart
from bladewright.design.stressed_points import StressedBlade
from bladewright.drawing.blade import TipWeight
from bladewright.drawing.file import BladeDrawing
from bladewright.engine.strength.adherends import Sheet
from bladewright.engine.strength.lug import Lug
from bladewright.engine.strength.retention import by_bolts_alone, by_bond_alone, centrifugal_force
from bladewright.figures import Missing

METHOD = "centrifugal force of the weight; docs/theory/joints"
VALIDITY = "bolts share alike; the weight pulls along the span alone"


def tip_margins(
    drawing: BladeDrawing, blade: StressedBlade, loads: Sequence[InnerLoads], ultimate: float
) -> tuple[list[Margin], tuple[Missing, ...]]:
    """Bond alone and bolts alone in every case that turns."""
    weight = drawing.tip_weight
    if weight is None:
        return [], ()
    asked: list[Margin | Missing] = []
    for case in loads:
        if case.case.rotor_speed > 0.0:
            force = centrifugal_force(weight.mass, 0.5 * (weight.inner + weight.outer), case.case.rotor_speed)
            asked += _by_bond(drawing, blade, weight, force, case.case.name, ultimate)
            asked += _by_bolts(drawing, blade, weight, force, case.case.name, ultimate)
    return apart(asked)


def _by_bond(
    drawing: BladeDrawing, blade: StressedBlade, weight: TipWeight, force: float, case: str, ultimate: float
) -> Iterator[Margin | Missing]:
    name = "tip weight by its bond alone"
    strength, film, spar = bond_strength(drawing), film_of(drawing), drawing.spar
    metal = drawing.materials[weight.material]
    if weight.bond_area is None:
        yield Missing(name, ("tip_weight.bond_area",))
        return
    if isinstance(strength, Missing) or isinstance(film, Missing) or spar is None or metal.youngs_modulus is None:
        gaps = [gap for gap in (strength, film) if isinstance(gap, Missing)]
        yield from gaps or [Missing(name, (f"materials.{weight.material}.youngs_modulus",))]
        return
    wall = drawing.materials[spar.material]
    assert wall.youngs_modulus is not None
    length = weight.outer - weight.inner
    depth = _depth(blade, weight)
    bond = by_bond_alone(
        force, length, weight.bond_area / length, 0.0,
        Sheet(metal.youngs_modulus, 0.5 * depth, metal.poisson_ratio or 0.0),
        Sheet(wall.youngs_modulus, min(spar.top_wall, spar.bottom_wall), wall.poisson_ratio or 0.0), film,
    )  # fmt: skip
    yield Margin(
        check=name, case=case, where=f"its worse end, {strength.shear_state} film", applied=bond.peak_shear,
        allowable=strength.shear, factor=ultimate, source=strength.shear_source, method=METHOD,
        validity="elastic film as thin as allowed, no voids", refer=strength.refer,
    )  # fmt: skip


def _by_bolts(
    drawing: BladeDrawing, blade: StressedBlade, weight: TipWeight, force: float, case: str, ultimate: float
) -> Iterator[Margin | Missing]:
    name, bolts, spar = "tip weight by its bolts alone", weight.bolts, drawing.spar
    if bolts is None or spar is None:
        yield Missing(name, ("tip_weight.bolts",))
        return
    depth = _depth(blade, weight)
    width = weight.mass / (weight.outer - weight.inner) / drawing.materials[weight.material].density / depth
    through = Lug(bolts.diameter, depth, width, bolts.edge_distance)
    in_wall = Lug(bolts.diameter, spar.top_wall + spar.bottom_wall, width, bolts.edge_distance)
    found = by_bolts_alone(force, bolts.count, bolts.planes, through, in_wall)
    yield Margin(
        check=f"{name}: shear of the bolts", case=case, where="each bolt", applied=found.shear,
        allowable=bolts.shear_strength, factor=ultimate, source=bolts.source, method=METHOD, validity=VALIDITY,
    )  # fmt: skip
    for words, material, stress in (
        ("in the spar", spar.material, found.in_wall),
        ("in the weight", weight.material, found.in_weight),
    ):
        for what, applied, entry, factor in (
            ("bearing, yield", stress.bearing, "bearing_yield", LIMIT),
            ("bearing, ultimate", stress.bearing, "bearing_ultimate", ultimate),
            ("shear-out", stress.shear_out_angled, "shear_strength", ultimate),
        ):
            metal = drawing.materials[material]
            allowable = getattr(metal, entry)
            if allowable is None:
                yield Missing(f"{name}: {what} {words}", (f"materials.{material}.{entry}",))
                continue
            yield Margin(
                check=f"{name}: {what} {words}", case=case, where="each bolt", applied=applied, allowable=allowable,
                factor=factor, source=metal.source, method=METHOD, validity=VALIDITY,
            )  # fmt: skip


def _depth(blade: StressedBlade, weight: TipWeight) -> float:
    """Of the spar's hollow where the weight's centre lies. [m]"""
    layout = blade.layout
    at = int(np.abs(blade.y - weight.inner).argmin())
    deep = layout.hollow_top[at] - layout.hollow_bottom[at]
    return float(np.interp(weight.chordwise * blade.chord[at], layout.hollow[at], deep))
