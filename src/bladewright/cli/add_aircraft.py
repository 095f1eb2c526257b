"""Enter an aircraft."""

from typing import Annotated

import typer

from bladewright.cli import booked, showing


def add_aircraft(
    mark: Annotated[str, typer.Argument(help="The mark it flies under, or its maker's serial.")],
    owner: Annotated[str, typer.Option(help="Its owner, as entered.")],
    by: booked.By,
    book: booked.BookFolder = booked.HERE,
    json: showing.Json = False,
) -> None:
    """Enter an aircraft with its owner, or its new owner.

    Example: **bladewright add-aircraft FV-001 --owner "Harrow Vale Flying School" --by "Brona Lindlesk"**
    """
    from bladewright.records.ownership import add_aircraft as add

    booked.written(add(booked.act(book, by), mark, owner), f"{mark} of {owner} entered", by, json=json)
