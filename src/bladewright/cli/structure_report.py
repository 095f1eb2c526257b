"""Does it stay in one piece: a page for the screen and a PDF."""

from pathlib import Path
from typing import Annotated

import typer

from bladewright.cli import showing


def structure_report(
    drawing: Annotated[Path, typer.Argument(help="The blade's TOML file.", exists=True, dir_okay=False)],
    out: Annotated[Path, typer.Option(help="The folder to write; its files of the same names are written again.")],
    json: showing.Json = False,
) -> None:
    """Does it stay in one piece: frequencies, flutter, strength, life and damage on one page (index.html) and in a PDF.

    Example: **bladewright structure-report fm31.toml --out structure**
    """
    from bladewright import __version__
    from bladewright.cli import booked
    from bladewright.cli.asking import about_drawing
    from bladewright.design.one_piece import one_piece
    from bladewright.drawing.file import parse_drawing
    from bladewright.figures import digest
    from bladewright.papers.report import report_pdf
    from bladewright.papers.report_page import FILES, report_pages
    from bladewright.papers.structure import DECIDES, PAPER
    from bladewright.papers.structure import structure_report as laid_out

    booked.refuse_folder(out, (*FILES, PAPER))  # before anything is worked out
    data = drawing.read_bytes()
    read = parse_drawing(data, drawing.name)
    with about_drawing(drawing):
        found = one_piece(read)
    report = laid_out(read, found, sha256=digest(data), engine_version=__version__, dated=booked.today())
    written = booked.put_folder(out, {**report_pages(report), PAPER: report_pdf(report)})
    if json:
        showing.as_json(
            {
                "files": written,
                "outcome": found.outcome,
                "parts": [
                    {"name": part.name, "outcome": part.outcome, "told": part.told, "next": part.next_step}
                    for part in found.parts
                ],
                "findings": found.findings,
                "missing": found.missing,
            }
        )
        return
    showing.lines(f"{found.question} {found.word.upper()}")
    rows = [(showing.MARKS[part.outcome.value], part.name, part.told_with_next) for part in found.parts]
    showing.table(("", "part", "what governs it, and what to do next"), rows)
    showing.lines(f"Who decides: {DECIDES}.")
    showing.missing_lines(found.missing)
    showing.lines(f"{out}: index.html for the screen, {PAPER} for paper. " + showing.CAUTION)
