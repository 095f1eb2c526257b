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
    found = where(lot)
    if json:
        showing.as_json(found)
        return
    rows = [
        (
            place.serial,
            f"{place.part}, {place.lot}",
            place.word or "not judged",
            place.set_name or "-",
            place.aircraft or ("signed out" if place.signed_out else "in the shop"),
            f"{place.owner}, {place.contact}" if place.owner else "-",
        )
        for place in found.places
    ]
    showing.table(("serial", "part, lot", "verdict", "set", "flying on", "owner"), rows, f"Lot {lot}")
    showing.lines(f"{_many(len(found.serials), 'blade')}, {_many(len(found.owners), 'owner')} to tell.")


def _many(count: int, what: str) -> str:
    return f"{count} {what}{'' if count == 1 else 's'}"
