"""File a weighing."""

from bladewright.cli import booked, showing


def file_weighing(
    weighing: booked.File,
    by: booked.By,
    reason: booked.Why = "",
    book: booked.BookFolder = booked.HERE,
    json: showing.Json = False,
) -> None:
    """File a weighing against the rig's master blade.

    Example: **bladewright file-weighing 0107.toml --by "I. Pellowdrake"**
    """
    from bladewright.records.evidence import file_weighing as keep

    done = keep(booked.act(book, by, reason), weighing)
    booked.written(done, f"{weighing.name} filed", by, json=json)
