"""The run card of one plan as a PDF, with boxes to tick and lines to sign."""

import datetime
from dataclasses import dataclass
from typing import Any

from bladewright.making.run_card import RunCard
from bladewright.papers import wording
from bladewright.papers.frame import mark_counts, signature_rows
from bladewright.papers.pictures import Pictures
from bladewright.papers.printed_chart import chart_words, printed_chart
from bladewright.papers.typeset import pdf

ACTS = ("checked before heat", "started", "watched", "ended")
#: written down by hand while it runs
WRITTEN = (
    "serial", "run number", "bladder test: first and second reading", "pressure on at", "heat on at",
    "slowest mould sensor in the band at", "heat off at", "pressure off at", "remarks",
)  # fmt: skip


@dataclass(frozen=True, slots=True)
class RunCardPaper:
    """A card, and which drawing and engine it came from."""

    card: RunCard
    title: str
    drawing_sha256: str
    engine_version: str
    dated: datetime.datetime  # aware
    demo: bool = False


def run_card_pdf(paper: RunCardPaper) -> bytes:
    """The card as PDF/A-2a and PDF/UA-1; the same card always gives the same bytes."""
    card, pictures = paper.card, Pictures()
    data: dict[str, Any] = {
        "kind": "Run card",
        "title": f"Run card {card.drawing}",
        "description": f"{wording.STANDING}.",
        "keywords": [card.drawing, "run card", "cure"],
        "running": f"{card.drawing} · a plan, not a record",
        "standing": wording.STANDING,
        "shop": paper.title or card.drawing,
        "book": "",
        "head": "",
        "demo": paper.demo,
        "facts": [
            ("Drawing", card.drawing),
            ("Dated", paper.dated.date().isoformat()),
            ("Engine", paper.engine_version),
        ],
        "told": card.told,
        "usable": card.meets_all,
        "before": [(check.what, check.how) for check in card.before],
        "points": [(figure.name, wording.value_text(figure)) for figure in card.set_points],
        "expected": [(figure.name, wording.value_text(figure)) for figure in card.expected],
        "otherwise": [(item.happens, item.do) for item in card.otherwise],
        "written": WRITTEN,
        "signers": signature_rows((), ACTS),
        "marks": mark_counts((*card.set_points, *card.expected)),
        "rests": [str(rest) for rest in card.rests],
        "not-asked": list(card.not_asked),
        "findings": [wording.finding_row(finding, ()) for finding in wording.worst_first(card.findings)],
        "counts": wording.counts(card.findings),
        "picture": pictures.add(card.chart.title, printed_chart(card.chart), chart_words(card.chart), card.chart.note),
        "cautions": wording.CAUTIONS,
        "hash": paper.drawing_sha256,
    }
    return pdf("card.typ", data, pictures.files, paper.dated)
