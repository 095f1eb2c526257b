"""Let a person do something."""

from typing import Annotated

import typer

from bladewright.cli import booked, showing


def authorise(
    name: Annotated[str, typer.Argument(help="The person's name.")],
    scope: Annotated[str, typer.Argument(help='What for: "receive", "make", "inspect" ... (a wrong word lists all).')],
    by: booked.By,
    first: Annotated[str, typer.Option("--from", help="First day, like 2026-01-05. Without: today.")] = "",
    until: Annotated[str, typer.Option(help="Last day. Without: until withdrawn.")] = "",
    reason: booked.Why = "",
    book: booked.BookFolder = booked.HERE,
    json: showing.Json = False,
) -> None:
    """Authorise a person for one kind of work, from a day until a day.

    Example: **bladewright authorise "Wenda Harkthwaite" inspect --until 2026-12-31 --by "Brona Lindlesk"**
    """
    from bladewright.records.book import opened
    from bladewright.records.people import authorise as let
    from bladewright.records.people import scope_named

    act = booked.act(book, by, reason)
    begins = booked.day(first, "from") or opened().day(act.at)
    done = let(act, name, scope_named(scope), begins, booked.day(until, "until"))
    booked.written(done, f'{name} authorised for "{scope}" from {begins}', by, json=json)
