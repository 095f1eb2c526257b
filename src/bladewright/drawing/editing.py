"""Changing entries of a drawing file without touching anything else in it: comments, order and spacing stay."""

from collections.abc import Mapping
from typing import Any

import tomlkit
from tomlkit.exceptions import TOMLKitError

from bladewright.drawing.fields import field_names, nearest
from bladewright.drawing.file import BladeDrawing, parse_drawing
from bladewright.errors import BadInput

Value = str | float | bool


def with_value(data: bytes, field: str, value: Value, file: str = "") -> bytes:
    """The same file with one dotted field set, like ``with_value(data, "reflex.angle", "2.3 deg")``."""
    return with_values(data, {field: value}, file)


def with_values(data: bytes, changes: Mapping[str, Value], file: str = "") -> bytes:
    """The same file with some dotted fields set, all of them before it is read again.

    The result is read back as a drawing before it is returned: a value that is not allowed raises.
    A field of a list is counted from one: ``planform.stations.2.twist``. A table that may be left out is added.
    """
    drawing = parse_drawing(data, file)
    known = field_names(drawing)
    document = _document(data, file)
    for field, value in changes.items():
        if field not in known:
            raise _unknown(drawing, field, file)
        *path, last = field.split(".")
        table: Any = document
        for name in path:
            table = _inside(table, name)
        table[last] = value
    changed = tomlkit.dumps(document).encode()
    parse_drawing(changed, file)
    return changed


def _document(data: bytes, file: str) -> Any:
    try:
        return tomlkit.parse(data.decode("utf-8-sig"))
    except (UnicodeDecodeError, TOMLKitError) as error:
        raise BadInput("is not a TOML file", file=file, value=str(error), fix="open it in a text editor") from None


def _inside(table: Any, name: str) -> Any:
    """One step into a table, made if it is not there, or into a list counted from one."""
    if isinstance(table, list):
        return table[int(name) - 1]
    if name not in table:
        table[name] = tomlkit.table()
    return table[name]


def _unknown(drawing: BladeDrawing, field: str, file: str) -> BadInput:
    near = nearest(field, drawing)
    return BadInput(
        "is not a field of this drawing that holds one value",
        file=file,
        field=field,
        allowed=f"nearest: {', '.join(near)}" if near else "a dotted field, like reflex.angle",
        fix="write it as the drawing does; rows of a list are counted from one: planform.stations.2.twist",
    )
