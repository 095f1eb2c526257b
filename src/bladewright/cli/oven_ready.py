"""May the oven be used today: survey, sensor checks and calibrations."""

from pathlib import Path
from typing import Annotated

import typer

from bladewright.cli import booked, showing


def oven_ready(
    oven: Annotated[Path, typer.Argument(help="The oven's TOML file.", exists=True, dir_okay=False)],
    logger: Annotated[
        Path,
        typer.Option(
            "--logger", "--description", help="The logger description: its mould sensors.", exists=True, dir_okay=False
        ),
    ],
    calibration: Annotated[list[Path] | None, typer.Option(help="A sensor's calibration; once for each.")] = None,
    on: Annotated[str, typer.Option(help="The day of use, like 2026-07-13. Left out: today.")] = "",
    json: showing.Json = False,
) -> None:
    """Whether survey, sensor checks and calibrations hold on a day. Overdue blocks use: exit code 1.

    Example: **bladewright oven-ready oven.toml --logger logger.toml --calibration tc-4.toml --on 2026-07-13**
    """
    from bladewright.evidence.calibration import read_calibration
    from bladewright.evidence.description import read_logger_description
    from bladewright.evidence.oven_file import read_oven
    from bladewright.figures import Outcome
    from bladewright.proof.oven_ready import PRACTICE
    from bladewright.proof.oven_ready import oven_ready as judged

    read = read_oven(oven)
    how = read_logger_description(logger)
    channels = [form.name or str(form.column) for form in how.columns if form.role == "mould"]
    day = booked.day(on, "on") or booked.now().astimezone().date()
    findings = judged(read, channels, day, [read_calibration(path) for path in calibration or []])
    if json:
        showing.as_json(findings)
    else:
        showing.findings_table(findings, f"{read.name} on {day.isoformat()}")
        showing.lines(f"By {PRACTICE}. " + showing.CAUTION)
    if any(finding.outcome is not Outcome.PASS for finding in findings):
        raise typer.Exit(1)
