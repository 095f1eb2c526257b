"""The answer to whether a blade stays in one piece, as a report."""

import datetime
from typing import Final

from bladewright.design.one_piece import OnePiece
from bladewright.drawing.file import BladeDrawing
from bladewright.papers.report import Report, Whole, WholePart

KIND: Final = "Structure report"
CAUTIONS: Final = (
    "Screening is not substantiation: local airworthiness rules and licensed people decide.",
    "A computed life is a design estimate, not a life limit. No inspection method measures bond strength.",
)
DECIDES: Final = "a named person with design authority who did not make the part"
PAPER: Final = "structure-report.pdf"


def structure_report(
    drawing: BladeDrawing,
    found: OnePiece,
    *,
    sha256: str,
    engine_version: str,
    dated: datetime.datetime,
    demo: bool = False,
) -> Report:
    """Every margin of the drawing, its pictures and what is not known, dated with the moment given."""
    parts = tuple(WholePart(part.name, part.outcome, part.told, part.next_step) for part in found.parts)
    return Report(
        kind=KIND,
        stands="screening, not substantiation",
        drawing=drawing.name,
        title=drawing.title,
        drawing_sha256=sha256,
        engine_version=engine_version,
        dated=dated,
        answers=found.answers,
        findings=found.findings,
        pictures=found.pictures,
        missing=found.missing,
        demo=demo,
        whole=Whole(found.question, found.word, found.outcome, parts, CAUTIONS, DECIDES, found.foremost),
    )
