"""A report as a folder for the screen: a page, its figures as data, and scripts beside it; never a network.

Opened from a folder a page may not fetch a file, so the figures come as a script that holds nothing but them.
"""

import json
from collections.abc import Iterable, Sequence
from html import escape
from importlib.resources import files
from string import Template
from typing import Any, Final

from bladewright.figures import Answered, Bars, Chart, Finding, counted
from bladewright.papers import wording
from bladewright.papers.printed_chart import bars_words, chart_words
from bladewright.papers.report import Report, answer_data, asked, judged, whole_data
from bladewright.papers.screen_chart import screen_bars, screen_chart

INDEX: Final = "index.html"
FIGURES: Final = "figures.js"
#: what every report's page has beside it, the same each time
OURS: Final = ("page.js", "page.css")
PLOTTING: Final = "plotly.min.js"
FILES: Final = (INDEX, FIGURES, *OURS, PLOTTING)


def report_pages(report: Report) -> dict[str, bytes]:
    """Every file of the folder by its name."""
    drawn = {picture.name: _drawn(picture) for picture in report.pictures}
    told = json.dumps(drawn, allow_nan=False, ensure_ascii=True, sort_keys=True)
    room = files("bladewright.papers") / "templates"
    return {
        INDEX: _page(report).encode(),
        FIGURES: f"window.bladewrightFigures = {told};\n".encode(),
        **{name: (room / name).read_bytes() for name in OURS},
        PLOTTING: (files("plotly") / "package_data" / PLOTTING).read_bytes(),
    }


def _drawn(picture: Chart | Bars) -> dict[str, Any]:
    return screen_bars(picture) if isinstance(picture, Bars) else screen_chart(picture)


def _page(report: Report) -> str:
    template = (files("bladewright.papers") / "templates" / "report.html").read_text(encoding="utf-8")
    return Template(template).substitute(
        kind=escape(report.kind),
        paper=escape(report.paper),
        name=escape(report.drawing),
        whole=_whole(report),
        title=escape(report.title),
        standing=escape(wording.STANDING),
        demo='<p class="demo">Invented data</p>' if report.demo else "",
        dated=report.dated.date().isoformat(),
        engine=escape(report.engine_version),
        sha256=escape(report.drawing_sha256),
        asked="What damage would cost" if report.whole else "What the shop asks",
        answers="".join(_answer(answer) for answer in asked(report)),
        findings=_findings(judged(report)),
        missing=_list((str(gap) for gap in report.missing), "Every answer asked for was given."),
        pictures="".join(_picture(picture) for picture in report.pictures),
        figures="".join(
            _figures(answer, folded=report.whole is not None) for answer in report.answers if answer.figures
        ),
        cautions=_list(wording.CAUTIONS, ""),
    )


def _whole(report: Report) -> str:
    """The answer to everything and its parts in a box; every margin of it in a line."""
    whole = whole_data(report)
    if whole is None:
        return ""
    parts = "".join(
        f'<tr><td><span class="mark {part["outcome"]}">{part["outcome"]}</span></td>'
        f"<td><b>{escape(part['name'])}</b></td><td>{escape(part['told'])}{_next(part['next'])}</td></tr>\n"
        for part in whole["parts"]
    )
    cautions = "".join(f'<p class="quiet">{escape(caution)}</p>' for caution in whole["cautions"])
    decides = f"<p><b>Who decides:</b> {escape(whole['decides'])}.</p>" if whole["decides"] else ""
    assert report.whole is not None
    return (
        f'<section id="whole" class="{whole["weight"]}"><h2>{escape(whole["question"])}</h2>'
        f'<p class="word">{escape(whole["word"])}</p><table>{parts}</table>{decides}{cautions}</section>\n'
        f'<section id="margins"><h2>What comes first</h2>{_margins(report.whole.foremost)}'
        f"<details><summary>Every margin: {escape(wording.counts(report.findings))}</summary>"
        f"{_margins(wording.worst_first(report.findings))}</details></section>"
    )


def _next(step: str) -> str:
    return f"<br><b>Next:</b> {escape(step)}." if step else ""


def _margins(findings: Sequence[Finding]) -> str:
    """One line for each, what its marks mean, and the sources once each."""
    margins = wording.margin_rows(findings)
    rows = "".join(
        f'<tr><td><span class="mark {row["outcome"]}">{row["outcome"]}</span></td><td>{escape(row["rule"])}</td>'
        f"<td><b>{escape(row['worst'])}</b></td><td>{escape(row['limit'])}</td><td>{escape(row['marks'])}</td>"
        f"<td>{row['note']}</td></tr>\n"
        for row in margins["rows"]
    )
    head = "<tr><th>Outcome</th><th>Rule</th><th>Found</th><th>Limit</th><th>Marks</th><th>Source</th></tr>"
    notes = "".join(f"<li>{escape(note)}</li>" for note in margins["notes"])
    return (
        f'<div class="wide"><table><thead>{head}</thead><tbody>{rows}</tbody></table></div>'
        f'<p class="quiet">{escape(wording.LETTERS)}</p><ol class="quiet">{notes}</ol>'
    )


def _answer(answer: Answered) -> str:
    gaps = "".join(f'<p class="quiet">not answered: {escape(str(gap))}</p>' for gap in answer.missing)
    return f"<article><h3>{escape(answer.question)}</h3><p>{escape(answer.told)}</p>{gaps}</article>\n"


def _findings(findings: Iterable[Finding]) -> str:
    rows = [
        f'<tr><td><span class="mark {row["outcome"]}">{row["outcome"]}</span></td>'
        f"<td><b>{escape(row['rule'])}</b><br>{escape(row['sentence'])}</td>"
        f'<td>{escape(row["limit"])}<br><span class="quiet">{escape(row["source"])}</span></td></tr>\n'
        for row in (wording.finding_row(finding, ()) for finding in findings)
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


def _figures(answer: Answered, *, folded: bool) -> str:
    """Its figures with their methods; folded where a box above has answered already."""
    rows = []
    for row in answer_data(answer)["figures"]:
        marks = "".join(f'<br><span class="quiet">{escape(mark)}</span>' for mark in row["marks"])
        rows.append(
            f"<tr><td>{escape(row['name'])}</td><td><b>{escape(row['value'])}</b>{marks}</td>"
            f'<td>{escape(row["method"])}<br><span class="quiet">source: {escape(row["source"])}</span></td></tr>\n'
        )
    head = "<tr><th>Figure</th><th>Value</th><th>Method, and where it holds</th></tr>"
    table = f'<div class="wide"><table><thead>{head}</thead><tbody>{"".join(rows)}</tbody></table></div>'
    if folded:
        return f"<details><summary>{escape(answer.question)}: {counted(len(rows), 'figure')}</summary>{table}</details>"
    return f"<h3>{escape(answer.question)}</h3>{table}"


def _list(items: Iterable[str], none: str) -> str:
    shown = "".join(f"<li>{escape(item)}</li>" for item in items)
    return f"<ul>{shown}</ul>" if shown else f"<p>{escape(none)}</p>"
