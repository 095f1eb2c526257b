"""What a measured field of the drawing is called in a sentence. Files and rules keep the field's own name."""

import re
from typing import Final

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
}
_HOLE: Final = re.compile(r"doubler\.bolts\.(\d+)\.(radius|chordwise)")


def in_words(field: str) -> str:
    """A field's name in the trade's words; a dimension the shop named itself keeps its name."""
    hole = _HOLE.fullmatch(field)
    if hole:
        return f"{'radius' if hole[2] == 'radius' else 'chordwise place'} of bolt hole {hole[1]}"
    return _WORDS.get(field, field)
