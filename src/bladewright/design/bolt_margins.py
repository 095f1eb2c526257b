"""The grip bolts and the holes they stand in: how they share, bearing, shear-out, net section and the bolts' own shear.

Each face of the blade hands half the pull, and the flapping moment as a couple of both faces, to its plate of the grip.
"""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

import numpy as np

from bladewright.design.inner_loads import InnerLoads
from bladewright.design.margins import LIMIT, Margin, apart
from bladewright.design.stressed_points import StressedBlade
from bladewright.drawing.allowables import DoublerBolt
from bladewright.drawing.blade import Doubler
from bladewright.drawing.file import BladeDrawing
from bladewright.drawing.materials import Material
from bladewright.engine.arrays import Floats
from bladewright.engine.strength.fastener_share import InPlane, pattern_loads
from bladewright.engine.strength.lug import Lug, bolt_shear, lug_stress
from bladewright.figures import Figure, Missing

FEWEST = 2.0  # edge distances over diameters that bearing values hold for; common practice, no source
FEWEST_BOLTS = 2  # that hold a moment
METHOD = "elastic bolt group about its middle, all bolts alike; one face's share; docs/theory/joints"
VALIDITY = f"close holes, plates stiff between bolts, edge at least {FEWEST:g} diameters; prying left out"


@dataclass(frozen=True, slots=True)
class Hole:
    """One hole as a lug of the blade's own plates at one face."""

    number: int
    lug: Lug


def bolt_margins(
    drawing: BladeDrawing, blade: StressedBlade, loads: Sequence[InnerLoads], ultimate: float
) -> tuple[list[Margin], tuple[Figure, ...], tuple[Missing, ...]]:
    """Margins of the worst bolt, its share of the load, and what is not entered."""
    doubler = drawing.doubler
    if doubler is None or not doubler.bolts or doubler.bolt is None:
        needs = "doubler" if doubler is None else "doubler.bolts" if not doubler.bolts else "doubler.bolt"
        return [], (), (Missing("grip bolts", (needs,)),)
    if len(doubler.bolts) < FEWEST_BOLTS:
        return [], (), (Missing("grip bolts", ("doubler.bolts: two or more, one alone has no arm against a moment",)),)
    bolt = doubler.bolt
    holes = holes_of(drawing, blade, doubler)
    asked: list[Margin | Missing] = []
    shares: list[tuple[float, int, str]] = []
    for case in loads:
        forces = face_forces(blade, case, doubler, bolt.planes)
        total = float(np.hypot(forces[:, 0].sum(), forces[:, 1].sum()))
        size = np.hypot(forces[:, 0], forces[:, 1])
        at = int(size.argmax())
        if size[at] <= 0.0:
            continue
        if case.tension[0] > 0.0:
            shares.append((float(size[at]) / total, at + 1, case.case.name))
        asked += _net_section(drawing, blade, case, doubler, holes, ultimate)
        asked += _of_bolt(drawing, bolt, holes[at], float(size[at]), case.case.name, ultimate)
    figures = (_share(max(shares), len(holes)),) if shares else ()
    found, missing = apart(asked)
    return found, figures, missing


def holes_of(drawing: BladeDrawing, blade: StressedBlade, doubler: Doubler) -> tuple[Hole, ...]:
    """Every hole with the plates of the thinner face round it, pulled toward the blade's inner end."""
    skin, spar = drawing.skin, drawing.spar
    assert spar is not None
    plates = doubler.thickness + min(skin.top_thickness, skin.bottom_thickness)
    wall = min(spar.top_wall, spar.bottom_wall)
    found = []
    for number, hole in enumerate(doubler.bolts, start=1):
        chord = float(np.interp(hole.radius, blade.y, blade.chord))
        width = (min(doubler.back, spar.web_place) - doubler.front) * chord
        back = spar.web_place * chord + 0.5 * spar.web - drawing.planform.feathering_axis * chord
        behind = hole.chordwise + 0.5 * hole.diameter > back
        beside = sum(abs(other.radius - hole.radius) < hole.diameter for other in doubler.bolts)
        lug = Lug(hole.diameter, plates if behind else plates + wall, width / beside, hole.radius - doubler.inner)
        found.append(Hole(number, lug))
    return tuple(found)


