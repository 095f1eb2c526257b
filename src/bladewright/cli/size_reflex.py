"""The reflex that gives a chosen handle force."""

from pathlib import Path
from typing import TYPE_CHECKING, Annotated

import typer

from bladewright.cli import showing

if TYPE_CHECKING:
    from bladewright.design.reflex_sizing import SizedReflex
    from bladewright.figures import Figure


def size_reflex(
    drawing: Annotated[Path, typer.Argument(help="The blade's TOML file.", exists=True, dir_okay=False)],
    handle_force: Annotated[str, typer.Option(help='Wanted in hover, pull-up positive, like "2 lbf".')],
    json: showing.Json = False,
) -> None:
    """The finished blade's reflex for a chosen handle force, what the roll must leave, and where the lever would rise.

    Exit code 1 when the lever would rise by itself, or the hand could not bear it, with that reflex.

    Example: **bladewright size-reflex fm31.toml --handle-force "2 lbf"**
    """
    from bladewright.design.reflex_sizing import size_reflex as sized
    from bladewright.drawing.file import read_drawing
    from bladewright.figures import Outcome
    from bladewright.units import to_si

    answer = sized(read_drawing(drawing), to_si(handle_force, "force"))
    if json:
        showing.as_json(_as_json(answer))
    else:
        _print(answer)
    if any(finding.outcome is Outcome.FAIL for finding in answer.effects.range.findings):
        raise typer.Exit(1)


def _figures(answer: "SizedReflex") -> list["Figure"]:
    done = answer.effects
    wanted = (answer.reflex, answer.loose_skin, answer.mould, done.zero_force, *done.window, done.per_degree)
    return [figure for figure in (*wanted, *done.bands, done.range.crosses_zero) if figure is not None]


def _print(answer: "SizedReflex") -> None:
    showing.figures_table(_figures(answer), f"{answer.asked.name}: {answer.asked}")
    totals = [(case.case, str(case.total) if case.total else "not known") for case in answer.effects.range.cases]
    showing.table(("condition", "handle force with that reflex"), totals)
    showing.findings_table(answer.effects.range.findings, "Judged")
    pressure = ((f"{lift:.1f}", f"{place:.1%}") for lift, place in answer.effects.centre_of_pressure[::2])
    showing.table(("lift coefficient", "centre of pressure, of the chord"), pressure)
    showing.missing_lines(answer.missing)
    showing.lines("An estimate until flown. " + showing.CAUTION)


def _as_json(answer: "SizedReflex") -> dict[str, object]:
    return {
        "asked": showing.figures_as_json([answer.asked]),
        "figures": showing.figures_as_json(_figures(answer)),
        "conditions": {
            case.case: showing.figures_as_json([case.total] if case.total else [])
            for case in answer.effects.range.cases
        },
        "findings": answer.effects.range.findings,
        "collective [rad]": answer.effects.range.collective,
        "handle force [N]": answer.effects.range.force,
        "centre of pressure": [
            {"lift coefficient [1]": lift, "from the leading edge [chord fraction]": place}
            for lift, place in answer.effects.centre_of_pressure
        ],
        "missing": answer.missing,
    }
