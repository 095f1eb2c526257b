"""Enter an owner."""

from typing import Annotated

import typer

from bladewright.cli import booked, showing


def add_owner(
    name: Annotated[str, typer.Argument(help="The owner's name.")],
    by: booked.By,
    contact: Annotated[str, typer.Option(help="How to reach them in a recall.")] = "",
    book: booked.BookFolder = booked.HERE,
    json: showing.Json = False,
) -> None:
    """Enter an owner and how to reach them.

    Example: **bladewright add-owner "Harrow Vale Flying School" --contact "hangar 2" --by "Brona Lindlesk"**
    """
    from bladewright.records.ownership import add_owner as add

    booked.written(add(booked.act(book, by), name, contact), f"{name} entered", by, json=json)
