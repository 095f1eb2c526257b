"""Say which lot went into a blade."""

from typing import Annotated

import typer

from bladewright.cli import booked, showing


def use_lot(
    serial: Annotated[str, typer.Argument(help="The blade's serial.")],
    part: Annotated[str, typer.Argument(help='What it became, like "top skin".')],
    lot: Annotated[str, typer.Argument(help="The lot, by the name it was received under.")],
    by: booked.By,
    book: booked.BookFolder = booked.HERE,
    json: showing.Json = False,
) -> None:
    """Record a lot built into a blade.

    Example: **bladewright use-lot FM31-0107 adhesive R-118 --by "Tolvan Merrabeck"**
    """
    from bladewright.records.blades import use_lot as use

    booked.written(use(booked.act(book, by), serial, part, lot), f"{serial}: {part} from lot {lot}", by, json=json)
