"""Suggest a logger description from one log, for a person to confirm."""

from pathlib import Path
from typing import Annotated

import typer

from bladewright.cli import showing


def suggest_logger(
    log: Annotated[Path, typer.Argument(help="A file the logger wrote.", exists=True, dir_okay=False)],
    out: Annotated[Path | None, typer.Option(help="The description's file; there must be none of that name.")] = None,
    json: showing.Json = False,
) -> None:
    """A logger description as far as a log tells, with a reason for each guess. Refused until a person confirms it.

    Example: **bladewright suggest-logger run-071.csv --out logger.toml**
    """
    from bladewright.errors import BadInput
    from bladewright.evidence.files import taken
    from bladewright.evidence.suggested_description import still_open, suggested_description
    from bladewright.records.placing import put, refuse_other_than_file

    if out is not None:
        refuse_other_than_file(out)
        if out.exists():  # it may be one that a person confirmed
            raise BadInput("is there already", file=str(out), allowed="a new file", fix="choose another name")
    text = suggested_description(*taken(log))
    if out is not None:
        put(out, text.encode("utf-8"))
    if json:
        showing.as_json(
            {"description": text, "still open": still_open(text, log.name), "file": str(out) if out else None}
        )
    elif out is None:
        typer.echo(text, nl=False)
    else:
        showing.lines(
            f"{out}: written, NOT CONFIRMED. Enter what is open, check every guess at the logger, and enter your name; "
            "until then it is refused."
        )
