"""At which rotor speeds a mode of the blade comes near what shakes it."""

from pathlib import Path
from typing import Annotated

import typer

from bladewright.cli import showing


def frequencies(
    drawing: Annotated[Path, typer.Argument(help="The blade's TOML file.", exists=True, dir_okay=False)],
    json: showing.Json = False,
) -> None:
    """Modes of the turning blade against the harmonics that can excite them; droop and coning.

    One line for each mode with its nearest harmonic; what is nearer than the margin is told at length.

    Exit code 1 unless every rule passes.

    Example: **bladewright frequencies fm31.toml**
    """
    from bladewright.cli.asking import about_drawing
    from bladewright.design.droop import droop
    from bladewright.design.frequencies import frequencies as found
    from bladewright.design.mode_table import HEADINGS, mode_tables
    from bladewright.drawing.file import read_drawing
    from bladewright.figures import Outcome, worst_of

    read = read_drawing(drawing)
    with about_drawing(drawing):
        modes, hanging = found(read), droop(read)
    findings = (*modes.findings, *hanging.findings)
    missing = (*modes.missing, *hanging.missing)
    if json:
        showing.as_json(
            {
                "modes": showing.figures_as_json(modes.figures),
                "droop and coning": showing.figures_as_json(hanging.figures),
                "findings": findings,
                "missing": missing,
            }
        )
    else:
        showing.answer_line(findings, missing)
        for pattern, rows in (mode_tables(modes, read.rotor) if read.rotor is not None else {}).items():
            showing.table(HEADINGS, rows, f"Modes, {pattern}: Hz at normal rotor speed by control run")
        showing.doubts_line(modes.figures)
        showing.figures_table(hanging.figures, "Droop and coning")
        showing.short_findings_table(findings, "Judged over the whole power-on and power-off range")
        showing.missing_lines(missing)
        showing.lines("Vibration is never trimmed away by re-tracking. " + showing.CAUTION)
    if missing or worst_of(findings) is not Outcome.PASS:
        raise typer.Exit(1)
