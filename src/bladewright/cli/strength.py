"""Every margin of safety of the drawn blade, the least first."""

from pathlib import Path
from typing import TYPE_CHECKING, Annotated

import typer

from bladewright.cli import showing

if TYPE_CHECKING:
    from bladewright.design.margins import Margin

SAID = {
    "pass": "every margin asked for was found and holds",
    "refer": "no margin is negative, and a named person decides on what is referred",
    "missing": "no margin is negative, and something could not be asked",
    "fail": "a margin is negative",
}


def strength(
    drawing: Annotated[Path, typer.Argument(help="The blade's TOML file.", exists=True, dir_okay=False)],
    every: Annotated[
        bool, typer.Option("--all", help="Every margin, also those that pass with more to spare.")
    ] = False,
    json: showing.Json = False,
) -> None:
    """Margins of safety in limit and ultimate cases, the least first; ends with 1 unless every check passes.

    Shown are the ten least and whatever does not pass.

    Examples: **bladewright strength fm31.toml**, **bladewright strength fm31.toml --all**
    """
    from bladewright.cli.asking import about_drawing
    from bladewright.design.strength_case import strength_case
    from bladewright.drawing.file import read_drawing
    from bladewright.figures import Outcome

    with about_drawing(drawing):
        answer = strength_case(read_drawing(drawing))
    if json:
        showing.as_json(
            {
                "outcome": answer.outcome,
                "governing": answer.governing and answer.governing.check,
                "margins": answer.findings,
                "figures": showing.figures_as_json(answer.figures),
                "missing": answer.missing,
            }
        )
    else:
        showing.lines(f"Together: {showing.MARKS[answer.outcome.value]}: {SAID[answer.outcome.value]}.")
        if answer.governing is not None:
            showing.lines(f"Governing: {answer.governing.check}: {answer.governing.finding.sentence}.")
            change = answer.governing.finding.would_change or "a thicker part there, or another load case"
            showing.lines(f"What would change this: {change}.")
        for screen in answer.screens:
            if screen.outcome is not Outcome.PASS:
                showing.lines(f"Beside the margins: {screen.rule}: {screen.sentence.partition(':')[0]}.")
        showing.missing_lines(answer.missing)
        shown = answer.margins if every else answer.foremost
        sources = dict.fromkeys(margin.finding.limit_source for margin in shown)
        numbers = {source: str(number) for number, source in enumerate(sources, start=1)}
        showing.table(
            ("", "check", "margin", "case and place", "applied / allowable [MPa]", "source"),
            [_row(margin, numbers) for margin in shown],
            "Margins of safety, the least first",
        )
        for source, number in numbers.items():
            showing.lines(f"{number}: {source}")
        if len(shown) < len(answer.margins):
            showing.lines(f"{len(answer.margins) - len(shown)} more pass with more to spare; --all shows them.")
        showing.findings_table(answer.screens, "Skins between web and seam: screening")
        showing.figures_table(answer.figures, "The loads behind them")
        showing.lines(
            "Who may decide: a named person with design authority; a negative margin cannot be deviated from."
        )
        showing.lines("A computed margin is not a substantiation: local rules and licensed people decide.")
        showing.lines(showing.CAUTION)
    if answer.outcome is not Outcome.PASS:
        raise typer.Exit(1)


def _row(margin: "Margin", numbers: dict[str, str]) -> tuple[str, ...]:
    finding = margin.finding
    return (
        showing.MARKS[finding.outcome.value],
        margin.check,
        f"{margin.value:+.2f}",
        f"{margin.case}, {margin.where}",
        margin.compared,
        numbers[finding.limit_source],
    )
