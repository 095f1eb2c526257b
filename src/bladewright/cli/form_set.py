"""Put blades together that fly together."""

from typing import Annotated

import typer

from bladewright.cli import booked, showing


def form_set(
    serials: Annotated[list[str], typer.Argument(help="The blades, like 0107 0112.")],
    by: booked.By,
    name: Annotated[str, typer.Option(help="What the shop calls the set. Without: the serials joined by +.")] = "",
    reason: booked.Why = "",
    book: booked.BookFolder = booked.HERE,
    json: showing.Json = False,
) -> None:
    """Form a set of accepted blades, if the tests of a set allow it. A referred test needs a reason.

    Example: **bladewright form-set 0107 0112 --by "B. Lindlesk" --reason "differences too small to tell"**
    """
    from bladewright.records.sets import form_set as form

    named = name or "+".join(serials)
    booked.written(form(booked.act(book, by, reason), named, serials), f"set {named} formed", by, json=json)
