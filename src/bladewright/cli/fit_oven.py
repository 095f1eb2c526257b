"""Fit the oven's entries to a survey of it."""

from pathlib import Path
from typing import TYPE_CHECKING, Annotated

import typer

from bladewright.cli import showing

if TYPE_CHECKING:
    from bladewright.design.oven_fit import FittedSurvey


def fit_oven(
    drawing: Annotated[
        Path, typer.Argument(help="The blade's TOML file: where the search begins.", exists=True, dir_okay=False)
    ],
    survey: Annotated[Path, typer.Argument(help="The survey's log.", exists=True, dir_okay=False)],
    description: Annotated[
        Path,
        typer.Option(
            "--description",
            "--logger",
            help="The logger description that says what its columns are.",
            exists=True,
            dir_okay=False,
        ),
    ],
    out: Annotated[Path | None, typer.Option(help="The fitted oven's file, for plan-cure and cure-cost.")] = None,
    json: showing.Json = False,
) -> None:
    """What a survey tells of the oven: each entry over what was entered, with its uncertainty, and what it cannot tell.

    Example: **bladewright fit-oven fm31.toml survey.csv --description survey-logger.toml --out oven.toml**
    """
    from bladewright.design.oven_fit import fit_oven as fitted
    from bladewright.drawing.file import read_drawing
    from bladewright.drawing.oven import oven_file
    from bladewright.errors import MissingInput
    from bladewright.evidence.cure_log import read_cure_log
    from bladewright.evidence.description import read_logger_description
    from bladewright.records.placing import put, refuse_other_than_file

    if out is not None:
        refuse_other_than_file(out)
    read = read_drawing(drawing)
    limits = read.limits.cure
    if read.oven is None:
        raise MissingInput("has no oven to begin from", file=drawing.name, field="oven", fix="add an [oven] table")
    if limits is None or limits.sensor_uncertainty is None:
        raise MissingInput(
            "does not say how well a sensor is known",
            file=drawing.name,
            field="limits.cure.sensor_uncertainty",
            fix="enter it with its unit",
        )
    log = read_cure_log(survey, read_logger_description(description))
    answer = fitted(read.oven, log, limits.sensor_uncertainty)
    if out is not None:
        put(out, oven_file("fitted", answer.entries))
    if json:
        showing.as_json(
            {
                "driven by": answer.driven_by,
                "factors over what was entered": showing.figures_as_json(answer.factors),
                "misfit": showing.figures_as_json([answer.misfit]),
                "not told by the survey": answer.not_told,
                "file": str(out) if out else None,
            }
        )
        return
    _print(answer, out)


def _print(answer: "FittedSurvey", out: Path | None) -> None:
    showing.figures_table(answer.factors, f"Each entry over what was entered; driven by {answer.driven_by}")
    showing.figures_table([answer.misfit], "What the model misses")
    if answer.not_told:
        showing.lines(f"not told by this survey, and as uncertain as before: {', '.join(answer.not_told)}")
    if out is not None:
        showing.lines(f"{out}: written. Give it to plan-cure and cure-cost with --oven.")
    showing.lines("A survey speaks for the mould as it was loaded and where its probes lay. " + showing.CAUTION)
