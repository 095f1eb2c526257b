"""Print a set's record."""

from pathlib import Path
from typing import Annotated

import typer

from bladewright.cli import booked, showing


def print_set(
    name: Annotated[str, typer.Argument(help="The set, like 0107+0112.")],
    out: Annotated[Path | None, typer.Option(help="The PDF to write. Without: papers/NAME.pdf in the book.")] = None,
    book: booked.BookFolder = booked.HERE,
    json: showing.Json = False,
) -> None:
    """Print the record of one set as an archive PDF. Same record, same bytes.

    Example: **bladewright print-set 0107+0112**
    """
    from bladewright.papers.sets import set_record
    from bladewright.records.printing import paper_of_set

    booked.read(book)
    path = booked.paper_of(book, name) if out is None else out
    booked.put_paper(path, set_record(paper_of_set(name)), book=book, json=json)
