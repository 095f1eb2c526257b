"""Judge zone surveys of an oven, one log each, and show how it drifts."""

from pathlib import Path
from typing import Annotated

import typer

from bladewright.cli import showing


def judge_survey(
    oven: Annotated[Path, typer.Argument(help="The oven's TOML file: its limits.", exists=True, dir_okay=False)],
    logs: Annotated[list[Path], typer.Argument(help="The logs of the surveys.", dir_okay=False)],
    logger: Annotated[
        Path,
        typer.Option("--logger", "--description", help="What the survey logger writes.", exists=True, dir_okay=False),
    ],
    json: showing.Json = False,
) -> None:
    """How evenly an oven heats, by survey sensors in the mould; several show its drift. Exit code 1 unless good.

    Example: **bladewright judge-survey oven.toml survey-4.csv --logger survey-logger.toml**
    """
    import zoneinfo

    from bladewright.evidence.cure_log import read_cure_log
    from bladewright.evidence.description import read_logger_description
    from bladewright.evidence.oven_file import read_oven
    from bladewright.proof.oven_ready import PRACTICE
    from bladewright.proof.zone_survey import capability, days_of
    from bladewright.proof.zone_survey import judge_survey as judged

    read, how = read_oven(oven), read_logger_description(logger)
    found = [read_cure_log(log, how) for log in logs]
    surveys = [judged(log, read.survey_limits, read.limits_source) for log in found]
    over_time = capability(surveys, days_of(found))
    if json:
        showing.as_json({"surveys": surveys, "capability": over_time})
    else:
        for log, survey in zip(found, surveys, strict=True):
            showing.findings_table(survey.findings, f"{survey.file}, {survey.began}", zoneinfo.ZoneInfo(log.zone))
            showing.table(
                ("survey sensor", "coldest", "hottest"),
                (
                    (place.channel, f"{place.coldest.value:+.1f} degF", f"{place.hottest.value:+.1f} degF")
                    for place in survey.places
                ),
                "Of the target, in the soak",
            )
        showing.lines(over_time.told)
        showing.lines(f"By {PRACTICE}. A survey shows the tool it was done in, loaded as it was. " + showing.CAUTION)
    if not all(survey.passed for survey in surveys):
        raise typer.Exit(1)
