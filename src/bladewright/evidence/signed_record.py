"""A proof the program does not compute, entered as a record and signed by a named person."""

import datetime
from collections.abc import Mapping
from pathlib import Path
from typing import Literal

import tomlkit
from pydantic import Field

from bladewright.evidence.dates import Date
from bladewright.evidence.files import opened
from bladewright.evidence.records import SignedRecord
from bladewright.evidence.shop_file import ShopFile, Words
from bladewright.typed import toml_table, validated


class _SignedFile(ShopFile):
    proof: Words
    result: Literal["conforms", "does not conform"]
    statement: Words
    signed_by: Words
    signed_on: Date
    details: dict[str, Words] = Field(default_factory=dict)


def read_signed_record(record: Path | bytes, file: str = "") -> SignedRecord:
    """The signed record; ``SeveralBadInputs`` names everything wrong."""
    data, source = opened(record, file)
    entered = validated(_SignedFile, toml_table(data, source.file), source.file, "a signed record")
    return SignedRecord(
        source=source,
        serial=entered.serial,
        proof=entered.proof,
        result=entered.result,
        statement=entered.statement,
        signed_by=entered.signed_by,
        signed_on=entered.signed_on,
        details=tuple(entered.details.items()),
    )


def signed_record_bytes(
    *,
    serial: str,
    proof: str,
    result: str,
    statement: str,
    signed_by: str,
    signed_on: datetime.date,
    details: Mapping[str, str] | None = None,
) -> bytes:
    """The file of a record as a person typed and signed it; whether it can be right, its reader says."""
    table = {
        "format": 1,
        "serial": serial,
        "proof": proof,
        "result": result,
        "statement": statement,
        "signed_by": signed_by,
        "signed_on": signed_on,
    }
    return tomlkit.dumps({**table, "details": dict(details)} if details else table).encode("utf-8")
