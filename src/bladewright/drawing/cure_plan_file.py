"""The plan of a cure as a shop keeps it: for which drawing revision, and what a person sets at the controller."""

from typing import Annotated

from pydantic import Field, StringConstraints

from bladewright.drawing.oven import CureSchedule
from bladewright.drawing.quantities import Record
from bladewright.typed import toml_table, validated

Words = Annotated[str, StringConstraints(strip_whitespace=True, min_length=1)]


class CurePlanFile(Record):
    """A schedule that was planned for blades of one drawing revision."""

    format: int = Field(ge=1, le=1)
    drawing: Words
    revision: Words
    schedule: CureSchedule


def parse_cure_plan(data: bytes, file: str) -> CurePlanFile:
    """The plan in the bytes of a TOML file; ``SeveralBadInputs`` names everything wrong."""
    return validated(CurePlanFile, toml_table(data, file), file, "a cure plan")
