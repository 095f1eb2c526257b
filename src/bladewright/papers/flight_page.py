"""The flight report as a folder for the screen: a page, its figures as data, and scripts beside it; never a network.

Opened from a folder a page may not fetch a file, so the figures come as a script that holds nothing but them.
"""

import json
from collections.abc import Iterable
from html import escape
from importlib.resources import files
from string import Template
from typing import Any, Final

from bladewright.figures import Answered, Bars, Chart, Finding
from bladewright.papers import wording
from bladewright.papers.flight import FlightPaper, answer_data
from bladewright.papers.printed_chart import bars_words, chart_words
from bladewright.papers.screen_chart import screen_bars, screen_chart

INDEX: Final = "index.html"
FIGURES: Final = "figures.js"
#: what every report's page has beside it, the same each time
OURS: Final = ("page.js", "page.css")
PLOTTING: Final = "plotly.min.js"
FILES: Final = (INDEX, FIGURES, *OURS, PLOTTING)


def flight_pages(paper: FlightPaper) -> dict[str, bytes]:
    """Every file of the folder by its name."""
    drawn = {picture.name: _drawn(picture) for picture in paper.pictures}
    told = json.dumps(drawn, allow_nan=False, ensure_ascii=True, sort_keys=True)
    room = files("bladewright.papers") / "templates"
    return {
        INDEX: _page(paper).encode(),
        FIGURES: f"window.bladewrightFigures = {told};\n".encode(),
        **{name: (room / name).read_bytes() for name in OURS},
        PLOTTING: (files("plotly") / "package_data" / PLOTTING).read_bytes(),
    }


def _drawn(picture: Chart | Bars) -> dict[str, Any]:
    return screen_bars(picture) if isinstance(picture, Bars) else screen_chart(picture)


def _page(paper: FlightPaper) -> str:
    template = (files("bladewright.papers") / "templates" / "flight.html").read_text(encoding="utf-8")
    return Template(template).substitute(
        name=escape(paper.drawing),
        title=escape(paper.title),
        standing=escape(wording.STANDING),
        demo='<p class="demo">Invented data</p>' if paper.demo else "",
        dated=paper.dated.date().isoformat(),
        engine=escape(paper.engine_version),
        sha256=escape(paper.drawing_sha256),
        answers="".join(_answer(answer) for answer in paper.answers),
        findings=_findings(paper.findings),
        missing=_list((str(gap) for gap in paper.missing), "Every answer asked for was given."),
        pictures="".join(_picture(picture) for picture in paper.pictures),
        figures="".join(_figures(answer) for answer in paper.answers if answer.figures),
        cautions=_list(wording.CAUTIONS, ""),
    )


def _answer(answer: Answered) -> str:
    gaps = "".join(f'<p class="quiet">not answered: {escape(str(gap))}</p>' for gap in answer.missing)
    return f"<article><h3>{escape(answer.question)}</h3><p>{escape(answer.told)}</p>{gaps}</article>\n"


def _findings(findings: Iterable[Finding]) -> str:
    rows = [
        f'<tr><td><span class="mark {row["outcome"]}">{row["outcome"]}</span></td>'
        f"<td><b>{escape(row['rule'])}</b><br>{escape(row['sentence'])}</td>"
        f'<td>{escape(row["limit"])}<br><span class="quiet">{escape(row["source"])}</span></td></tr>\n'
        for row in (wording.finding_row(finding, ()) for finding in wording.worst_first(list(findings)))
    ]
    if not rows:
        return "<p>No rule was judged.</p>"
    head = "<tr><th>Outcome</th><th>Rule and what was found</th><th>Limit and its source</th></tr>"
    return f'<div class="wide"><table><thead>{head}</thead><tbody>{"".join(rows)}</tbody></table></div>'


def _picture(picture: Chart | Bars) -> str:
    words = bars_words(picture) if isinstance(picture, Bars) else chart_words(picture)
    return (
        f'<figure><h3>{escape(picture.title)}</h3><div class="plot" id="{escape(picture.name)}" role="img" '
        f'aria-label="{escape(words)}"></div><figcaption>{escape(picture.note)}</figcaption></figure>\n'
    )


def _figures(answer: Answered) -> str:
    rows = []
    for row in answer_data(answer)["figures"]:
        marks = "".join(f'<br><span class="quiet">{escape(mark)}</span>' for mark in row["marks"])
        rows.append(
            f"<tr><td>{escape(row['name'])}</td><td><b>{escape(row['value'])}</b>{marks}</td>"
            f'<td>{escape(row["method"])}<br><span class="quiet">source: {escape(row["source"])}</span></td></tr>\n'
        )
    head = "<tr><th>Figure</th><th>Value</th><th>Method, and where it holds</th></tr>"
    return (
        f"<h3>{escape(answer.question)}</h3>"
        f'<div class="wide"><table><thead>{head}</thead><tbody>{"".join(rows)}</tbody></table></div>'
    )


def _list(items: Iterable[str], none: str) -> str:
    shown = "".join(f"<li>{escape(item)}</li>" for item in items)
    return f"<ul>{shown}</ul>" if shown else f"<p>{escape(none)}</p>"
