"""File a drawing revision."""

from pathlib import Path
from typing import Annotated

import typer

from bladewright.cli import booked, showing


def file_drawing(
    drawing: Annotated[Path, typer.Argument(help="The blade's TOML file.", exists=True, dir_okay=False)],
    revision: Annotated[str, typer.Option(help='Like "A".')],
    by: booked.By,
    book: booked.BookFolder = booked.HERE,
    json: showing.Json = False,
) -> None:
    """File a drawing as a revision; another person approves it before blades are made to it.

    Example: **bladewright file-drawing fm31.toml --revision A --by "Brona Lindlesk"**
    """
    from bladewright.records.drawings import file_drawing as keep

    done = keep(booked.act(book, by), drawing, revision)
    booked.written(done, f"{done.name} revision {revision} filed", by, json=json)
