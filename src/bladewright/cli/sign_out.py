"""Release a set to fly."""

from typing import Annotated

import typer

from bladewright.cli import booked, showing


def sign_out(
    name: Annotated[str, typer.Argument(help="The set, like 0107+0112.")],
    by: booked.By,
    reason: booked.Why = "",
    book: booked.BookFolder = booked.HERE,
    json: showing.Json = False,
) -> None:
    """Sign a set out of the shop.

    Example: **bladewright sign-out 0107+0112 --by "Brona Lindlesk"**
    """
    from bladewright.records.sets import sign_out as release

    booked.written(release(booked.act(book, by, reason), name), f"set {name} signed out", by, json=json)
