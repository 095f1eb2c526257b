"""How answers are shown: a table for people, canonical keys with units for programs."""

import json
import textwrap
from collections.abc import Iterable, Sequence
from typing import TYPE_CHECKING, Annotated, Any

import typer

if TYPE_CHECKING:
    import datetime

    from bladewright.figures import Figure, Finding, Missing
    from bladewright.records.trace import Trace

Json = Annotated[bool, typer.Option("--json", help="Print JSON for programs; keys carry units.")]

#: columns of a table -> letters it needs across, a dozen for each to be read; our own choice
NARROWEST = {2: 24, 3: 36, 4: 48, 5: 60, 6: 72, 7: 84}
MARKS = {"pass": "pass", "refer": "REFER", "fail": "FAIL", "missing": "MISSING"}


def table(headings: Sequence[str], rows: Iterable[Sequence[str]], title: str = "") -> None:
    """A plain table that folds its last columns in a narrow terminal; row by row where they would fold to nothing."""
    from rich import box
    from rich.console import Console
    from rich.table import Table
    from rich.text import Text

    rows = list(rows)
    if not rows:
        lines(f"{title}: nothing to show" if title else "nothing to show")
        return
    console = Console(highlight=False)
    if console.width < NARROWEST.get(len(headings), 0):
        _row_by_row(headings, rows, title)
        return
    drawn = Table(title=title or None, title_justify="left", box=box.SIMPLE_HEAD, pad_edge=False)
    for heading in headings:
        drawn.add_column(heading, overflow="fold")
    for row in rows:
        drawn.add_row(*(Text(cell) for cell in row))
    console.print(drawn)


def _row_by_row(headings: Sequence[str], rows: Sequence[Sequence[str]], title: str) -> None:
    """Each row as lines of its own, its empty cells left out."""
    lines(title)
    for row in rows:
        told = (f"{heading}: {cell}" if heading else cell for heading, cell in zip(headings, row, strict=True) if cell)
        lines("- " + "\n  ".join(told))


def lines(text: str) -> None:
    """Text wrapped to the terminal."""
    import shutil

    width = max(40, min(120, shutil.get_terminal_size().columns))
    for paragraph in text.splitlines():
        typer.echo(textwrap.fill(paragraph, width, subsequent_indent="  ") if paragraph else "")


def as_json(value: Any) -> None:
    """Anything with a plain form, as indented JSON."""
    from bladewright.figures import plain

    typer.echo(json.dumps(plain(value), indent=2, ensure_ascii=False))


def figures_as_json(figures: "Iterable[Figure]") -> dict[str, Any]:
    """Figures keyed by name and unit: ``{"mass [kg]": {"value": ...}}``."""
    from bladewright.figures import plain

    keyed = {}
    for figure in figures:
        entry = plain(figure)
        keyed[f"{entry.pop('name')} [{entry.pop('unit')}]"] = entry
    return keyed


def figures_table(figures: "Iterable[Figure]", title: str = "") -> None:
    """Figures for people: both unit systems, uncertainty and marks; method and source once each, below."""
    from bladewright.figures import in_both_units, spread

    figures = list(figures)
    notes: dict[str, int] = {}
    rows = []
    for figure in figures:
        note = _rests_on(figure)
        mark = str(notes.setdefault(note, len(notes) + 1)) if note else ""
        rows.append((figure.name, in_both_units(figure), spread(figure), mark))
    if len(rows) > 1 and len({known for _, _, known, _ in rows}) == 1:  # said once, the table is half as long
        table(("quantity", "value", "note"), [(name, value, mark) for name, value, _, mark in rows], title)
        lines(f"+/- (k = 2) of every line: {rows[0][2]}")
    else:
        table(("quantity", "value", "+/- (k = 2)", "note"), rows, title)
    for note, number in notes.items():
        lines(f"{number}: {note}")


def doubts_line(figures: "Iterable[Figure]") -> None:
    """Of figures that a table shows in its own way: how well they are known and what they rest on, each once."""
    from bladewright.figures import spread

    for told in dict.fromkeys(f"+/- (k = 2): {spread(figure)}; {_rests_on(figure)}" for figure in figures):
        lines(told)


def _rests_on(figure: "Figure") -> str:
    """Method, validity and source of a figure in a line."""
    parts = (
        figure.method,
        figure.validity and f"valid for: {figure.validity}",
        figure.source and f"source: {figure.source}",
    )
    return "; ".join(part for part in parts if part)


def answer_line(findings: "Iterable[Finding]", missing: "Iterable[Missing]" = ()) -> None:
    """The answer before its reasons: the worst outcome, and the first finding that says so."""
    from bladewright.figures import WORST_FIRST, Outcome, counted, worst_of

    findings, gaps = list(findings), list(missing)
    worst = worst_of(findings)
    first = next((one for one in findings if one.outcome is worst), None)
    told = f"{MARKS[worst.value]}: {first.rule}: {first.sentence}" if first is not None else "Nothing was judged."
    if gaps:
        outcome = min((worst, Outcome.MISSING), key=WORST_FIRST.index)
        told = f"{MARKS[outcome.value]}: {counted(len(gaps), 'answer')} not known, listed below. {told}"
    lines(told)


def short_findings_table(findings: "Iterable[Finding]", title: str = "") -> None:
    """Findings for people, the worst first; of those that pass only how many there are."""
    from bladewright.figures import Outcome, counted

    findings = list(findings)
    held = sum(finding.outcome is Outcome.PASS for finding in findings)
    asked = [finding for finding in findings if finding.outcome is not Outcome.PASS]
    if asked:
        findings_table(asked, title)
    lines(f"{counted(held, 'rule')} of {len(findings)} pass; every one is in --json and in the structure report.")


def findings_table(findings: "Iterable[Finding]", title: str = "", zone: "datetime.tzinfo | None" = None) -> None:
    """Findings for people, the worst first and in capitals; the sentence says the limit, then where it was seen.

    Times by the clock of ``zone``, in UTC without one.
    """
    from bladewright.figures import where_text

    order = ("fail", "missing", "refer", "pass")
    rows = []
    for finding in sorted(findings, key=lambda item: order.index(item.outcome.value)):
        seen = "; ".join(text for where in finding.where if (text := where_text(where, zone)))
        told = f"{finding.sentence} [{seen}]" if seen and finding.outcome.value != "pass" else finding.sentence
        rows.append((MARKS[finding.outcome.value], finding.rule, told))
    table(("", "rule", "what was found"), rows, title)


def trace(found: "Trace", *, json: bool) -> None:
    """Every serial something went into, and who has it now."""
    from bladewright.figures import counted

    if json:
        as_json(found)
        return
    rows = [
        (
            place.serial,
            f"{place.part}, {place.lot}",
            place.word or "not judged yet",
            place.set_name or "-",
            place.aircraft or ("signed out" if place.signed_out else "in the shop"),
            f"{place.owner}, {place.contact}" if place.owner else "-",
        )
        for place in found.places
    ]
    table(("serial", "what", "verdict", "set", "flying on", "owner"), rows, found.of)
    lines(f"{counted(len(found.serials), 'blade')}, {counted(len(found.owners), 'owner')} to tell.")


def missing_lines(missing: "Iterable[Missing]") -> None:
    """What could not be answered, and what it waits for."""
    for item in missing:
        lines(f"not answered: {item}")


CAUTION = (
    "Shop record; not an airworthiness release. The software advises; a named, authorised person decides and signs."
)
