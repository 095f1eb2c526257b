"""Begin a record book."""

from pathlib import Path
from typing import Annotated

import typer

from bladewright.cli import booked, showing


def new_book(
    folder: Annotated[Path, typer.Argument(help="A new folder for the book.")],
    shop: Annotated[str, typer.Option(help="The shop's name, as it stands on every paper.")],
    zone: Annotated[str, typer.Option(help='The shop\'s time zone, like "Europe/London".')],
    database: Annotated[
        str, typer.Option(help="Where its tables are kept: sqlite (a file in the folder) or postgresql (a server).")
    ] = "sqlite",
    json: showing.Json = False,
) -> None:
    """Begin a shop's record book in a new folder.

    Example: **bladewright new-book book --shop "Our Rotor Shop" --zone Europe/London**
    """
    from bladewright.records.book import kept_in
    from bladewright.records.opening import create_book

    made = create_book(folder, shop=shop, zone=zone, kept=kept_in(database), at=booked.now())
    if json:
        showing.as_json({"id": made.id, "shop": made.shop, "zone": made.zone})
        return
    showing.lines(
        f"Book {made.id} of {made.shop} begun in {folder.name}. Next: add the first person, who then lets others in."
    )
