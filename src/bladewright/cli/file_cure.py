"""File a cure log for the blades that were in the mould."""

from pathlib import Path
from typing import Annotated

import typer

from bladewright.cli import booked, showing


def file_cure(
    log: Annotated[Path, typer.Argument(help="What the logger wrote.", exists=True, dir_okay=False)],
    serials: Annotated[str, typer.Option("--serial", help="The blade cured; several with commas.")],
    description: Annotated[Path, typer.Option(help="The logger description.", exists=True, dir_okay=False)],
    by: booked.By,
    reason: booked.Why = "",
    book: booked.BookFolder = booked.HERE,
    json: showing.Json = False,
) -> None:
    """File a cure log. It is read whole before anything is written.

    Example: **bladewright file-cure run-071.csv --serial FM31-0107 --description logger.toml --by "Tolvan Merrabeck"**
    """
    from bladewright.records.evidence import file_cure as keep

    done = keep(booked.act(book, by, reason), tuple(part.strip() for part in serials.split(",")), log, description)
    booked.written(done, f"{log.name} filed for {serials}", by, json=json)
