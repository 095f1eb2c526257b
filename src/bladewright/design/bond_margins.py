"""The glue lines where they bear most: the doubler's end in shear and peel, and the edges of skin to spar."""

from collections.abc import Sequence

import numpy as np

from bladewright.design.bond_strength import BondStrength, bond_strength, film_of
from bladewright.design.inner_loads import InnerLoads
from bladewright.design.margins import Margin
from bladewright.design.stressed_points import StressedBlade
from bladewright.drawing.file import BladeDrawing
from bladewright.engine.arrays import Floats
from bladewright.engine.strength.adherends import Film, Sheet
from bladewright.engine.strength.doubler import Step, doubler_end
from bladewright.engine.strength.seam import seam_shear
from bladewright.figures import Missing

SKIN_TO_SPAR = "skin to spar bond, shear at its edges"
FLOWS = "cross force on the whole of one skin and torque on the spar's cell alone, both more than there is"
VALIDITY = "elastic film as thin as allowed; ends of the bond and suction on the skins left out"
DOUBLER_VALIDITY = "elastic film as thin as allowed, square-ended doubler, skin and wall held straight"


def bond_margins(
    drawing: BladeDrawing, blade: StressedBlade, loads: Sequence[InnerLoads], ultimate: float
) -> tuple[list[Margin], tuple[Missing, ...]]:
    """Every glue line in every case."""
    strength, film = bond_strength(drawing), film_of(drawing)
    if isinstance(strength, Missing) or isinstance(film, Missing):
        return [], tuple(gap for gap in (strength, film) if isinstance(gap, Missing))
    found: list[Margin] = []
    for case in loads:
        flows, width = skin_to_spar_flow(drawing, blade, case), bonded_width(drawing, blade)
        shear = np.array(
            [seam_shear(q, w, *walls(drawing), film).peak for q, w in zip(flows, width, strict=True)]
        )  # fmt: skip
        found.append(_sheared(SKIN_TO_SPAR, case, blade.y, shear, strength, ultimate, FLOWS))
        found += _doubler(drawing, blade, case, strength, film, ultimate)
    gap = Missing("peel of the trailing-edge seam under suction", ("a peel test of this seam",))
    return found, (gap,)


def walls(drawing: BladeDrawing) -> tuple[float, float]:
    """G t of the thinner skin and of the thinner spar wall. [N/m]"""
    skin, spar = drawing.skin, drawing.spar
    assert spar is not None
    of_skin = drawing.materials[skin.material].shear_modulus
    of_spar = drawing.materials[spar.material].shear_modulus
    assert of_skin is not None
    assert of_spar is not None
    return of_skin * min(skin.top_thickness, skin.bottom_thickness), of_spar * min(spar.top_wall, spar.bottom_wall)


def bonded_width(drawing: BladeDrawing, blade: StressedBlade) -> Floats:
    """Of one skin on the spar, from leading edge to the back of the web. [m] at each station"""
    spar = drawing.spar
    assert spar is not None
    return spar.web_place * blade.chord + 0.5 * spar.web


def skin_to_spar_flow(drawing: BladeDrawing, blade: StressedBlade, case: InnerLoads) -> Floats:
    """Shear that the film hands from one skin to the spar, per length of span; never less than there is. [N/m]"""
    skin = drawing.skin
    modulus = drawing.materials[skin.material].youngs_modulus
    assert modulus is not None
    outer = blade.layout.outer
    middle = outer.shape[1] // 2
    above = outer[:, : middle + 1, 1] - blade.at(blade.beam.elastic_z)[:, None]
    run = np.hypot(*np.moveaxis(np.diff(outer[:, : middle + 1], axis=1), -1, 0))
    first = (0.5 * np.abs(above[:, 1:] + above[:, :-1]) * run).sum(-1) * max(skin.top_thickness, skin.bottom_thickness)
    shear = np.abs(blade.at(case.flap_shear)) * modulus * first / blade.at(blade.beam.flapwise)
    torque = np.abs(blade.at(case.torque))
    flow: Floats = shear + torque / (2.0 * _area(blade.layout.spar_face, bonded_width(drawing, blade)))
    return flow


def _area(line: Floats, back: Floats) -> Floats:
    """Inside a closed line, ahead of a place on the chord. [m^2]"""
    x, z = np.minimum(line[..., 0], back[:, None]), line[..., 1]
    area: Floats = np.abs(0.5 * (x * np.roll(z, -1, axis=1) - z * np.roll(x, -1, axis=1)).sum(-1))
    return area


def _sheared(
    check: str, case: InnerLoads, y: Floats, shear: Floats, strength: BondStrength, ultimate: float, method: str
) -> Margin:
    at = int(shear.argmax())
    return Margin(
        check=check, case=case.case.name, where=f"at {y[at]:.3g} m, {strength.shear_state} film",
        applied=float(shear[at]), allowable=strength.shear, factor=ultimate, source=strength.shear_source,
        method=method, validity=VALIDITY, refer=strength.refer,
    )  # fmt: skip


def _doubler(
    drawing: BladeDrawing, blade: StressedBlade, case: InnerLoads, strength: BondStrength, film: Film, ultimate: float
) -> list[Margin]:
    doubler, skin, spar = drawing.doubler, drawing.skin, drawing.spar
    if doubler is None or spar is None:
        return []
    plate, face = drawing.materials[doubler.material], drawing.materials[skin.material]
    assert plate.youngs_modulus is not None
    assert face.youngs_modulus is not None
    held = max((hole.radius for hole in doubler.bolts), default=0.5 * (doubler.inner + doubler.outer))
    under = skin.top_thickness + min(spar.top_wall, spar.bottom_wall)
    sheet = Sheet(plate.youngs_modulus, doubler.thickness, plate.poisson_ratio or 0.0)
    base = Sheet(face.youngs_modulus, under, face.poisson_ratio or 0.0)
    inside = int(np.nonzero(blade.y < doubler.outer)[0][-1])
    strains = [
        abs(float(blade.strain(case, point.x, point.z)[inside])) for point in blade.points if point.part == "doubler"
    ]
    load = max(strains) * (sheet.axial + base.axial)
    end = doubler_end(load, [Step(doubler.outer - held, sheet)], base, film)
    where = f"at {doubler.outer:.3g} m"
    method = "doubler on skin and spar wall, one step, held at its outermost bolt; docs/theory/joints"
    rows = (
        ("shear", float(np.abs(end.shear).max()), strength.shear, strength.shear_source, strength.shear_state),
        ("peel", abs(end.peel), strength.peel, strength.peel_source, strength.peel_state),
    )
    return [
        Margin(
            check=f"doubler's end, {name}", case=case.case.name, where=f"{where}, {state} film", applied=applied,
            allowable=allowable, factor=ultimate, source=source, method=method, validity=DOUBLER_VALIDITY,
            refer=strength.refer,
        )
        for name, applied, allowable, source, state in rows
    ]  # fmt: skip
