"""File a signed record."""

from pathlib import Path
from typing import Annotated

import typer

from bladewright.cli import booked, showing


def sign(
    record: Annotated[Path, typer.Argument(help="The signed record: a TOML file.", exists=True, dir_okay=False)],
    by: booked.By,
    reason: booked.Why = "",
    book: booked.BookFolder = booked.HERE,
    json: showing.Json = False,
) -> None:
    """File a proof that a person signs because no program computes it.

    Example: **bladewright sign FM31-0107-void-map.toml --by "Wenda Harkthwaite"**
    """
    from bladewright.records.evidence import sign as keep

    done = keep(booked.act(book, by, reason), record)
    booked.written(done, f"{record.name} filed", by, json=json)
