"""The structure report of FM-31, as a page for the screen and on paper; the same bytes every time."""

import datetime

from bladewright import __version__
from bladewright.design.one_piece import OnePiece, one_piece
from bladewright.drawing.file import parse_drawing
from bladewright.figures import digest
from bladewright.papers.report import report_pdf
from bladewright.papers.report_page import report_pages
from bladewright.papers.structure import PAPER, structure_report
from examples.fennmark.flight import DRAWING


def report_files(dated: datetime.datetime) -> tuple[OnePiece, dict[str, bytes]]:
    """Whether the drawn blade stays in one piece, and the files that tell it."""
    data = DRAWING.read_bytes()
    drawing = parse_drawing(data, DRAWING.name)
    found = one_piece(drawing)
    report = structure_report(drawing, found, sha256=digest(data), engine_version=__version__, dated=dated, demo=True)
    return found, {**report_pages(report), PAPER: report_pdf(report)}
