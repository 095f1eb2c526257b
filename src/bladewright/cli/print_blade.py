"""Print a blade's record."""

from pathlib import Path
from typing import Annotated

import typer

from bladewright.cli import booked, showing


def print_blade(
    serial: Annotated[str, typer.Argument(help="The blade's serial.")],
    out: Annotated[Path | None, typer.Option(help="The PDF to write. Without: papers/SERIAL.pdf in the book.")] = None,
    book: booked.BookFolder = booked.HERE,
    json: showing.Json = False,
) -> None:
    """Print the record of one serial as an archive PDF. Same record, same bytes.

    Example: **bladewright print-blade FM31-0107 --out FM31-0107.pdf**
    """
    from bladewright.papers.blade import blade_record
    from bladewright.records.printing import paper_of_blade

    booked.read(book)
    path = booked.paper_of(book, serial) if out is None else out
    booked.put_paper(path, blade_record(paper_of_blade(serial)), book=book, json=json)
