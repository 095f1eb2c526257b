"""What one change of the drawing would come to, without changing it."""

from pathlib import Path
from typing import TYPE_CHECKING, Annotated

import typer

from bladewright.cli import showing

if TYPE_CHECKING:
    from bladewright.design.compared import Compared


def compare_change(
    drawing: Annotated[
        Path, typer.Argument(help="The blade's TOML file. It is read and not written.", exists=True, dir_okay=False)
    ],
    changes: Annotated[
        list[str], typer.Argument(help='Field and value as the drawing writes them: "reflex.angle=2.3 deg".')
    ],
    json: showing.Json = False,
) -> None:
    """Compare a change: old, new and difference of every answer for this one run. Nothing is written.

    Example: **bladewright compare-change fm31.toml "reflex.angle=2.3 deg" "tip_weight.mass=0.95 kg"**
    """
    from bladewright.design.compared import compared
    from bladewright.drawing.editing import with_values
    from bladewright.drawing.file import parse_drawing

    data = drawing.read_bytes()
    changed = with_values(data, dict(_change(text) for text in changes), drawing.name)
    answer = compared(parse_drawing(data, drawing.name), parse_drawing(changed, drawing.name))
    if json:
        showing.as_json(
            {
                "changes": changes,
                "moved": [_as_json(row) for row in (*answer.moved, *answer.slightly)],
                "still": showing.figures_as_json(row.new for row in answer.still if row.new),
                "missing": answer.missing,
            }
        )
        return
    showing.table(("answer", "old", "new", "difference"), [_row(row) for row in answer.moved], "What moved")
    if answer.slightly:
        showing.lines(f"moved by less than a thousandth: {', '.join(row.name for row in answer.slightly)}")
    showing.lines(f"did not move: {', '.join(row.name for row in answer.still) or 'nothing'}")
    showing.missing_lines(answer.missing)
    showing.lines("The drawing is as it was. An estimate until flown. " + showing.CAUTION)


def _change(text: str) -> tuple[str, str]:
    from bladewright.errors import BadInput

    field, equals, value = (part.strip() for part in text.partition("="))
    if not equals or not field or not value:
        raise BadInput(
            "is not a field and a value",
            field="changes",
            value=text,
            allowed='"reflex.angle=2.3 deg"',
            fix="put the field of the drawing before the = sign and the value with its unit after it",
        )
    return field, value.strip("\"'")


def _row(row: "Compared") -> tuple[str, str, str, str]:
    from bladewright.figures import in_both_units

    shown = [in_both_units(figure) if figure else "not answered" for figure in (row.old, row.new)]
    return row.name, shown[0], shown[1], in_both_units(row.difference) if row.difference else "-"


def _as_json(row: "Compared") -> dict[str, object]:
    told = (("old", row.old), ("new", row.new), ("difference", row.difference))
    return {"name": row.name} | {name: showing.figures_as_json([figure] if figure else []) for name, figure in told}
