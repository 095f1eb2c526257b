"""Choose a secret for the desk from this machine, where nobody who administers the book remembers theirs."""

from typing import Annotated

import typer

from bladewright.cli import booked, showing


def set_secret(
    name: Annotated[str, typer.Argument(help="The person's name.")],
    by: booked.By,
    reason: booked.Why = "",
    book: booked.BookFolder = booked.HERE,
    json: showing.Json = False,
) -> None:
    """Set a person's secret for the desk. It is asked for and not shown; one that somebody else set signs nothing.

    Whoever has the book's folder can do this; the history then says so.

    Example: **bladewright set-secret "B. Lindlesk" --by "B. Lindlesk" --reason "forgotten"**
    """
    from bladewright.records import secrets

    act = booked.act(book, by, reason)
    secret = typer.prompt("The secret", hide_input=True, confirmation_prompt="The same once more", err=True)
    done = secrets.set_secret(act, name, secret)
    if json:
        showing.as_json(done)
        return
    own = "" if not done.given else " They choose their own at the desk before they sign."
    showing.lines(f"{name} can come in at the desk. Recorded by {by} (identity not proven).{own}")
