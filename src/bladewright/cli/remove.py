"""Record a set taken off its aircraft."""

from typing import Annotated

import typer

from bladewright.cli import booked, showing


def remove(
    name: Annotated[str, typer.Argument(help="The set, like 0107+0112.")],
    by: booked.By,
    on: Annotated[str, typer.Option(help="The day, like 2026-05-04. Without: today.")] = "",
    reason: booked.Why = "",
    book: booked.BookFolder = booked.HERE,
    json: showing.Json = False,
) -> None:
    """Record a set taken off its aircraft.

    Example: **bladewright remove 0107+0112 --reason "overhaul" --by "Brona Lindlesk"**
    """
    from bladewright.records.book import opened
    from bladewright.records.ownership import remove as take_off

    act = booked.act(book, by, reason)
    done = take_off(act, name, booked.day(on, "on") or opened().day(act.at))
    booked.written(done, f"set {name} removed", by, json=json)
