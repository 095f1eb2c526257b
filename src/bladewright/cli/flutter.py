"""How far the centre of mass may move aft before the blade flutters or twists off."""

from pathlib import Path
from typing import Annotated

import typer

from bladewright.cli import showing

SCREENING = "Screening is not substantiation: local airworthiness rules and licensed people decide."


def flutter(
    drawing: Annotated[Path, typer.Argument(help="The blade's TOML file.", exists=True, dir_okay=False)],
    paint: Annotated[
        str, typer.Option(help='An owner repainted one blade: what the coat weighs, like "110 g/m^2".')
    ] = "",
    front: Annotated[str, typer.Option(help="Where on the chord that coat begins.")] = "0 %",
    back: Annotated[str, typer.Option(help="Where on the chord it ends.")] = "100 %",
    inner: Annotated[str, typer.Option(help='Radius where it begins, like "1.2 m". Without: the inner end.')] = "",
    outer: Annotated[str, typer.Option(help="Radius where it ends. Without: the tip.")] = "",
    json: showing.Json = False,
) -> None:
    """How far aft the mass centre may move before flutter or divergence, and what paint, tape, a lost weight do to it.

    Exit code 1 unless every rule passes.

    Examples: **bladewright flutter fm31.toml** or **bladewright flutter fm31.toml --paint "110 g/m^2" --front "25 %"**
    """
    from bladewright.cli.asking import about_drawing
    from bladewright.design.flutter_margin import as_drawn, flutter_margin
    from bladewright.design.repaint import repainted
    from bladewright.drawing.file import read_drawing
    from bladewright.drawing.limits import AddedMass
    from bladewright.figures import Outcome, worst_of
    from bladewright.typed import validated

    read = read_drawing(drawing)
    coats: tuple[AddedMass, ...] = ()
    if paint:
        places = {"front": front, "back": back, "inner": inner, "outer": outer}
        table = {"name": "the repaint", "area_density": paint} | {name: at for name, at in places.items() if at}
        coats = (validated(AddedMass, table, "command line", "a coat of paint"),)
    with about_drawing(drawing, ("paint",)):
        answer = flutter_margin(read, coats)
        coated = [repainted(read, coat) for coat in coats]
    findings = (*answer.findings, *(finding for one in coated for finding in one.findings))
    missing = (*answer.missing, *(gap for one in coated for gap in one.missing))
    figures = [figure for one in coated for figure in one.figures]
    if json:
        showing.as_json(
            {
                "margin": showing.figures_as_json(answer.figures),
                "repaint": showing.figures_as_json(figures),
                "findings": findings,
                "missing": missing,
            }
        )
    else:
        showing.lines(as_drawn(answer))
        showing.answer_line(findings, missing)
        showing.findings_table(findings, "Judged, the nearest first")
        showing.missing_lines(missing)
        showing.figures_table(answer.figures, "How far from flutter and divergence")
        if coats:
            showing.figures_table(figures, "The repainted blade against its mate")
        showing.lines(
            "Screening is not substantiation: local airworthiness rules and licensed people decide. " + showing.CAUTION
        )
    if missing or worst_of(findings) is not Outcome.PASS:
        raise typer.Exit(1)
