"""A report's two faces show the same figures; nothing in the page reaches out or runs inline."""

import dataclasses
import datetime
import html.parser
import io
import json
import re

import plotly.graph_objects as go
import pypdf
import pytest

from bladewright.figures import Answered, Axis, Bars, Chart, Curve, Figure, Finding, Level, Missing, Outcome
from bladewright.papers.printed_chart import bars_words, chart_words, printed_bars, printed_chart
from bladewright.papers.report import Report, Whole, WholePart, report_pdf
from bladewright.papers.report_page import FIGURES, INDEX, OURS, PLOTTING, report_pages
from bladewright.papers.screen_chart import screen_bars, screen_chart

CHART = Chart(
    "force-collective",
    "Handle force <against> collective",
    Axis("collective", "deg"),
    Axis("handle force", "N"),
    (
        Curve("normal", (1.0, 2.0, 3.0), (4.0, None, 6.5), spread=(0.5, 0.5, 0.5)),
        Curve("lowest", (1.5,), (-2.0,), points=True),
    ),
    (Level("band", 20.0), Level("drawn", 2.0, upright=True)),
    "an estimate",
)
BARS = Bars("parts", "What moves it", Axis("change", "N"), (("skin", -3.5), ("reflex", 2.5)), "by its tolerance")
PAPER = Report(
    kind="Flight report",
    stands="an estimate until flown",
    drawing="FM-31",
    title="An invented blade & more",
    drawing_sha256="a" * 64,
    engine_version="0.1.0",
    dated=datetime.datetime(2026, 3, 4, 12, tzinfo=datetime.UTC),
    answers=(Answered("What does it hold?", "17.1 N <at most>", (Figure("force", 17.1, "N", 2.0, "strips"),)),),
    findings=(Finding("rises", Outcome.FAIL, "The lever rises by itself.", "dimensions", limit="-8 N"),),
    pictures=(CHART, BARS),
    missing=(Missing("never-exceed speed", ("rotor.drag_area",)),),
    demo=True,
)


class Tags(html.parser.HTMLParser):
    """Every tag of a page with its attributes, and the text inside scripts."""

    def __init__(self) -> None:
        super().__init__()
        self.tags: list[tuple[str, dict[str, str | None]]] = []
        self.scripted = ""
        self._inside = False

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        self.tags.append((tag, dict(attrs)))
        self._inside = tag in ("script", "style")

    def handle_endtag(self, tag: str) -> None:
        self._inside = self._inside and tag not in ("script", "style")

    def handle_data(self, data: str) -> None:
        self.scripted += data if self._inside else ""


@pytest.fixture(scope="module")
def pages() -> dict[str, bytes]:
    return report_pages(PAPER)


def test_figures_for_the_screen_are_figures_and_carry_the_chart_s_own_numbers() -> None:
    figure = go.Figure(screen_chart(CHART))  # refuses what is no property of a figure
    lines = [trace for trace in figure.data if trace.name == "normal"]
    assert [tuple(line.y) for line in lines] == [(4.0, None, 6.5)]
    assert next(trace for trace in figure.data if trace.name == "lowest").mode == "markers"
    assert [note.text for note in figure.layout.annotations] == ["band", "drawn"]
    bars = go.Figure(screen_bars(BARS))
    assert tuple(bars.data[0].x) == (-3.5, 2.5)
    assert bars.layout.yaxis.autorange == "reversed"  # the first on top


def test_pressure_is_drawn_downward_and_a_section_to_scale() -> None:
    pressure = Chart("p", "Pressure", Axis("x"), Axis("cp", downward=True), CHART.curves, true_scale=True)
    layout = screen_chart(pressure)["layout"]
    assert layout["yaxis"]["autorange"] == "reversed"
    assert layout["yaxis"]["scaleanchor"] == "x"
    assert printed_chart(pressure).rstrip().endswith(b"</svg>")


def test_both_faces_are_told_in_words_to_those_who_cannot_see_them() -> None:
    assert "4 at 1, 6.5 at 3" in chart_words(CHART)
    assert "line across at 20: band" in chart_words(CHART)
    assert bars_words(BARS) == "What moves it: skin -3.5 N; reflex 2.5 N."


