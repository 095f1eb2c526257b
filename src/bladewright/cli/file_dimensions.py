"""File a dimension sheet."""

from pathlib import Path
from typing import Annotated

import typer

from bladewright.cli import booked, showing


def file_dimensions(
    sheet: Annotated[Path, typer.Argument(help="The dimension sheet: a CSV file.", exists=True, dir_okay=False)],
    by: booked.By,
    reason: booked.Why = "",
    book: booked.BookFolder = booked.HERE,
    json: showing.Json = False,
) -> None:
    """File the dimension sheet of one blade.

    Example: **bladewright file-dimensions FM31-0107.csv --by "Wenda Harkthwaite"**
    """
    from bladewright.records.evidence import file_dimensions as keep

    done = keep(booked.act(book, by, reason), sheet)
    booked.written(done, f"{sheet.name} filed", by, json=json)
