"""What a fault in the cure took, and what would settle it."""

from pathlib import Path
from typing import TYPE_CHECKING, Annotated

import typer

from bladewright.cli import showing

if TYPE_CHECKING:
    from bladewright.drawing.cure_entries import OvenEntries
    from bladewright.drawing.file import BladeDrawing
    from bladewright.proof.cure_cost import CureCost


def cure_cost(
    drawing: Annotated[Path, typer.Argument(help="The blade's TOML file.", exists=True, dir_okay=False)],
    zone: Annotated[int | None, typer.Option(help="The zone it happened to: 1 to 3 top, 4 to 6 bottom.")] = None,
    dead_after: Annotated[str | None, typer.Option(help='Its heater died so long into the dwell: "40 min".')] = None,
    low: Annotated[str | None, typer.Option(help='It was kept too cold by so much, all run long: "3 K".')] = None,
    power_cut_after: Annotated[str | None, typer.Option(help="The power went so long into the dwell.")] = None,
    power_cut_for: Annotated[str | None, typer.Option(help="It was off so long; else it never came back.")] = None,
    pressure_late: Annotated[str | None, typer.Option(help="Pressure came on so long after heat did.")] = None,
    pressure_lost_after: Annotated[str | None, typer.Option(help="Pressure was lost so long into the dwell.")] = None,
    log: Annotated[
        Path | None, typer.Option(help="A finished log, instead of a told fault.", exists=True, dir_okay=False)
    ] = None,
    description: Annotated[
        Path | None,
        typer.Option(
            "--description", "--logger", help="The logger description of that log.", exists=True, dir_okay=False
        ),
    ] = None,
    oven: Annotated[
        Path | None, typer.Option(help="A fitted oven's file, instead of the drawing's.", exists=True, dir_okay=False)
    ] = None,
    json: showing.Json = False,
) -> None:
    """The lowest credible degree of cure along the blade after a fault, with bounds; what would settle it; who decides.

    Exit code 1 unless every rule passes, which after a fault none does: it is never reckoned away.

    Example: **bladewright cure-cost fm31.toml --zone 4 --dead-after "40 min"**
    """
    from bladewright.drawing.file import read_drawing
    from bladewright.drawing.oven import read_oven
    from bladewright.figures import Outcome

    told = {
        "dead_after": dead_after,
        "power_cut_after": power_cut_after,
        "power_cut_for": power_cut_for,
        "pressure_late": pressure_late,
        "pressure_lost_after": pressure_lost_after,
    }
    read, fitted = read_drawing(drawing), read_oven(oven) if oven else None
    if log is not None:
        _refuse_both(zone, low, *told.values())
        answer = _of_log(read, log, description, fitted)
    else:
        from bladewright.proof.cure_fault import CureFault, cost_of_fault

        spans = {name: _si(name, text, "time") for name, text in told.items() if text is not None}
        cold = None if low is None else _si("low", low, "temperature difference")
        answer = cost_of_fault(read, CureFault(zone=zone, low=cold, **spans), fitted)
    if json:
        showing.as_json(_as_json(answer))
    else:
        _print(answer)
    if any(finding.outcome is not Outcome.PASS for finding in answer.findings):
        raise typer.Exit(1)


def _si(name: str, text: str, kind: str) -> float:
    """What was typed, in SI; a refusal names the option."""
    from bladewright.errors import BadInput
    from bladewright.units import to_si

    try:
        return to_si(text, kind)
    except BadInput as error:
        raise BadInput(error.what, field=name, value=text, allowed=error.allowed, fix=error.fix) from error


def _refuse_both(*told: object) -> None:
    from bladewright.errors import BadInput

    if any(value is not None for value in told):
        raise BadInput(
            "a log says itself what happened",
            field="log",
            allowed="a log, or a told fault",
            fix="leave out --log, or the other options",
        )


def _of_log(drawing: "BladeDrawing", log: Path, description: Path | None, fitted: "OvenEntries | None") -> "CureCost":
    from bladewright.errors import MissingInput
    from bladewright.evidence.cure_log import read_cure_log
    from bladewright.evidence.description import read_logger_description
    from bladewright.proof.cure_course import cost_of_log

    if description is None:
        raise MissingInput(
            "a log needs its logger description",
            field="description",
            fix="add --description logger.toml",
        )
    return cost_of_log(drawing, read_cure_log(log, read_logger_description(description)), fitted)


def _print(answer: "CureCost") -> None:
    from bladewright.figures import spread

    showing.lines(answer.happened)
    showing.lines(answer.told)
    rows = [
        (
            place.name,
            f"{place.lowest.value:.1f}",
            f"{place.middle.value:.1f}",
            f"{place.highest.value:.1f}",
            "-" if place.lost is None else f"{place.lost.value:.1f}",
        )
        for place in answer.places
    ]
    heads = ("along the blade", "lowest credible", "middle", "highest credible", "greatest loss")
    showing.table(heads, rows, "Degree of cure at the end, %")
    first = answer.places[0].lowest
    showing.lines(f"{first.method}; {first.validity}." + ("" if first.validated else " Unvalidated data."))
    showing.findings_table(answer.findings, "Judged")
    showing.lines("What would settle it:")
    for way in answer.settles:
        showing.lines(f"- {way}")
    for figure in answer.would_speak:
        showing.lines(f"- {figure.name}: {figure.value:.0f} {figure.unit} ({spread(figure)}; {figure.validity})")
    showing.lines(f"Who decides: {answer.authority}")
    showing.lines("Rests on: " + "; ".join(str(rest) for rest in answer.rests))
    showing.missing_lines(answer.missing)
    showing.lines(
        "No inspection method measures bond strength. The log shows the tool, not the bondline. " + showing.CAUTION
    )


def _as_json(answer: "CureCost") -> dict[str, object]:
    return {
        "happened": answer.happened,
        "told": answer.told,
        "places": [place.name for place in answer.places],
        "figures": showing.figures_as_json(answer.figures),
        "findings": answer.findings,
        "settles": answer.settles,
        "authority": answer.authority,
        "rests": answer.rests,
        "missing": answer.missing,
    }
