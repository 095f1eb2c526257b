"""What a measured departure does in flight."""

from pathlib import Path
from typing import TYPE_CHECKING, Annotated

import typer

from bladewright.cli import showing

if TYPE_CHECKING:
    from bladewright.design.records import Departure
    from bladewright.drawing.file import BladeDrawing


def as_built(
    drawing: Annotated[Path, typer.Argument(help="The blade's TOML file.", exists=True, dir_okay=False)],
    measured: Annotated[
        list[str], typer.Argument(help='Field and measured value: "reflex.angle = 2.31 deg +/- 0.05 deg at 2.5 m".')
    ],
    json: showing.Json = False,
) -> None:
    """What a blade that came out different does in flight, against the drawing.

    Example: **bladewright as-built fm31.toml "reflex.angle = 2.31 deg +/- 0.05 deg"**
    """
    from bladewright.design.as_built import as_built as built
    from bladewright.drawing.file import read_drawing

    drawn = read_drawing(drawing)
    answer = built(drawn, [_departure(drawn, text) for text in measured])
    if json:
        showing.as_json(
            {
                "departures": measured,
                "effects": showing.figures_as_json(answer.effects),
                "missing": answer.missing,
            }
        )
        return
    showing.figures_table(answer.effects, "Against the drawing")
    showing.missing_lines(answer.missing)
    showing.lines("An estimate until flown. " + showing.CAUTION)


def _departure(drawing: "BladeDrawing", text: str) -> "Departure":
    from bladewright.design.records import Departure
    from bladewright.drawing.kinds import kind_of
    from bladewright.errors import BadInput
    from bladewright.units import to_si

    field, equals, value = (part.strip() for part in text.partition("="))
    if not equals or not field or not value:
        raise BadInput(
            "is not a field and a measured value",
            field="measured",
            value=text,
            allowed='"reflex.angle = 2.31 deg +/- 0.05 deg at 2.5 m"; uncertainty and station may be left out',
            fix="put the field of the drawing before the = sign and the value with its unit after it",
        )
    value, _, station = (part.strip() for part in value.partition(" at "))
    value, _, uncertainty = (part.strip() for part in value.partition("+/-"))
    kind = kind_of(drawing, field)
    if kind is None:
        raise BadInput(
            "is not a measured field of this drawing",
            field="measured",
            value=field,
            allowed='an entry of the drawing with a unit, like "reflex.angle", or a dimension of its own list',
            fix="check the spelling, or enter the dimension under limits.dimensions",
        )
    return Departure(
        field,
        to_si(value, kind),
        to_si(uncertainty, kind) if uncertainty else None,
        to_si(station, "length") if station else None,
    )
