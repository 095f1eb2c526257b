"""The shop desk, served from this machine to its own browser or to the tablets on the floor."""

from pathlib import Path
from typing import Annotated

import typer

from bladewright.cli import booked, showing


def desk(
    book: booked.BookFolder = booked.HERE,
    host: Annotated[
        str, typer.Option("--host", help='Where to listen: "0.0.0.0" lets the tablets of the shop\'s network in.')
    ] = "127.0.0.1",
    port: Annotated[int, typer.Option("--port", min=0, max=65535, help="0 takes any that is free.")] = 8031,
    called: Annotated[
        list[str] | None, typer.Option("--called", help="A name this machine has in the shop; may be given often.")
    ] = None,
    logs: Annotated[
        Path | None,
        typer.Option("--logs", help="The folder the oven's logger writes in; only read.", exists=True, file_okay=False),
    ] = None,
    clock: Annotated[
        str, typer.Option("--clock", help="For a demo book: the day and time it is shown on, with its offset from UTC.")
    ] = "",
) -> None:
    """Open the shop desk in the browser. It needs no internet; stop it with Ctrl-C.

    Example: **bladewright desk --book book --host 0.0.0.0 --logs /oven/logs**
    """
    from bladewright.web import serving

    begun = booked.moment(clock, "clock") if clock else None
    start = serving.Start(book, host, port, tuple(called or ()), logs, begun)
    serving.serve(start, _say)


def _say(address: str) -> None:
    from bladewright.records import secrets
    from bladewright.web.entering import start_code

    showing.lines(f"The shop desk is open at {address}\nStop it with Ctrl-C.")
    if not secrets.anybody_has_secret():
        showing.lines(
            f"Nobody has a secret yet: open {address}begin/?code={start_code[0]}\n"
            f"The start code is {start_code[0]}; it is good until the desk is stopped."
        )
