"""How much shorter the skin should last beside a nick than without it, by its own curve: an estimate, no limit."""

import math

import numpy as np

from bladewright.design.damage_place import Damage
from bladewright.design.flown_loads import flown_loads, standing_still
from bladewright.design.life import ESTIMATE, VALIDITY, detail_cycles, lasting
from bladewright.design.strength_case import LoadedBlade
from bladewright.design.stressed_points import Point
from bladewright.drawing.file import BladeDrawing
from bladewright.figures import Figure, Missing

NAME = "life beside the nick"
METHOD = f"{ESTIMATE}; curve and scatter of the skin's own record, the nick's factor in place of the record's"


def nicked_life(
    damage: Damage, drawing: BladeDrawing, loaded: LoadedBlade, factor: float
) -> tuple[Figure, ...] | Missing:
    """Hours without and with the nick, whose bottom sees ``factor`` times the skin's stress."""
    profile, rotor = drawing.flight_profile, drawing.rotor
    record = next((one for one in drawing.fatigue.values() if one.part == "skin"), None)
    modulus = drawing.materials[drawing.skin.material].youngs_modulus
    if profile is None or record is None:
        return Missing(NAME, ("flight_profile",) if profile is None else ("a fatigue record of the skin",))
    if damage.chordwise is None or rotor is None or modulus is None:
        return Missing(NAME, ("the nick's place on the chord (--chordwise)",))
    beam = loaded.blade.beam
    flown = tuple(flown_loads(one, beam, loaded.air, rotor) for one in profile.manoeuvres)
    still = standing_still(beam)
    both = [
        detail_cycles(loaded.blade, damage.station, point, modulus, flown, still, profile)
        for point in _faces(damage.chordwise, drawing, loaded)
    ]
    clean, nicked = (min(lasting(record, own, k, profile).hours for own in both) for k in (1.0, factor))
    if not math.isfinite(nicked):
        return Missing(NAME, ("a curve that says when so small stresses do damage",))
    rows = [("with the nick", nicked), *([("clean blade", clean)] if math.isfinite(clean) else [])]
    sourced = bool(record.source and profile.source) and all(one.source for one in profile.knock_downs)
    return tuple(
        Figure(
            f"life there, {name}, {ESTIMATE}", hours, "h", method=METHOD, validity=VALIDITY,
            source=record.source or "", validated=sourced,
        )
        for name, hours in rows
    )  # fmt: skip


def _faces(chordwise: float, drawing: BladeDrawing, loaded: LoadedBlade) -> tuple[Point, ...]:
    """The outer face above and below a place on the chord."""
    blade = loaded.blade
    outer, rows = blade.layout.outer, np.arange(len(blade.y))
    axis = drawing.planform.feathering_axis * blade.chord
    middle = outer.shape[1] // 2
    found = []
    for side in (slice(0, middle + 1), slice(middle, None)):
        at = np.abs(outer[:, side, 0] - (chordwise * blade.chord)[:, None]).argmin(-1) + (side.start or 0)
        x, z = outer[rows, at, 0] - axis, outer[rows, at, 1]
        found.append(Point("skin", "at the nick", drawing.skin.material, x, z, np.ones_like(blade.y)))
    return tuple(found)
