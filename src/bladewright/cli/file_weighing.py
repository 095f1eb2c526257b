"""File a weighing."""

from pathlib import Path
from typing import Annotated

import typer

from bladewright.cli import booked, showing


def file_weighing(
    weighing: Annotated[Path, typer.Argument(help="The weighing: a TOML file.", exists=True, dir_okay=False)],
    by: booked.By,
    reason: booked.Why = "",
    book: booked.BookFolder = booked.HERE,
    json: showing.Json = False,
) -> None:
    """File a weighing against the rig's master blade.

    Example: **bladewright file-weighing FM31-0107.toml --by "Isca Pellowdrake"**
    """
    from bladewright.records.evidence import file_weighing as keep

    done = keep(booked.act(book, by, reason), weighing)
    booked.written(done, f"{weighing.name} filed", by, json=json)
