"""What kind of quantity a dotted field of a drawing is, so that nothing measured in another kind gets into it."""

import typing

from pydantic import BaseModel
from pydantic.fields import FieldInfo

from bladewright.drawing.entries import entry_at
from bladewright.drawing.file import BladeDrawing

#: measured on a blade, though not an entry by that name
MEASURED_ALONG = {"planform.twist": "angle", "planform.chord": "length", "section.thickness": "length"}


def kind_of(drawing: BladeDrawing, field: str) -> str | None:
    """Like ``"angle"`` for ``reflex.angle``; None where the drawing has no such entry with a unit."""
    if field in MEASURED_ALONG:
        return MEASURED_ALONG[field]
    if any(dimension.name == field for dimension in drawing.limits.dimensions):
        return "length"
    path, _, last = field.rpartition(".")
    record = entry_at(drawing, path) if path else drawing
    entry = type(record).model_fields.get(last) if isinstance(record, BaseModel) else None
    return None if entry is None else _declared(entry)


def _declared(entry: FieldInfo) -> str | None:
    """The kind an entry was declared with, also where it may be left out."""
    for found in (entry, *_inside(entry.annotation)):
        extra = found.json_schema_extra if isinstance(found, FieldInfo) else None
        if isinstance(extra, dict) and isinstance(extra.get("kind"), str):
            return str(extra["kind"])
    return None


def _inside(annotation: object) -> typing.Iterator[object]:
    for part in (*typing.get_args(annotation), *getattr(annotation, "__metadata__", ())):
        yield part
        yield from _inside(part)
