"""Everything about one serial."""

from typing import Annotated

import typer

from bladewright.cli import booked, showing


def about(
    serial: Annotated[str, typer.Argument(help="The blade's serial.")],
    book: booked.BookFolder = booked.HERE,
    json: showing.Json = False,
) -> None:
    """Everything the book knows about one serial.

    Example: **bladewright about FM31-0107**
    """
    from bladewright.figures import clock_text
    from bladewright.records.blades import about as known
    from bladewright.records.book import opened

    booked.read(book)
    found = known(serial)
    if json:
        showing.as_json(found)
        return
    line = found.line
    showing.lines(f"{serial}: {line.drawing} revision {line.revision}; {line.word or 'not judged yet'}")
    showing.table(("part", "lot"), [(use.part, use.lot) for use in found.lots], "Lots")
    showing.table(
        ("evidence", "about", "file", "filed by"),
        [(item.kind, item.about, item.file, item.by) for item in found.evidence],
        "On file",
    )
    showing.table(
        ("event", "when", "what", "by", "reason"),
        [(str(e.number), clock_text(opened().clock(e.at)), e.kind, e.by, e.reason) for e in found.history],
        "History",
    )
