"""Judge one cure log, without a book."""

from pathlib import Path
from typing import Annotated

import typer

from bladewright.cli import showing


def judge_log(
    drawing: Annotated[Path, typer.Argument(help="The blade's TOML file: its limits.", exists=True, dir_okay=False)],
    log: Annotated[Path, typer.Argument(help="The logger's file.", exists=True, dir_okay=False)],
    description: Annotated[
        Path, typer.Option(help="The logger description that says what its columns are.", exists=True, dir_okay=False)
    ],
    oven: Annotated[
        Path | None, typer.Option(help="The oven's file: was it fit for use that day?", exists=True, dir_okay=False)
    ] = None,
    calibration: Annotated[
        list[Path] | None, typer.Option(help="With --oven: a sensor's calibration, once for each; read through it.")
    ] = None,
    part: Annotated[
        list[Path] | None,
        typer.Option(help="The run went on in this file, the logger started again: once for each.", exists=True),
    ] = None,
    recorder: Annotated[
        list[Path] | None,
        typer.Option(help="Another recorder's log of the run, of the same description: once for each.", exists=True),
    ] = None,
    json: showing.Json = False,
) -> None:
    """Judge a cure log by every rule and zone. Nothing is recorded. Exit code 1 unless every rule passes.

    Calibrations correct the readings where the oven's file says what its logger adds ([logger]).

    The pause between parts stays a hole; of several recorders the worse of each rule stands, and they must agree.

    Example: **bladewright judge-log fm31.toml cure-0107.csv --description logger.toml**
    """
    import functools
    import zoneinfo

    from bladewright.drawing.file import read_drawing
    from bladewright.errors import MissingInput
    from bladewright.evidence.calibration import read_calibration
    from bladewright.evidence.cure_log import read_cure_log
    from bladewright.evidence.description import read_logger_description
    from bladewright.evidence.joined import joined
    from bladewright.evidence.oven_file import read_oven
    from bladewright.figures import Outcome
    from bladewright.proof.calibrated import judge_calibrated_cure
    from bladewright.proof.cure import judge_cure
    from bladewright.proof.oven_ready import oven_was_ready
    from bladewright.proof.two_recorders import judge_recorders

    limits = read_drawing(drawing).limits.cure
    if limits is None:
        raise MissingInput(
            "has no cure limits", file=drawing.name, field="limits.cure", fix="add a [limits.cure] table"
        )
    form = read_logger_description(description)
    parts, others = ([read_cure_log(path, form) for path in paths or []] for paths in (part, recorder))
    read = read_cure_log(log, form)
    read = joined([read, *parts]) if parts else read
    known = [read_calibration(path) for path in calibration or []]
    used = None if oven is None else read_oven(oven)
    judge = judge_cure
    if known and used is not None and used.instrument is not None:
        judge = functools.partial(judge_calibrated_cure, calibrations=known, instrument=used.instrument)
    findings = judge_recorders([read, *others], limits, judge) if others else judge(read, limits)
    if used is not None:
        findings = (*findings, *oven_was_ready(read, used, known))
    if json:
        showing.as_json(findings)
    else:
        showing.findings_table(findings, log.name, zoneinfo.ZoneInfo(read.zone))
        showing.lines("The log shows the tool, not the bondline. " + showing.CAUTION)
    if any(finding.outcome is not Outcome.PASS for finding in findings):
        raise typer.Exit(1)
