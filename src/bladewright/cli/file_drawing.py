"""File a drawing revision."""

from typing import Annotated

import typer

from bladewright.cli import booked, showing


def file_drawing(
    drawing: booked.File,
    revision: Annotated[str, typer.Option(help='Like "A".')],
    by: booked.By,
    book: booked.BookFolder = booked.HERE,
    json: showing.Json = False,
) -> None:
    """File a drawing as a revision; another person approves it before blades are made to it.

    Example: **bladewright file-drawing fm31.toml --revision A --by "A. Vorrimoor"**
    """
    from bladewright.records.drawings import file_drawing as keep

    done = keep(booked.act(book, by), drawing, revision)
    booked.written(done, f"{done.name} revision {revision} filed", by, json=json)
