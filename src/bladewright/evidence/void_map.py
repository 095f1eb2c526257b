"""A void map: which bondlines were looked at over which stretch of the span, with what, and every void found there.

One file for each person, day and method; several maps of one blade add up. A map with no void says ``voids = []``:
a void nobody entered must not read as a void nobody found.
"""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from pathlib import Path
from typing import Annotated, Any

import tomlkit
from pydantic import Field, field_validator, model_validator

from bladewright.errors import BadInput
from bladewright.evidence.dates import Date
from bladewright.evidence.files import opened
from bladewright.evidence.records import LookedAt, Void, VoidMap
from bladewright.evidence.shop_file import ShopFile, Words
from bladewright.typed import Record, as_custom, of_kind, toml_table, validated

Radius = Annotated[float, *of_kind("length"), Field(ge=0.0)]
Size = Annotated[float, *of_kind("length"), Field(gt=0.0)]
Chordwise = Annotated[float, *of_kind("fraction"), Field(ge=0.0, le=1.0)]

FOUND = ("bondline", "station", "chordwise", "along", "across")
STRETCH = ("bondline", "inner", "outer")


class _LookedAt(Record):
    bondline: Words
    inner: Radius
    outer: Radius

    @model_validator(mode="after")
    def _has_an_extent(self) -> "_LookedAt":
        if not self.outer > self.inner:
            wrong = BadInput("outer is not beyond inner", allowed="more than inner", fix="check both radii")
            raise as_custom(wrong)
        return self


class _Void(Record):
    bondline: Words
    station: Radius
    chordwise: Chordwise | None = None
    along: Size
    across: Size


class _VoidMapFile(ShopFile):
    found_by: Words
    found_on: Date
    method: Words
    uncertainty: Size | None = None
    looked_at: tuple[_LookedAt, ...]
    voids: tuple[_Void, ...]

    @field_validator("looked_at")
    @classmethod
    def _looked_somewhere(cls, looked_at: tuple[_LookedAt, ...]) -> tuple[_LookedAt, ...]:
        if not looked_at:
            raise as_custom(
                BadInput("names no bondline", allowed="one stretch or more", fix="enter each bondline looked at")
            )
        return looked_at


def read_void_map(void_map: Path | bytes, file: str = "") -> VoidMap:
    """The void map; ``SeveralBadInputs`` names everything wrong."""
    data, source = opened(void_map, file)
    entered = validated(_VoidMapFile, toml_table(data, source.file), source.file, "a void map")
    return VoidMap(
        source=source,
        serial=entered.serial,
        found_by=entered.found_by,
        found_on=entered.found_on,
        method=entered.method,
        uncertainty=entered.uncertainty,
        looked_at=tuple(LookedAt(one.bondline, one.inner, one.outer) for one in entered.looked_at),
        voids=tuple(
            Void(number, one.bondline, one.station, one.along, one.across, one.chordwise)
            for number, one in enumerate(entered.voids, 1)
        ),
    )


@dataclass(frozen=True, slots=True)
class VoidMapEntries:
    """A void map as a person typed it: every value still a text with its unit, empty where it was left out."""

    serial: str
    found_by: str
    found_on: str
    method: str
    uncertainty: str
    looked_at: Sequence[Mapping[str, str]]  # each with the names of STRETCH
    voids: Sequence[Mapping[str, str]]  # each with the names of FOUND


def void_map_bytes(entries: VoidMapEntries) -> bytes:
    """The file of what was typed; whether it can be right, its reader says."""
    table: dict[str, Any] = {
        "format": 1,
        "serial": entries.serial,
        "found_by": entries.found_by,
        "found_on": entries.found_on,
        "method": entries.method,
    }
    if entries.uncertainty:
        table["uncertainty"] = entries.uncertainty
    table["looked_at"] = [_row(one, STRETCH) for one in entries.looked_at]
    table["voids"] = [_row(one, FOUND) for one in entries.voids]
    return tomlkit.dumps(table).encode("utf-8")


def _row(entered: Mapping[str, str], names: Sequence[str]) -> dict[str, str]:
    return {name: entered[name] for name in names if entered.get(name)}
