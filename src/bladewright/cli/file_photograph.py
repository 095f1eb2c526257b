"""File a photograph of a torn face with what was outlined on it."""

from pathlib import Path
from typing import Annotated

import typer

from bladewright.cli import booked, showing


def file_photograph(
    outlines: Annotated[Path, typer.Argument(help="The outlines' TOML file.", exists=True, dir_okay=False)],
    photograph: Annotated[Path, typer.Option(help="The photograph, PNG or JPEG.", exists=True, dir_okay=False)],
    by: booked.By,
    reason: booked.Why = "",
    book: booked.BookFolder = booked.HERE,
    json: showing.Json = False,
) -> None:
    """File a photograph of a torn face, with its failure modes outlined or none yet.

    Example: **bladewright file-photograph root-top.toml --photograph root-top.jpg --by "Wenda Harkthwaite"**
    """
    from bladewright.records.evidence import file_photograph as keep

    done = keep(booked.act(book, by, reason), outlines, photograph)
    booked.written(done, f"{outlines.name} filed", by, json=json)
