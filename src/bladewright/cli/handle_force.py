"""What the pilot will hold at the collective."""

from pathlib import Path
from typing import TYPE_CHECKING, Annotated

import typer

from bladewright.cli import showing

if TYPE_CHECKING:
    from bladewright.design.at_the_handle import HandleForce
    from bladewright.figures import Missing


def handle_force(
    drawing: Annotated[Path, typer.Argument(help="The blade's TOML file.", exists=True, dir_okay=False)],
    collective: Annotated[
        str, typer.Option(help='Collective at 0.75 R, like "6 deg". Without: every condition a set is judged in.')
    ] = "",
    rotor_speed: Annotated[str, typer.Option(help='Rotor speed, like "500 rpm". Without: the normal one.')] = "",
    json: showing.Json = False,
) -> None:
    """Collective handle force with every contribution; positive means the pilot must pull up to hold it ("heavy").

    Examples: **bladewright handle-force fm31.toml** or **bladewright handle-force fm31.toml --collective "6 deg"**
    """
    from bladewright.design.handle_force import collective_handle_force
    from bladewright.design.handle_range import judged_cases
    from bladewright.drawing.file import read_drawing
    from bladewright.units import to_si

    read = read_drawing(drawing)
    gaps: tuple[Missing, ...] = ()
    if collective or rotor_speed:
        angle = to_si(collective, "angle") if collective else None
        speed = to_si(rotor_speed, "rotor speed") if rotor_speed else None
        answers: tuple[HandleForce, ...] = (collective_handle_force(read, angle, speed),)
    else:
        answers, gaps = judged_cases(read)
    if json:
        showing.as_json({"cases": [_as_json(answer) for answer in answers], "missing": gaps})
        return
    for answer in answers:
        _print(answer)
    showing.missing_lines(gaps)
    showing.lines("An estimate until flown. " + showing.CAUTION)


def _as_json(answer: "HandleForce") -> dict[str, object]:
    return {
        "case": answer.case,
        "total": showing.figures_as_json([answer.total]) if answer.total else None,
        "contributions": showing.figures_as_json(answer.contributions),
        "friction": showing.figures_as_json([answer.friction]) if answer.friction else None,
        "rises_by_itself": answer.rises_by_itself,
        "figures": showing.figures_as_json(answer.figures),
        "missing": answer.missing,
    }


def _print(answer: "HandleForce") -> None:
    from bladewright.figures import in_both_units

    total = [answer.total] if answer.total else []
    showing.figures_table([*answer.contributions, *total], f"{answer.case}: at the handle, all blades together")
    if answer.figures:
        showing.lines("with " + ", ".join(f"{figure.name} {in_both_units(figure)}" for figure in answer.figures))
    if answer.friction is not None:
        showing.lines(f"friction: the lever stays put within +/- {in_both_units(answer.friction)}")
    if answer.rises_by_itself:
        showing.lines("THE LEVER RISES BY ITSELF in this case: entered friction and spring do not hold it.")
    showing.missing_lines(answer.missing)
