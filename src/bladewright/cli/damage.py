"""Damage found on a blade: what the entered limits say, and how much worse it is than a clean blade."""

from enum import StrEnum
from pathlib import Path
from typing import Annotated

import typer

from bladewright.cli import showing

OPTIONS = ("station", "depth", "along", "across", "thickness", "chordwise", "root_radius", "uncertainty")


class Kind(StrEnum):
    """What was found."""

    NICK = "nick"
    DENT = "dent"
    VOID = "void"
    BONDLINE = "bondline"


def damage(
    drawing: Annotated[Path, typer.Argument(help="The blade's TOML file.", exists=True, dir_okay=False)],
    kind: Annotated[Kind, typer.Argument(help="What was found.")],
    station: Annotated[str, typer.Option(help='Where along the span: "0.75R" or "2.66 m".')],
    depth: Annotated[str, typer.Option(help='Of a nick or dent, like "0.4 mm".')] = "",
    along: Annotated[str, typer.Option(help="Of a void, along the span.")] = "",
    across: Annotated[str, typer.Option(help="Of a void, across the chord.")] = "",
    thickness: Annotated[str, typer.Option(help='Of the bondline, like "0.007 in".')] = "",
    chordwise: Annotated[str, typer.Option(help='Place on the chord, like "10 %"; left out, every zone counts.')] = "",
    root_radius: Annotated[str, typer.Option(help="Of a nick's bottom; left out, the sharpest counts.")] = "",
    uncertainty: Annotated[str, typer.Option(help="Of every size told (k = 2).")] = "",
    json: showing.Json = False,
) -> None:
    """What the entered limits say of a nick, dent, void or bondline; a calculation may only tighten it.

    Ends with 0 within the entered limit where the calculation could be asked, with 1 otherwise.

    Examples: **bladewright damage fm31.toml nick --depth "0.4 mm" --station 0.75R --chordwise "0 %"**,
    **bladewright damage fm31.toml void --along "40 mm" --across "12 mm" --station 0.9R**
    """
    from bladewright.cli.asking import about_drawing
    from bladewright.design.damage import damage_answer
    from bladewright.design.damage_place import Damage, share_of, size_of, station_of
    from bladewright.drawing.file import read_drawing
    from bladewright.figures import Outcome

    drawn = read_drawing(drawing)
    with about_drawing(drawing, OPTIONS):
        answer = damage_answer(
            drawn,
            Damage(
                kind.value,
                station_of(station, drawn),
                share_of(chordwise, "chordwise"),
                depth=size_of(depth, "depth"),
                along=size_of(along, "along"),
                across=size_of(across, "across"),
                thickness=size_of(thickness, "thickness"),
                root_radius=size_of(root_radius, "root_radius"),
                uncertainty=size_of(uncertainty, "uncertainty"),
            ),
        )
    if json:
        showing.as_json(
            {
                "question": answer.question,
                "answer": answer.word,
                "findings": answer.findings,
                "figures": showing.figures_as_json(answer.figures),
                "missing": answer.missing,
                "not told": answer.not_told,
                "who may decide": answer.who,
                "what would change this": answer.would_change,
            }
        )
    else:
        loud = answer.outcome is not Outcome.PASS
        showing.lines(answer.question)
        showing.lines(answer.word.value.upper() if loud else answer.word.value)
        showing.findings_table(answer.findings, "Against the entered limits")
        for source in dict.fromkeys(finding.limit_source for finding in answer.findings):
            showing.lines(f"limits from: {source}")
        showing.figures_table(answer.figures, "Inputs used, and how much worse it is than a clean blade")
        for gap in answer.not_told:
            showing.lines(f"not told: {gap}")
        showing.missing_lines(answer.missing)
        showing.lines(f"Who may decide: {answer.who}.")
        showing.lines(f"What would change this: {'; '.join(answer.would_change)}.")
        showing.lines("No inspection method measures bond strength. " + showing.CAUTION)
    if answer.outcome is not Outcome.PASS:
        raise typer.Exit(1)
