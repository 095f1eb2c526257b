"""The flight report of FM-31, as a page for the screen and on paper; the same bytes every time."""

import datetime
from pathlib import Path

from bladewright import __version__
from bladewright.design.flight_report import FlightReport, flight_report
from bladewright.drawing.file import parse_drawing
from bladewright.figures import digest
from bladewright.papers.report import Report, report_pdf
from bladewright.papers.report_page import report_pages

DRAWING = Path(__file__).parent / "fm31.toml"
PAPER = "flight-report.pdf"


def report_files(dated: datetime.datetime) -> tuple[FlightReport, dict[str, bytes]]:
    """What is known of the drawing's flight, and the files that tell it."""
    data = DRAWING.read_bytes()
    drawing = parse_drawing(data, DRAWING.name)
    found = flight_report(drawing)
    report = Report(
        kind="Flight report",
        stands="an estimate until flown",
        drawing=drawing.name,
        title=drawing.title,
        drawing_sha256=digest(data),
        engine_version=__version__,
        dated=dated,
        answers=found.answers,
        findings=found.findings,
        pictures=found.pictures,
        missing=found.missing,
        demo=True,
    )
    return found, {**report_pages(report), PAPER: report_pdf(report)}
