"""Take a lot into the shop."""

from pathlib import Path
from typing import Annotated

import typer

from bladewright.cli import booked, showing


def receive(
    lot: Annotated[str, typer.Argument(help="The shop's name for this sheet, roll, bar or box.")],
    material: Annotated[str, typer.Argument(help="What it is, by the drawing's name.")],
    by: booked.By,
    maker: Annotated[str, typer.Option(help="Who made it.")] = "",
    maker_lot: Annotated[str, typer.Option(help="The maker's lot number.")] = "",
    expires: Annotated[str, typer.Option(help="Last day it may be used, like 2026-09-10.")] = "",
    certificate: Annotated[Path | None, typer.Option(help="The certificate's file, kept with it.")] = None,
    book: booked.BookFolder = booked.HERE,
    json: showing.Json = False,
) -> None:
    """Receive a lot: sheet, extrusion, adhesive roll, brass, bolts.

    Example: **bladewright receive R-121 film-epoxy --maker-lot BF-20977 --expires 2026-09-10 --by "Osbrey Quillinder"**
    """
    from bladewright.records.lots import receive_lot

    act = booked.act(book, by)
    done = receive_lot(
        act,
        lot,
        material,
        maker=maker,
        maker_lot=maker_lot,
        expires_on=booked.day(expires, "expires"),
        certificate=certificate,
    )
    booked.written(done, f"lot {lot} received", by, json=json)
