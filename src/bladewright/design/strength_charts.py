"""The least margins of safety side by side."""

from bladewright.design.strength_case import StrengthCase
from bladewright.figures import Axis, Bars

SHOWN = 12  # the least; all of them stand in the table of margins
NOTE = "The least margin of each check in its worst case and place; below nought it fails. All stand in the table."


def strength_charts(found: StrengthCase) -> tuple[Bars, ...]:
    """The least margins, the least on top; none where there are none."""
    rows = tuple((f"{margin.check}, {margin.case}", margin.value) for margin in found.margins[:SHOWN])
    axis = Axis("margin of safety")
    return (Bars("strength-margins", "The least margins of safety", axis, rows, NOTE),) if rows else ()
