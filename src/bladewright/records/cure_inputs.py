"""What a cure is held to and read by before any blade names it: approved drawings with limits, the newest logger."""

from dataclasses import dataclass

from bladewright.drawing.file import BladeDrawing
from bladewright.drawing.limits import CureLimits
from bladewright.errors import MissingInput
from bladewright.evidence.description import LoggerDescription, parse_logger_description
from bladewright.records.drawings import approved
from bladewright.records.drawings import read_filed as read_drawing
from bladewright.records.evidence import CURE
from bladewright.records.keeping import kept
from bladewright.records.ready import models


@dataclass(frozen=True, slots=True, eq=False)
class CureDrawing:
    """An approved drawing revision that says how a cure is judged."""

    name: str
    revision: str
    sha256: str
    limits: CureLimits
    drawing: BladeDrawing


def cure_drawings() -> tuple[CureDrawing, ...]:
    """The newest approved revision of each drawing that has limits for a cure, the newest first."""
    rows = models.Drawing.objects.select_related("file").filter(approval__isnull=False).order_by("-id")
    newest: dict[str, models.Drawing] = {}
    for row in rows:
        newest.setdefault(row.name, row)
    found = [(row, read_drawing(row)) for row in newest.values()]
    return tuple(
        CureDrawing(row.name, row.revision, row.file.sha256, drawing.limits.cure, drawing)
        for row, drawing in found
        if drawing.limits.cure is not None
    )


def cure_drawing(name: str, revision: str) -> CureDrawing:
    """One approved revision; ``MissingInput`` where it says nothing of a cure."""
    row = approved(name, revision)
    drawing = read_drawing(row)
    if drawing.limits.cure is None:
        raise MissingInput(
            "has no cure limits", file=row.file.name, field="limits.cure", fix="add a [limits.cure] table"
        )
    return CureDrawing(name, revision, row.file.sha256, drawing.limits.cure, drawing)


def newest_logger() -> LoggerDescription | None:
    """The logger description that the newest filed cure was read by."""
    row = models.Evidence.objects.select_related("description").filter(kind=CURE).order_by("-id").first()
    if row is None or row.description is None:
        return None
    return parse_logger_description(kept(row.description), row.description.name)


def newest_cure() -> int:
    """The number of the event that filed the newest cure; 0 where none is on file."""
    row = models.Evidence.objects.filter(kind=CURE).order_by("-id").values_list("event_id", flat=True).first()
    return row or 0
