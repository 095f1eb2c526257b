"""Check the book against itself."""

from typing import Annotated

import typer

from bladewright.cli import booked, showing


def check_book(
    head: Annotated[str, typer.Option(help="The chain head printed on a paper, to find a cut tail.")] = "",
    book: booked.BookFolder = booked.HERE,
    json: showing.Json = False,
) -> None:
    """Compare tables, files and chain, and the head with the one kept outside. Exit code 1 when they do not agree.

    Example: **bladewright check-book --book book**
    """
    from bladewright.records.checking import check

    found = check(book, head=head)
    if json:
        showing.as_json(found)
    else:
        for trouble in found.troubles:
            showing.lines(f"DOES NOT AGREE: {trouble}")
        showing.lines(f"{found.events} events and {found.files} files checked. Chain head: {found.head}")
    if found.troubles:
        raise typer.Exit(1)
