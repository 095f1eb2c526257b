"""End what a person may do."""

from typing import Annotated

import typer

from bladewright.cli import booked, showing


def withdraw(
    name: Annotated[str, typer.Argument(help="The person's name.")],
    scope: Annotated[str, typer.Argument(help='From what: "receive", "make", "inspect" ... (a wrong word lists all).')],
    by: booked.By,
    reason: booked.Why = "",
    book: booked.BookFolder = booked.HERE,
    json: showing.Json = False,
) -> None:
    """Withdraw a person's authorisation for one kind of work. What they did before stays done.

    Example: **bladewright withdraw "Tolvan Merrabeck" make --reason "left the shop" --by "Brona Lindlesk"**
    """
    from bladewright.records.people import scope_named
    from bladewright.records.people import withdraw as end

    done = end(booked.act(book, by, reason), name, scope_named(scope))
    booked.written(done, f'{name} no longer authorised for "{scope}"', by, json=json)
