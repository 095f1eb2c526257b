"""The report of one drawing: one record, printed as a PDF and laid out as a folder for the screen."""

import datetime
from dataclasses import dataclass
from typing import Any

from bladewright.figures import Answered, Bars, Chart, Figure, Finding, Missing, Outcome
from bladewright.papers import wording
from bladewright.papers.frame import mark_counts
from bladewright.papers.pictures import Pictures
from bladewright.papers.printed_chart import bars_words, chart_words, printed_bars, printed_chart
from bladewright.papers.typeset import pdf

#: what an answer to the whole means for the box it stands in
_WEIGHT = {Outcome.PASS: "yes", Outcome.REFER: "wait", Outcome.MISSING: "wait", Outcome.FAIL: "no"}


@dataclass(frozen=True, slots=True)
class WholePart:
    """One part of the whole answer."""

    name: str
    outcome: Outcome  # its worst
    told: str  # what governs it
    next_step: str = ""  # empty where nothing is to be done


@dataclass(frozen=True, slots=True)
class Whole:
    """One answer to everything in the report, and what each part of it comes to."""

    question: str
    word: str
    outcome: Outcome
    parts: tuple[WholePart, ...]
    cautions: tuple[str, ...] = ()  # that must not be pages away
    decides: str = ""  # who says what becomes of it
    foremost: tuple[Finding, ...] = ()  # margins beside it; every one stands folded, or at the end on paper


@dataclass(frozen=True, slots=True)
class Report:
    """Everything a report shows; nothing is worked out here."""

    kind: str  # "Flight report"; its file is named after it
    stands: str  # what stands on every page of it: "an estimate until flown"
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
    whole: Whole | None = None

    @property
    def figures(self) -> tuple[Figure, ...]:
        """Every figure of every answer."""
        return tuple(figure for answer in self.answers for figure in answer.figures)

    @property
    def paper(self) -> str:
        """The name of its file on paper."""
        return f"{self.kind.lower().replace(' ', '-')}.pdf"


def report_pdf(report: Report) -> bytes:
    """The report as PDF/A-2a and PDF/UA-1; the same report always gives the same bytes."""
    pictures = Pictures()
    ordered = wording.worst_first(report.findings)
    data: dict[str, Any] = {
        "kind": report.kind,
        "title": f"{report.kind} {report.drawing}",
        "description": f"{wording.STANDING}.",
        "keywords": [report.drawing, report.kind.lower()],
        "running": f"{report.drawing} · {report.stands}",
        "standing": wording.STANDING,
        "shop": report.title or report.drawing,
        "book": "",
        "head": "",
        "demo": report.demo,
        "facts": [
            ("Drawing", report.drawing),
            ("Dated", report.dated.date().isoformat()),
            ("Engine", report.engine_version),
        ],
        "whole": whole_data(report),
        "margins": wording.margin_rows(ordered if report.whole else ()),
        "foremost": wording.margin_rows(report.whole.foremost if report.whole else ()),
        "marks": mark_counts(report.figures),
        "asked": [answer_data(answer) for answer in asked(report)],
        "answers": [answer_data(answer) for answer in report.answers],
        "findings": [wording.finding_row(finding, ()) for finding in judged(report)],
        "counts": wording.counts(report.findings) + ("; what passed stands under Every margin" if report.whole else ""),
        "pictures": [_picture(pictures, picture) for picture in report.pictures],
        "missing": [str(gap) for gap in report.missing],
        "cautions": wording.CAUTIONS,
        "hash": report.drawing_sha256,
    }
    return pdf("report.typ", data, pictures.files, report.dated)


def judged(report: Report) -> list[Finding]:
    """What is told at length, the worst first: everything, or what did not pass where every margin has its line."""
    ordered = wording.worst_first(report.findings)
    return [one for one in ordered if one.outcome is not Outcome.PASS] if report.whole else ordered


def asked(report: Report) -> tuple[Answered, ...]:
    """Every question, but for those the box on the first page has answered in the same words."""
    told = {part.told for part in report.whole.parts} if report.whole else set()
    return tuple(answer for answer in report.answers if answer.told not in told)


def answer_data(answer: Answered) -> dict[str, Any]:
    """One question with its sentence, its figures and what it waits for."""
    return {
        "question": answer.question,
        "told": answer.told,
        "figures": [wording.figure_row(figure) for figure in answer.figures],
        "missing": [str(gap) for gap in answer.missing],
    }


def whole_data(report: Report) -> dict[str, Any] | None:
    """The answer to everything, as the box on the first page shows it; None where the report has none."""
    whole = report.whole
    if whole is None:
        return None
    return {
        "question": whole.question,
        "word": whole.word,
        "weight": _WEIGHT[whole.outcome],
        "cautions": list(whole.cautions),
        "decides": whole.decides,
        "parts": [
            {"name": part.name, "outcome": part.outcome.value, "told": part.told, "next": part.next_step}
            for part in whole.parts
        ],
    }


def _picture(pictures: Pictures, picture: Chart | Bars) -> dict[str, Any]:
    if isinstance(picture, Bars):
        return pictures.add(picture.title, printed_bars(picture), bars_words(picture), picture.note)
    return pictures.add(picture.title, printed_chart(picture), chart_words(picture), picture.note)
