"""Which blades a filed piece of evidence speaks for, and where they fly."""

from typing import Annotated

import typer

from bladewright.cli import booked, showing


def where_evidence(
    file: Annotated[str, typer.Argument(help="The filed file's name, or its SHA-256.")],
    book: booked.BookFolder = booked.HERE,
    json: showing.Json = False,
) -> None:
    """Which blades one filed file speaks for, like an oven run's log, and where they are flying and with whom to speak.

    Example: **bladewright where-evidence run-071.csv**
    """
    from bladewright.records.trace import where_evidence as where

    booked.read(book)
    showing.trace(where(file), json=json)
