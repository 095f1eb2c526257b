"""Read a blade drawing and say what is wrong with it and what is missing."""

from pathlib import Path
from typing import Annotated

import typer

from bladewright.cli import showing


def check_drawing(
    drawing: Annotated[Path, typer.Argument(help="The blade's TOML file.", exists=True, dir_okay=False)],
    json: showing.Json = False,
) -> None:
    """Read a drawing; say what is wrong and which answers wait for a missing entry.

    Example: **bladewright check-drawing fm31.toml**
    """
    from bladewright.design.properties import blade_properties
    from bladewright.drawing.file import read_drawing
    from bladewright.drawing.missing import what_is_missing

    read = read_drawing(drawing)
    missing = what_is_missing(read)
    doubtful = [figure for figure in blade_properties(read).blade if not figure.inside_validity]
    if json:
        showing.as_json({"name": read.name, "missing": missing, "doubtful": showing.figures_as_json(doubtful)})
        return
    told = "but look at what follows" if doubtful else "and nothing in it contradicts itself"
    showing.lines(f"{read.name}: {read.title or 'no title'}; the drawing can be read {told}.")
    for figure in doubtful:
        showing.lines(f"does not go together: {figure.name} is {figure.value:.3g}; {figure.validity}.")
    showing.missing_lines(missing)
    unsourced = [name for name, material in read.materials.items() if not material.validated]
    if unsourced:
        showing.lines(f"no source entered for {', '.join(unsourced)}: answers that lean on it say 'unvalidated data'.")
