"""Which blades a lot went into, and where they fly."""

from typing import Annotated

import typer

from bladewright.cli import booked, showing


def where_lot(
    lot: Annotated[str, typer.Argument(help="The lot: the shop's name for it, or the maker's lot number.")],
    book: booked.BookFolder = booked.HERE,
    json: showing.Json = False,
) -> None:
    """Which blades used a lot, in which part, and where they are flying and with whom to speak.

    Example: **bladewright where-lot R-118**
    """
    from bladewright.records.trace import where_lot as where

    booked.read(book)
    showing.trace(where(lot), json=json)
