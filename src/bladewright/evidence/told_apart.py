"""What a handed-in file is, told from its own entries or its first row; what cannot be told is a table of readings."""

from enum import StrEnum
from typing import Final

from bladewright.errors import BadInput
from bladewright.evidence.dimension_sheet import COLUMNS
from bladewright.typed import toml_table


class FileKind(StrEnum):
    """The files of the shop floor."""

    COUPON = "coupon"
    DIMENSIONS = "dimensions"
    WEIGHING = "weighing"
    SIGNED = "signed record"
    VOID_MAP = "void map"
    LOGGER = "logger description"
    PULL = "pull description"
    READINGS = "table of readings"


#: entries that only one kind of file has
_ENTRIES: Final = (
    ({"proof", "statement"}, FileKind.SIGNED),
    ({"looked_at", "voids"}, FileKind.VOID_MAP),
    ({"span_moment", "rig"}, FileKind.WEIGHING),
    ({"faces", "torn_by"}, FileKind.COUPON),
    ({"travel", "force"}, FileKind.PULL),
    ({"columns", "time"}, FileKind.LOGGER),
)
_LOOKED_AT: Final = 2048


def kind_of_file(data: bytes, name: str) -> FileKind:
    """The kind of a file; ``BadInput`` for a TOML file that is none of the shop's."""
    if name.lower().endswith(".toml"):
        table = toml_table(data, name)
        for entries, kind in _ENTRIES:
            if entries & table.keys():
                return kind
        raise BadInput(
            "is none of the shop's files",
            file=name,
            value=", ".join(table)[:80],
            allowed=", ".join(kind for kind in FileKind if kind not in (FileKind.DIMENSIONS, FileKind.READINGS)),
            fix="check that it is the file you meant, and the spelling of its entries",
        )
    first = data[:_LOOKED_AT].decode("utf-8-sig", "replace").partition("\n")[0]
    names = {cell.strip() for cell in first.split(",")}
    return FileKind.DIMENSIONS if len(names & set(COLUMNS)) > len(COLUMNS) // 2 else FileKind.READINGS
