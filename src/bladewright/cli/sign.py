"""File a signed record."""

from bladewright.cli import booked, showing


def sign(
    record: booked.File,
    by: booked.By,
    reason: booked.Why = "",
    book: booked.BookFolder = booked.HERE,
    json: showing.Json = False,
) -> None:
    """File a proof that a person signs because no program computes it.

    Example: **bladewright sign 0107-void-map.toml --by "W. Harkthwaite"**
    """
    from bladewright.records.evidence import sign as keep

    done = keep(booked.act(book, by, reason), record)
    booked.written(done, f"{record.name} filed", by, json=json)
