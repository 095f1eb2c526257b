"""The dotted fields of a drawing that hold one value, and those nearest to a name that is none of them."""

import difflib
import typing
from collections.abc import Iterator

from pydantic import BaseModel

from bladewright.drawing.file import BladeDrawing

NEAREST = 4  # names offered for one that is misspelled
LIKENESS = 0.5  # of the letters; less alike is no help


def field_names(drawing: BladeDrawing) -> tuple[str, ...]:
    """Every field that holds one value, entered or not; rows of lists counted from one, as far as there are rows."""
    return tuple(_within(type(drawing), drawing, ""))


def nearest(name: str, drawing: BladeDrawing) -> tuple[str, ...]:
    """Fields spelled most like a name: whole, or by their last part."""
    names = field_names(drawing)
    last = name.rpartition(".")[2]
    same_end = [known for known in names if known.rpartition(".")[2] == last]
    alike = difflib.get_close_matches(name, names, NEAREST, LIKENESS)
    return tuple(dict.fromkeys((*same_end, *alike)))[:NEAREST]


def _within(kind: type[BaseModel], record: BaseModel | None, path: str) -> Iterator[str]:
    for name, entry in kind.model_fields.items():
        value, here = getattr(record, name, None), f"{path}{name}"
        inner = _record_type(entry.annotation)
        if isinstance(value, dict):
            for key, item in value.items():
                yield from _within(type(item), item, f"{here}.{key}.")
        elif isinstance(value, tuple):
            for number, item in enumerate(value, start=1):
                if isinstance(item, BaseModel):
                    yield from _within(type(item), item, f"{here}.{number}.")
        elif inner is not None:
            yield from _within(inner, value, f"{here}.")
        elif "tuple" not in str(entry.annotation):
            yield here


def _record_type(annotation: object) -> type[BaseModel] | None:
    """The table a field holds, whether or not it may be left out."""
    for part in (annotation, *typing.get_args(annotation)):
        if isinstance(part, type) and issubclass(part, BaseModel):
            return part
    return None
