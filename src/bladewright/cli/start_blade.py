"""Open a serial."""

from typing import Annotated

import typer

from bladewright.cli import booked, showing


def start_blade(
    serial: Annotated[str, typer.Argument(help="The blade's serial.")],
    drawing: Annotated[str, typer.Option(help="The drawing's name.")],
    revision: Annotated[str, typer.Option(help="Its approved revision.")],
    by: booked.By,
    book: booked.BookFolder = booked.HERE,
    json: showing.Json = False,
) -> None:
    """Start a blade to an approved drawing revision.

    Example: **bladewright start-blade FM31-0107 --drawing FM-31 --revision A --by "Tolvan Merrabeck"**
    """
    from bladewright.records.blades import start_blade as start

    done = start(booked.act(book, by), serial, drawing, revision)
    booked.written(done, f"{serial} started to {drawing} revision {revision}", by, json=json)
