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

    booked.read(book)
    found = check(printed_head=head)
    if json:
        showing.as_json(found)
    else:
        for complaint in found.condensed():
            showing.lines(f"DOES NOT AGREE: {complaint.where}: {complaint.what}")
        if found.sound:
            showing.lines("The book agrees with itself.")
        showing.lines(f"{found.events} events, {found.rows} rows and {found.files} files compared.")
        showing.lines(f"Chain head: {found.head}")
    if not found.sound:
        raise typer.Exit(1)
