"""Record a set put on an aircraft."""

from typing import Annotated

import typer

from bladewright.cli import booked, showing


def install(
    name: Annotated[str, typer.Argument(help="The set, like 0107+0112.")],
    aircraft: Annotated[str, typer.Argument(help="The aircraft's mark.")],
    by: booked.By,
    on: Annotated[str, typer.Option(help="The day, like 2026-05-04. Without: today.")] = "",
    book: booked.BookFolder = booked.HERE,
    json: showing.Json = False,
) -> None:
    """Record a signed-out set put on an aircraft.

    Example: **bladewright install 0107+0112 FV-001 --on 2026-05-04 --by "Brona Lindlesk"**
    """
    from bladewright.records.book import opened
    from bladewright.records.ownership import install as put

    act = booked.act(book, by)
    done = put(act, name, aircraft, booked.day(on, "on") or opened().day(act.at))
    booked.written(done, f"set {name} installed on {aircraft}", by, json=json)
