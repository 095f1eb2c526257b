"""Changing one entry of a drawing file without touching anything else in it: comments, order and spacing stay."""

from typing import Any

import tomlkit
from tomlkit.exceptions import TOMLKitError

from bladewright.drawing.file import parse_drawing
from bladewright.errors import BadInput


def with_value(data: bytes, field: str, value: str | float | bool, file: str = "") -> bytes:
    """The same file with one dotted field set, like ``with_value(data, "reflex.angle", "2.3 deg")``.

    The result is read back as a drawing before it is returned: a value that is not allowed raises.
    A field of a list is counted from one: ``planform.stations.2.twist``.
    """
    try:
        document = tomlkit.parse(data.decode("utf-8-sig"))
    except (UnicodeDecodeError, TOMLKitError) as error:
        raise BadInput("is not a TOML file", file=file, value=str(error), fix="open it in a text editor") from None
    *path, last = field.split(".")
    table: Any = document
    for name in path:
        table = _inside(table, name, field, file)
    if isinstance(table, list):
        raise BadInput("names a whole row of a list", file=file, field=field, fix="name the entry inside the row")
    table[last] = value
    changed = tomlkit.dumps(document).encode()
    parse_drawing(changed, file)
    return changed


def _inside(table: Any, name: str, field: str, file: str) -> Any:
    """One step into a table, or a list counted from one."""
    if isinstance(table, list):
        if name.isdecimal() and 1 <= int(name) <= len(table):
            return table[int(name) - 1]
        raise BadInput("is not a row of the list", file=file, field=field, value=name, allowed=f"1 to {len(table)}")
    inner = [key for key, item in table.items() if isinstance(item, (dict, list))] if isinstance(table, dict) else []
    if name in inner:
        return table[name]
    allowed = ", ".join(inner) or "no table below this one"
    raise BadInput(f"has no table {name!r}", file=file, field=field, value=name, allowed=allowed, fix="add it first")