def test_charts_on_paper_keep_text_as_outlines_and_no_date() -> None:
    for svg in (printed_chart(CHART), printed_bars(BARS)):
        assert svg.rstrip().endswith(b"</svg>")
        assert b"<text" not in svg
        assert b"<dc:date>" not in svg
    assert printed_chart(CHART) == printed_chart(CHART)


def test_the_page_runs_nothing_inline_and_reaches_nothing_outside_its_folder(pages: dict[str, bytes]) -> None:
    tags = Tags()
    tags.feed(pages[INDEX].decode())
    assert tags.scripted.strip() == ""
    for _, attributes in tags.tags:
        assert not any(name.startswith("on") or name == "style" for name in attributes)
        for name in ("src", "href"):
            target = attributes.get(name)
            assert target is None or target.startswith("#") or target in {*pages, "flight-report.pdf"}
    scripts = [attributes["src"] for tag, attributes in tags.tags if tag == "script"]
    assert scripts == [PLOTTING, FIGURES, "page.js"]
    for ours in OURS:
        assert not re.search(rb"https?:|fetch\(|import\(|XMLHttp|@import|url\(", pages[ours])


def test_the_page_has_a_place_for_every_figure_and_shows_what_was_typed_as_text(pages: dict[str, bytes]) -> None:
    page = pages[INDEX].decode()
    drawn = json.loads(pages[FIGURES].decode().removeprefix("window.bladewrightFigures = ").rstrip(";\n"))
    assert set(drawn) == {"force-collective", "parts"}
    assert all(f'id="{name}"' in page for name in drawn)
    assert "17.1 N &lt;at most&gt;" in page
    assert "An invented blade &amp; more" in page
    assert "Invented data" in page
    assert "not an airworthiness release" in page


def test_the_paper_says_the_same_and_is_the_same_bytes_always() -> None:
    data = report_pdf(PAPER)
    assert data == report_pdf(PAPER)
    text = " ".join(sheet.extract_text() for sheet in pypdf.PdfReader(io.BytesIO(data)).pages)
    text = " ".join(text.split())
    told = ("What does it hold?", "17.1 N <at most>", "The lever rises by itself.", "rotor.drag_area", "17.1 ± 2.0 N")
    assert [words for words in told if words not in text] == []
    assert "INVENTED DATA" in text


def test_a_whole_is_told_first_with_every_margin_in_one_line() -> None:
    parts = (
        WholePart("Flutter", Outcome.REFER, "The centre may move aft by 3.1 mm.", "weigh it"),
        WholePart("Strength", Outcome.PASS, "Bolts: 0.4"),
    )
    margin = Figure("margin", 3.1, "mm", source="closed form", validated=False)
    finding = Finding("mass centre", Outcome.REFER, "It may.", "dimensions", margin, "at least 2 mm", "drawing FM-31")
    whole = Whole(
        "Does it stay in one piece?", "a named person decides", Outcome.REFER, parts, (), "a person", (finding,)
    )
    report = dataclasses.replace(PAPER, whole=whole, findings=(*PAPER.findings, finding))
    page = report_pages(report)[INDEX].decode()
    paper = " ".join(sheet.extract_text() for sheet in pypdf.PdfReader(io.BytesIO(report_pdf(report))).pages[:1])
    for told in (page, " ".join(paper.split())):
        for words in (
            "one piece",
            "The centre may move aft by 3.1 mm",
            "at least 2 mm",
            "drawing FM-31",
            "closed form",
            "Next: weigh it.",
            "Who decides: a person.",
        ):
            assert words.casefold() in re.sub("</?b>", "", told).casefold(), words
    assert "Every margin: " in page  # folded
    assert "<td>QU</td>" in page  # not quantified, unvalidated


def test_a_report_with_nothing_to_judge_and_nothing_drawn_says_so() -> None:
    bare = Report("Flight report", "", "X", "", "", "0.1.0", PAPER.dated, ())
    assert "No rule was judged." in report_pages(bare)[INDEX].decode()
    assert report_pdf(bare).startswith(b"%PDF-")
