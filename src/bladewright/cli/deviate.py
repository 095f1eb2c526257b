"""Accept a finding by a person with design authority."""

from typing import Annotated

import typer

from bladewright.cli import booked, showing


def deviate(
    serial: Annotated[str, typer.Argument(help="The blade's serial.")],
    rule: Annotated[str, typer.Argument(help="The rule whose finding is accepted, as judged.")],
    reason: Annotated[str, typer.Option("--reason", help="Why, in a sentence. It is printed on every paper.")],
    by: booked.By,
    only_with: Annotated[str, typer.Option(help="The only mates it may fly with; several with commas.")] = "",
    book: booked.BookFolder = booked.HERE,
    json: showing.Json = False,
) -> None:
    """Accept a finding as a deviation. The finding stays; every paper says so. Some findings cannot be accepted.

    Example: **bladewright deviate FM31-0110 "dimensions: reflex.angle" --reason "..." --by "Ansel Vorrimoor"**
    """
    from bladewright.records.deviations import accept_deviation

    mates = tuple(part.strip() for part in only_with.split(",") if part.strip())
    done = accept_deviation(booked.act(book, by, reason), serial, rule, mates)
    booked.written(done, f"{serial}: {rule} accepted as {done.deviation.number}", by, json=json)
