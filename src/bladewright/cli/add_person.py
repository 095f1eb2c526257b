"""Enter a person in the book."""

from typing import Annotated

import typer

from bladewright.cli import booked, showing


def add_person(
    name: Annotated[str, typer.Argument(help="The person's name.")],
    by: booked.By,
    book: booked.BookFolder = booked.HERE,
    json: showing.Json = False,
) -> None:
    """Enter a person. The first person enters themselves and may then administer the book.

    Example: **bladewright add-person "Brona Lindlesk" --by "Brona Lindlesk"**
    """
    from bladewright.records.people import add_person as add

    booked.written(add(booked.act(book, by), name), f"{name} entered", by, json=json)
