"""The flight report of one drawing: one record, printed as a PDF and laid out as a folder for the screen."""

import datetime
from dataclasses import dataclass
from typing import Any

from bladewright.figures import Answered, Bars, Chart, Figure, Finding, Missing
from bladewright.papers import wording
from bladewright.papers.frame import mark_counts
from bladewright.papers.pictures import Pictures
from bladewright.papers.printed_chart import bars_words, chart_words, printed_bars, printed_chart
from bladewright.papers.typeset import pdf


@dataclass(frozen=True, slots=True)
class FlightPaper:
    """Everything a flight report shows; nothing is worked out here."""

    drawing: str
    title: str
    drawing_sha256: str
    engine_version: str
    dated: datetime.datetime  # aware
    answers: tuple[Answered, ...]
    findings: tuple[Finding, ...] = ()
    pictures: tuple[Chart | Bars, ...] = ()
    missing: tuple[Missing, ...] = ()
    demo: bool = False

    @property
    def figures(self) -> tuple[Figure, ...]:
        """Every figure of every answer."""
        return tuple(figure for answer in self.answers for figure in answer.figures)


def flight_pdf(paper: FlightPaper) -> bytes:
    """The report as PDF/A-2a and PDF/UA-1; the same paper always gives the same bytes."""
    pictures = Pictures()
    findings = [wording.finding_row(finding, ()) for finding in wording.worst_first(paper.findings)]
    data: dict[str, Any] = {
        "kind": "Flight report",
        "title": f"Flight report {paper.drawing}",
        "description": f"{wording.STANDING}.",
        "keywords": [paper.drawing, "flight report"],
        "running": f"{paper.drawing} · an estimate until flown",
        "standing": wording.STANDING,
        "shop": paper.title or paper.drawing,
        "book": "",
        "head": "",
        "demo": paper.demo,
        "facts": [
            ("Drawing", paper.drawing),
            ("Dated", paper.dated.date().isoformat()),
            ("Engine", paper.engine_version),
        ],
        "marks": mark_counts(paper.figures),
        "answers": [answer_data(answer) for answer in paper.answers],
        "findings": findings,
        "counts": wording.counts(paper.findings),
        "pictures": [_picture(pictures, picture) for picture in paper.pictures],
        "missing": [str(gap) for gap in paper.missing],
        "cautions": wording.CAUTIONS,
        "hash": paper.drawing_sha256,
    }
    return pdf("flight.typ", data, pictures.files, paper.dated)


def answer_data(answer: Answered) -> dict[str, Any]:
    """One question with its sentence, its figures and what it waits for."""
    return {
        "question": answer.question,
        "told": answer.told,
        "figures": [wording.figure_row(figure) for figure in answer.figures],
        "missing": [str(gap) for gap in answer.missing],
    }


def _picture(pictures: Pictures, picture: Chart | Bars) -> dict[str, Any]:
    if isinstance(picture, Bars):
        return pictures.add(picture.title, printed_bars(picture), bars_words(picture), picture.note)
    return pictures.add(picture.title, printed_chart(picture), chart_words(picture), picture.note)
