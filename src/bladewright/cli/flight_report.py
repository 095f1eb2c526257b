"""The flight report of a drawing: a page for the screen and a PDF."""

from pathlib import Path
from typing import Annotated

import typer

from bladewright.cli import showing

PAPER = "flight-report.pdf"


def flight_report(
    drawing: Annotated[Path, typer.Argument(help="The blade's TOML file.", exists=True, dir_okay=False)],
    out: Annotated[Path, typer.Option(help="The folder to write; its files of the same names are written again.")],
    json: showing.Json = False,
) -> None:
    """What the drawing does in the hand and in the air: a page to look at (index.html) and a PDF of the same figures.

    Example: **bladewright flight-report fm31.toml --out report**
    """
    from bladewright import __version__
    from bladewright.cli import booked
    from bladewright.design.flight_report import flight_report as reported
    from bladewright.drawing.file import parse_drawing
    from bladewright.figures import digest
    from bladewright.papers.report import Report, report_pdf
    from bladewright.papers.report_page import FILES, report_pages

    booked.refuse_folder(out, (*FILES, PAPER))  # before anything is worked out
    data = drawing.read_bytes()
    read = parse_drawing(data, drawing.name)
    found = reported(read)
    report = Report(
        kind="Flight report",
        stands="an estimate until flown",
        drawing=read.name,
        title=read.title,
        drawing_sha256=digest(data),
        engine_version=__version__,
        dated=booked.today(),
        answers=found.answers,
        findings=found.findings,
        pictures=found.pictures,
        missing=found.missing,
    )
    written = booked.put_folder(out, {**report_pages(report), PAPER: report_pdf(report)})
    if json:
        answers = [
            {
                "question": item.question,
                "told": item.told,
                "figures": showing.figures_as_json(item.figures),
                "missing": item.missing,
            }
            for item in found.answers
        ]
        showing.as_json({"files": written, "answers": answers, "findings": found.findings, "missing": found.missing})
        return
    for item in found.answers:
        showing.lines(f"{item.question}\n  {item.told}")
    showing.missing_lines(found.missing)
    showing.lines(f"{out}: index.html for the screen, {PAPER} for paper. An estimate until flown. " + showing.CAUTION)
