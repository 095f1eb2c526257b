"""How long each entered detail should last: a design estimate, not a life limit."""

from pathlib import Path
from typing import TYPE_CHECKING, Annotated

import typer

from bladewright.cli import showing

if TYPE_CHECKING:
    from bladewright.design.life import DetailLife


def life(
    drawing: Annotated[Path, typer.Argument(help="The blade's TOML file.", exists=True, dir_okay=False)],
    json: showing.Json = False,
) -> None:
    """Hours and starts of every entered detail: a design estimate, not a life limit; cracks: screening.

    Ends with 1 where something is missing.

    Example: **bladewright life fm31.toml**
    """
    from bladewright.cli.asking import about_drawing
    from bladewright.design.life import ESTIMATE
    from bladewright.design.life import life as estimated
    from bladewright.drawing.file import read_drawing

    with about_drawing(drawing):
        answer = estimated(read_drawing(drawing))
    if json:
        showing.as_json(
            {
                "label": ESTIMATE,
                "details": [_as_json(one) for one in answer.details],
                "figures": showing.figures_as_json(answer.figures),
                "findings": answer.findings,
                "missing": answer.missing,
            }
        )
    else:
        showing.findings_table(answer.findings, f"Life: {ESTIMATE}")
        showing.missing_lines(answer.missing)
        for one in answer.details:
            showing.table(
                ("block", "amplitude [MPa]", "mean [MPa]", "cycles an hour", "share of damage"),
                one.table,
                f"{one.record.detail}: the part's own stress; damage with the detail's factor and knock-downs",
            )
        showing.figures_table(answer.figures, "Hours, starts and cracks")
        for finding in answer.findings[:1]:
            showing.lines(f"What would change this: {finding.would_change}.")
        showing.lines("Who may set a life limit: the holder of the design authority, from tests and flown loads.")
        showing.lines(f"{ESTIMATE.capitalize()}; intervals are screening, not substantiation. {showing.CAUTION}")
    if answer.missing or not answer.details:
        raise typer.Exit(1)


def _as_json(one: "DetailLife") -> dict[str, object]:
    return {
        "name": one.name,
        "detail": one.record.detail,
        "point": one.point.name,
        "radius [m]": one.record.radius,
        "governing block": one.governing,
        "blocks": one.blocks,
        "damage per hour": one.found.damage_per_hour.tolist(),
    }