def _net_section(
    drawing: BladeDrawing,
    blade: StressedBlade,
    case: InnerLoads,
    doubler: Doubler,
    holes: Sequence[Hole],
    ultimate: float,
) -> Iterator[Margin]:
    """The parts' own stress at each row of bolts, over what the holes leave of the width of doubler or spar."""
    for hole, drawn in zip(holes, doubler.bolts, strict=True):
        left = 1.0 - hole.lug.diameter / hole.lug.width
        at = int(np.abs(blade.y - drawn.radius).argmin())
        for point in blade.points:
            metal = drawing.materials[point.material]
            if metal.ultimate_strength is None or metal.youngs_modulus is None:
                continue
            stress = abs(float(blade.stress(case, point, metal.youngs_modulus)[at])) / left
            yield Margin(
                check=f"grip bolts, net section of the {point.part}", case=case.case.name, where=f"bolt {hole.number}",
                applied=stress, allowable=metal.ultimate_strength, factor=ultimate, source=metal.source,
                method="the part's own stress over what the holes leave of its width", validity=VALIDITY,
            )  # fmt: skip


def face_forces(blade: StressedBlade, case: InnerLoads, doubler: Doubler, planes: int) -> Floats:
    """Force of each bolt at the worse face, aft and outward. (b, 2) [N]"""
    x = np.array([hole.chordwise for hole in doubler.bolts])
    y = np.array([hole.radius for hole in doubler.bolts])
    inner = float(y.min())

    def here(values: Floats) -> float:
        return float(np.interp(inner, case.y, values))

    pull, flap = here(case.tension), abs(here(case.flap_moment))
    arm = _between_faces(blade, inner)
    one_face = 0.5 if planes == 2 else 1.0
    load = InPlane(
        force_x=one_face * here(case.chord_shear),
        force_y=one_face * pull + flap / arm,
        moment=-one_face * here(case.chord_moment),
        at_x=float(np.interp(inner, blade.beam.y, blade.beam.elastic_x)),
        at_y=inner,
    )
    shared = pattern_loads(load, x, y, np.ones_like(x))
    return np.stack((shared.force_x, shared.force_y), -1)


def _between_faces(blade: StressedBlade, radius: float) -> float:
    top, bottom = (
        next(point for point in blade.points if point.part == "doubler" and point.place.startswith(side))
        for side in ("top", "bottom")
    )
    return float(np.interp(radius, blade.y, top.z - bottom.z))


def _of_bolt(
    drawing: BladeDrawing, bolt: DoublerBolt, hole: Hole, force: float, case: str, ultimate: float
) -> Iterator[Margin | Missing]:
    lug, where = hole.lug, f"bolt {hole.number}"
    stress = lug_stress(force, lug)
    doubler, spar = drawing.doubler, drawing.spar
    assert doubler is not None
    assert spar is not None
    names = (doubler.material, drawing.skin.material, spar.material)
    inside = lug.edge_ratio >= FEWEST
    grip = force / (lug.diameter * bolt.grip_thickness / bolt.planes)
    rows = (
        ("bearing in the blade: yield", stress.bearing, names, "bearing_yield", LIMIT),
        ("bearing in the blade: ultimate", stress.bearing, names, "bearing_ultimate", ultimate),
        ("shear-out of the blade", stress.shear_out_angled, names, "shear_strength", ultimate),
        ("bearing in the grip: ultimate", grip, (bolt.grip_material,), "bearing_ultimate", ultimate),
    )
    for check, applied, materials, entry, factor in rows:
        weakest = _weakest(drawing, materials, entry)
        if isinstance(weakest, Missing):
            yield weakest
            continue
        material, allowable = weakest
        yield Margin(
            check=f"grip bolts, {check}", case=case, where=where, applied=applied, allowable=allowable, factor=factor,
            source=material.source, method=METHOD, validity=VALIDITY, inside=inside,
        )  # fmt: skip
    yield Margin(
        check="grip bolts, shear of the bolt", case=case, where=where, applied=bolt_shear(force, lug.diameter, 1),
        allowable=bolt.shear_strength, factor=ultimate, source=bolt.source, method=METHOD, validity=VALIDITY,
    )  # fmt: skip


def _weakest(drawing: BladeDrawing, names: Sequence[str], entry: str) -> tuple[Material, float] | Missing:
    """Plates of several metals bear as their weakest."""
    needs = tuple(f"materials.{name}.{entry}" for name in names if getattr(drawing.materials[name], entry) is None)
    if needs:
        return Missing(f"grip bolts, {entry.replace('_', ' ')}", tuple(dict.fromkeys(needs)))
    material = min((drawing.materials[name] for name in names), key=lambda one: float(getattr(one, entry)))
    return material, float(getattr(material, entry))


def _share(most: tuple[float, int, str], count: int) -> Figure:
    share, number, case = most
    return Figure(
        f"share of the most loaded grip bolt (bolt {number}, {case}); alike would be {1.0 / count:.3g}",
        share, "1", method=METHOD, validity=VALIDITY,
    )  # fmt: skip
