"""File a void map."""

from pathlib import Path
from typing import Annotated

import typer

from bladewright.cli import booked, showing


def file_void_map(
    void_map: Annotated[Path, typer.Argument(help="The void map: a TOML file.", exists=True, dir_okay=False)],
    by: booked.By,
    reason: booked.Why = "",
    book: booked.BookFolder = booked.HERE,
    json: showing.Json = False,
) -> None:
    """File a void map: where a blade was looked at, and every void found. Who found it files it.

    Example: **bladewright file-void-map FM31-0107.toml --by "Wenda Harkthwaite"**
    """
    from bladewright.records.evidence import file_void_map as keep

    done = keep(booked.act(book, by, reason), void_map)
    booked.written(done, f"{void_map.name} filed", by, json=json)
