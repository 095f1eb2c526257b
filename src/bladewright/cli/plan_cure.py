"""The plan of a cure and its run card."""

from pathlib import Path
from typing import TYPE_CHECKING, Annotated

import typer

from bladewright.cli import showing

if TYPE_CHECKING:
    from bladewright.making.run_card import RunCard

PAPER = "run-card.pdf"


def plan_cure(
    drawing: Annotated[Path, typer.Argument(help="The blade's TOML file.", exists=True, dir_okay=False)],
    oven: Annotated[
        Path | None, typer.Option(help="A fitted oven's file, instead of the drawing's.", exists=True, dir_okay=False)
    ] = None,
    card: Annotated[Path | None, typer.Option(help="A folder to write the run card into.")] = None,
    json: showing.Json = False,
) -> None:
    """The quickest ramp, stay and cool-down that keep every entered limit in every zone, with a margin.

    Exit code 1 when no plan keeps them all. It commands nothing: a person sets the controller.

    Example: **bladewright plan-cure fm31.toml --card run-card**
    """
    from bladewright import __version__
    from bladewright.cli import booked
    from bladewright.drawing.file import parse_drawing
    from bladewright.drawing.oven import read_oven
    from bladewright.figures import digest
    from bladewright.making.cure_plan import plan_cure as planned
    from bladewright.making.run_card import run_card

    if card is not None:
        booked.refuse_folder(card, (PAPER,))  # before anything is worked out
    data = drawing.read_bytes()
    read = parse_drawing(data, drawing.name)
    plan = planned(read, read_oven(oven) if oven else None)
    made = run_card(read, plan)
    written: list[str] = []
    if card is not None:
        from bladewright.papers.run_card import RunCardPaper, run_card_pdf

        paper = RunCardPaper(made, read.title, digest(data), __version__, booked.now())
        written = booked.put_folder(card, {PAPER: run_card_pdf(paper)})
    if json:
        showing.as_json(
            {
                "meets all": plan.meets_all,
                "set points": showing.figures_as_json(made.set_points),
                "expected": showing.figures_as_json(made.expected),
                "findings": made.findings,
                "before heat": made.before,
                "if": made.otherwise,
                "not asked": made.not_asked,
                "rests": made.rests,
                "files": written,
            }
        )
    else:
        _print(made, written)
    if not plan.meets_all:
        raise typer.Exit(1)


def _print(card: "RunCard", written: list[str]) -> None:
    showing.lines(card.told)
    showing.figures_table(card.set_points, "Set points")
    showing.figures_table(card.expected, "What to expect")
    showing.findings_table(card.findings, "Held to every entered limit, in the worst credible run")
    showing.lines("Before heat: " + "; ".join(check.what for check in card.before))
    for field in card.not_asked:
        showing.lines(f"not asked: {field} is not entered, so the plan does not keep it")
    showing.lines("Rests on: " + "; ".join(str(rest) for rest in card.rests))
    for name in written:
        showing.lines(f"{name}: written")
    showing.lines("It commands no heater: interlocks are independent hardware. " + showing.CAUTION)
