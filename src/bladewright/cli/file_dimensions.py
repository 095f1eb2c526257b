"""File a dimension sheet."""

from bladewright.cli import booked, showing


def file_dimensions(
    sheet: booked.File,
    by: booked.By,
    reason: booked.Why = "",
    book: booked.BookFolder = booked.HERE,
    json: showing.Json = False,
) -> None:
    """File the dimension sheet of one blade.

    Example: **bladewright file-dimensions 0107.csv --by "W. Harkthwaite"**
    """
    from bladewright.records.evidence import file_dimensions as keep

    done = keep(booked.act(book, by, reason), sheet)
    booked.written(done, f"{sheet.name} filed", by, json=json)
