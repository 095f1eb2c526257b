"""File a torn coupon and its pull curve."""

from pathlib import Path
from typing import Annotated

import typer

from bladewright.cli import booked, showing


def file_coupon(
    coupon: Annotated[Path, typer.Argument(help="The torn coupon's TOML file.", exists=True, dir_okay=False)],
    by: booked.By,
    pull: Annotated[Path | None, typer.Option(help="The pull curve.", exists=True, dir_okay=False)] = None,
    description: Annotated[Path | None, typer.Option(help="The pull description.", exists=True, dir_okay=False)] = None,
    reason: booked.Why = "",
    book: booked.BookFolder = booked.HERE,
    json: showing.Json = False,
) -> None:
    """File a torn coupon: what was seen on both faces, and its pull curve.

    Example: **bladewright file-coupon root.toml --pull root.csv --description pull.toml --by "Wenda Harkthwaite"**
    """
    from bladewright.records.evidence import file_coupon as keep

    done = keep(booked.act(book, by, reason), coupon, pull, description)
    booked.written(done, f"{coupon.name} filed", by, json=json)
