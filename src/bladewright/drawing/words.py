"""What a measured field of the drawing is called in a sentence. Files and rules keep the field's own name."""

import re
from typing import Final

from bladewright.units import si_unit, written

_WORDS: Final = {
    "reflex.angle": "reflex of the finished blade",
    "reflex.loose_skin.angle": "reflex of the loose skin",
    "reflex.mould.angle": "reflex of the mould",
    "skin.top_thickness": "top skin's thickness",
    "skin.bottom_thickness": "bottom skin's thickness",
    "spar.top_wall": "spar's top wall",
    "spar.bottom_wall": "spar's bottom wall",
    "planform.twist": "twist",
    "planform.chord": "chord",
    "section.thickness": "section's thickness",
    "adhesive.bondline": "bondline",
    "adhesive.seam_start": "start of the trailing-edge seam",
    "reflex.start": "start of the reflex",
    "planform.root": "blade's inner end",
    "planform.tip": "blade's tip",
    "planform.airfoil_start": "start of the lifting part",
    "planform.feathering_axis": "place of the feathering axis",
    "spar.nose_wall": "spar's nose wall",
    "spar.web": "spar's web",
    "spar.web_place": "place of the spar's web",
    "tip_weight.mass": "tip weight's mass",
    "tip_weight.chordwise": "tip weight's chordwise place",
    "tip_weight.height": "tip weight's height",
    "tip_weight.inner": "tip weight's inner end",
    "tip_weight.outer": "tip weight's outer end",
    "finish.area_density": "paint",
    "doubler.thickness": "doubler's thickness",
    "doubler.inner": "doubler's inner end",
    "doubler.outer": "doubler's outer end",
    "rotor.control.trim_spring": "trim spring",
}
#: kind -> the unit a shop reads it in
_SHOP_UNITS: Final = {"length": "mm", "angle": "deg", "fraction": "%", "area density": "g/m^2"}
_HOLE: Final = re.compile(r"doubler\.bolts\.(\d+)\.(radius|chordwise)")
_STATION: Final = re.compile(r"planform\.stations\.(\d+)\.(radius|chord|twist)")


def in_words(field: str) -> str:
    """A field's name in the trade's words; a dimension the shop named itself keeps its name."""
    hole = _HOLE.fullmatch(field)
    if hole:
        return f"{'radius' if hole[2] == 'radius' else 'chordwise place'} of bolt hole {hole[1]}"
    station = _STATION.fullmatch(field)
    if station:
        return f"{station[2]} at station {station[1]}"
    return _WORDS.get(field, field)


def shown_in(value: float, kind: str) -> str:
    """An SI value of the drawing in the unit a shop reads it in."""
    unit = _SHOP_UNITS.get(kind, si_unit(kind))
    return written(value, unit, kind, 4)
