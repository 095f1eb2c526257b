"""A second person's yes to a drawing revision."""

from typing import Annotated

import typer

from bladewright.cli import booked, showing


def approve_drawing(
    name: Annotated[str, typer.Argument(help="The drawing's name.")],
    revision: Annotated[str, typer.Argument(help="Its revision.")],
    by: booked.By,
    reason: booked.Why = "",
    book: booked.BookFolder = booked.HERE,
    json: showing.Json = False,
) -> None:
    """Approve a drawing revision that somebody else filed.

    Example: **bladewright approve-drawing FM-31 A --by "Ansel Vorrimoor"**
    """
    from bladewright.records.drawings import approve_drawing as approve

    done = approve(booked.act(book, by, reason), name, revision)
    booked.written(done, f"{name} revision {revision} approved", by, json=json)
