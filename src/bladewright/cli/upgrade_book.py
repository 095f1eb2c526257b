"""Bring an older book up to this program."""

from bladewright.cli import booked, showing


def upgrade_book(book: booked.BookFolder = booked.HERE, json: showing.Json = False) -> None:
    """Copy an older book's tables, then bring them up to this program.

    Example: **bladewright upgrade-book --book book**
    """
    from bladewright.records.opening import upgrade_book as upgrade

    done = upgrade(book, at=booked.now())
    if json:
        showing.as_json({"id": done.id, "shop": done.shop})
        return
    showing.lines(f"Book {done.id} of {done.shop} is up to date; the tables were copied first.")
