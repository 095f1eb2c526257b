"""Which field of the drawing says how far another may be off."""

#: a field of the drawing -> the field that says how far it may be off
TOLERANCE_OF = {
    "reflex.angle": "reflex.tolerance",
    "reflex.loose_skin.angle": "reflex.loose_skin.tolerance",
    "reflex.mould.angle": "reflex.mould.tolerance",
    "skin.top_thickness": "skin.tolerance",
    "skin.bottom_thickness": "skin.tolerance",
    "spar.top_wall": "spar.tolerance",
    "spar.bottom_wall": "spar.tolerance",
    "planform.twist": "limits.twist_tolerance",
    "planform.chord": "limits.chord_tolerance",
    "section.thickness": "limits.thickness_tolerance",
}
HOLE = "doubler.bolts."
STATION = "planform.stations."


def tolerance_field(field: str) -> str | None:
    """The field that holds another's tolerance; None where the drawing has no place for one."""
    last = field.rpartition(".")[2]
    if field.startswith(HOLE) and last in ("radius", "chordwise"):
        return f"{field.rpartition('.')[0]}.place_tolerance"
    if field.startswith(STATION) and last in ("chord", "twist"):
        return TOLERANCE_OF[f"planform.{last}"]
    return TOLERANCE_OF.get(field)
