"""Which sensors a log makes suspect, and why."""

from pathlib import Path
from typing import Annotated

import typer

from bladewright.cli import showing


def suspect_sensors(
    drawing: Annotated[Path, typer.Argument(help="The blade's TOML file: its limits.", exists=True, dir_okay=False)],
    log: Annotated[Path, typer.Argument(help="The logger's file.", exists=True, dir_okay=False)],
    logger: Annotated[
        Path,
        typer.Option("--logger", "--description", help="The logger description.", exists=True, dir_okay=False),
    ],
    json: showing.Json = False,
) -> None:
    """Sensors of a log that may be at fault: open, stuck, noisy, swapped, off. Exit code 1 if there is a suspicion.

    A suspicion refers and lifts nothing. What all sensors share is not seen.

    Example: **bladewright suspect-sensors fm31.toml run-072.csv --logger logger.toml**
    """
    import zoneinfo

    from bladewright.drawing.file import read_drawing
    from bladewright.errors import MissingInput
    from bladewright.evidence.cure_log import read_cure_log
    from bladewright.evidence.description import read_logger_description
    from bladewright.figures import where_text
    from bladewright.proof.mould import read_mould
    from bladewright.proof.sensor_faults import LIKELIHOOD
    from bladewright.proof.sensor_faults import suspect_sensors as suspected

    limits = read_drawing(drawing).limits.cure
    if limits is None:
        raise MissingInput(
            "has no cure limits", file=drawing.name, field="limits.cure", fix="add a [limits.cure] table"
        )
    read = read_cure_log(log, read_logger_description(logger))
    if not read.with_role("mould"):
        raise MissingInput(
            "has no mould sensor", file=log.name, field="columns.role", allowed="a channel of the role mould",
            fix="check the roles in the logger description",
        )  # fmt: skip
    found = suspected(read_mould(read, limits))
    if json:
        showing.as_json(found)
    else:
        zone = zoneinfo.ZoneInfo(read.zone)
        showing.table(
            ("likelihood", "suspected", "sensor", "what shows it"),
            (
                (
                    f"{one.likelihood:.2f}",
                    one.kind,
                    ", ".join(one.channels),
                    f"{one.evidence} [{'; '.join(where_text(place, zone) for place in one.where)}]",
                )
                for one in found
            ),
            log.name,
        )
        if not found:
            showing.lines("No mould sensor departs from the others in a way that a sensor fault explains best.")
        showing.lines(LIKELIHOOD + ".")
        showing.lines("A suspicion proves nothing: check the sensor beside a reference. " + showing.CAUTION)
    if found:
        raise typer.Exit(1)
