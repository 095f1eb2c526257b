"""How figures, findings and cautions read on paper. Words and rounding only; nothing is judged here."""

import datetime
from collections.abc import Sequence
from typing import Any, Final

from bladewright.figures import (
    WORST_FIRST,
    Axis,
    Figure,
    Finding,
    Outcome,
    as_told,
    counted,
    places_known,
    rounded,
    where_text,
)

STANDING: Final = "Shop acceptance record; not an airworthiness release"
NOT_QUANTIFIED: Final = "uncertainty not quantified"
UNVALIDATED: Final = "unvalidated data"
OUTSIDE: Final = "outside the method's validity"
NOT_PROVEN: Final = "identity not proven"

CAUTIONS: Final = (
    "No inspection method measures bond strength.",
    "End coupons speak for the ends. A pull test is not durability.",
    "Adhesion failure at any load stops the line.",
    "The cure log shows the tool, not the bondline.",
    "A control-load figure is an estimate until flown.",
    "Vibration is never trimmed away by re-tracking.",
    "A missing record counts as the worst case.",
    "The software advises; a named, authorised person decides and signs.",
    "Screening is not substantiation: local airworthiness rules and licensed people decide.",
    "The software reads logs and commands no heater: interlocks are independent hardware.",
    "Etches, chromates, hot tools, pressurised bladders and spinning rotors injure.",
)

_UNITS: Final = {"1": "", "degF": "°F", "degC": "°C", "deg": "°", "delta_degF": "°F", "delta_degC": "°C"}


def unit(name: str) -> str:
    """A unit as print shows it: ``degF/min`` as ``°F/min``."""
    top, slash, bottom = name.partition("/")
    return _UNITS.get(top, top) + slash + bottom


def axis_text(axis: Axis) -> str:
    """What stands beside an axis: words and unit, a lone degree sign written out."""
    shown = unit(axis.unit) if axis.unit not in ("1", "deg") else axis.unit.removeprefix("1").replace("deg", "degrees")
    return f"{axis.words}, {shown}" if shown else axis.words


def value_text(figure: Figure) -> str:
    """Value, uncertainty and unit in one piece."""
    value, known, told = as_told(figure)
    name = unit(told)
    reach = "" if known is None or places_known(known) is None else f" ± {rounded(known, known)}"
    gap = "" if name == "°" else " "
    return f"{rounded(value, known)}{reach}{gap}{name}".strip()


def marks(figure: Figure) -> list[str]:
    """What a figure must never travel without."""
    found = [] if figure.uncertainty is not None else [NOT_QUANTIFIED]
    found += [] if figure.inside_validity else [OUTSIDE]
    found += [] if figure.validated else [UNVALIDATED]
    return found


def figure_row(figure: Figure) -> dict[str, Any]:
    """A line of the properties table."""
    method = "; ".join(part for part in (figure.method, figure.validity) if part)
    return {
        "name": figure.name,
        "value": value_text(figure),
        "marks": marks(figure),
        "method": method or "method not given",
        "source": figure.source or "no source given",
    }


def finding_row(finding: Finding, covered_by: Sequence[str], zone: datetime.tzinfo | None = None) -> dict[str, Any]:
    """A line of the findings table. A deviation is named beside the finding, and the finding stays what it is."""
    notes = []
    if finding.outcome is not Outcome.PASS:
        notes += [f"next: {finding.next_step}"] if finding.next_step else []
        notes += [f"would change this: {finding.would_change}"] if finding.would_change else []
    return {
        "rule": finding.rule,
        "outcome": finding.outcome.value,
        "sentence": finding.sentence,
        "worst": "no value" if finding.worst is None else value_text(finding.worst),
        "marks": [] if finding.worst is None else marks(finding.worst),
        "limit": finding.limit or "no limit entered",
        "source": finding.limit_source or f"no source: {UNVALIDATED}",
        "where": "; ".join(where_text(where, zone) for where in finding.where),
        "under": [f"accepted under deviation {item}: finding stays {finding.outcome.value}" for item in covered_by],
        "notes": notes,
    }


#: one letter each, where every margin has one line
_LETTERS: Final = {UNVALIDATED: "U", NOT_QUANTIFIED: "Q", OUTSIDE: "O"}
LETTERS: Final = f"Marks: {', '.join(f'{letter} {words}' for words, letter in _LETTERS.items())}."


def margin_rows(findings: Sequence[Finding]) -> dict[str, Any]:
    """Every finding in one line, and the sources of figures and limits once each, numbered."""
    notes: dict[str, int] = {}
    rows = []
    for finding in findings:
        source = finding.worst.source if finding.worst is not None else ""
        note = f"{source or 'no source of the figure'}; limit: {finding.limit_source or 'no source'}"
        row = finding_row(finding, ())
        rows.append(
            {name: row[name] for name in ("outcome", "rule", "worst", "limit")}
            | {"marks": "".join(_LETTERS[mark] for mark in row["marks"])}
            | {"note": notes.setdefault(note, len(notes) + 1)}
        )
    return {"rows": rows, "notes": list(notes)}


def worst_first(findings: Sequence[Finding]) -> list[Finding]:
    """Fails, then missing, refers and passes; in the order of judging within each."""
    return sorted(findings, key=lambda finding: WORST_FIRST.index(finding.outcome))


def counts(findings: Sequence[Finding]) -> str:
    """How many rules said what."""
    found = {outcome: sum(finding.outcome is outcome for finding in findings) for outcome in WORST_FIRST}
    return f"{counted(len(findings), 'rule')}: " + ", ".join(
        f"{count} {outcome.value}" for outcome, count in found.items()
    )
