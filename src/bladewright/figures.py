"""A number with everything it must never travel without, and what a rule found."""

import dataclasses
import datetime
import hashlib
import math
from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field
from enum import StrEnum
from typing import Any

import rfc8785

from bladewright import units
from bladewright.errors import BladewrightError


@dataclass(frozen=True, slots=True)
class Figure:
    """A value with its unit, uncertainty, method, validity and source.

    ``uncertainty`` is expanded (k = 2), in the same unit; None means "not quantified".
    ``validated`` is False as soon as one input it rests on has no source.
    """

    name: str
    value: float
    unit: str
    uncertainty: float | None = None
    method: str = ""
    validity: str = ""
    inside_validity: bool = True
    source: str = ""
    validated: bool = True

    def __post_init__(self) -> None:
        if not math.isfinite(self.value):
            raise BladewrightError(
                "came out as no number, though nothing that was entered is refused",
                field=self.name,
                value=str(self.value),
                allowed="a finite number",
                fix="look for an unusual entry among those it rests on, and report this",
            )

    def __str__(self) -> str:
        return f"{in_both_units(self)} +/- {spread(self)}"


#: SI unit -> the unit shop and pilot use, and its kind (see bladewright.units)
_CUSTOMARY = {
    "N": ("lbf", "force"),
    "kg": ("lb", "mass"),
    "m": ("in", "length"),
    "kg m": ("lb in", "span moment"),
    "N m": ("lbf in", "moment"),
    "K": ("degF", "temperature difference"),
    "N/m": ("lbf/in", "force per width"),
    "Pa": ("psi", "pressure"),
    "rad": ("deg", "angle"),
    "W": ("hp", "power"),
}


#: significant figures of a value nobody has quantified; more would look like knowledge (common practice, no source)
_UNQUANTIFIED = 3
#: what is written out; larger and smaller values take a power of ten
_WRITTEN_OUT = (1e-4, 1e6)


def places_known(uncertainty: float | None) -> int | None:
    """Decimal places down to an uncertainty's second figure; None where it is not known.

    Source: JCGM 100:2008, 7.2.6 (from memory).
    """
    if uncertainty is None or not math.isfinite(uncertainty) or uncertainty <= 0.0:
        return None
    return 1 - math.floor(math.log10(uncertainty))


def rounded(value: float, uncertainty: float | None) -> str:
    """A value to the place its uncertainty begins to speak in, or to three figures where that is not known."""
    if not math.isfinite(value):
        return "no value"
    places = places_known(uncertainty)
    if places is not None:
        return f"{round(value, places) + 0.0:.{max(0, places)}f}"
    return _to_figures(value, _UNQUANTIFIED)


def _to_figures(value: float, figures: int) -> str:
    text = f"{value:.{figures}g}"
    least, greatest = _WRITTEN_OUT
    return f"{float(text):.0f}" if "e" in text and least <= abs(value) < greatest else text


#: [m] a length below it is told in millimetres, as drawings and gauges tell it (common practice, no source)
_IN_MILLIMETRES = 1.0


def as_told(figure: Figure) -> tuple[float, float | None, str]:
    """Value, uncertainty and unit as a shop says them: short lengths in mm, the rest as they are."""
    if figure.unit != "m" or abs(figure.value) >= _IN_MILLIMETRES:
        return figure.value, figure.uncertainty, figure.unit
    return 1e3 * figure.value, None if figure.uncertainty is None else 1e3 * figure.uncertainty, "mm"


def in_both_units(figure: Figure) -> str:
    """The value in its own unit, and behind it in the one the shop uses, no finer than it is known."""
    value, known, own_unit = as_told(figure)
    own = f"{rounded(value, known)} {own_unit}".removesuffix(" 1")
    if figure.unit not in _CUSTOMARY:
        return own
    unit, kind = _CUSTOMARY[figure.unit]
    value, step = (units.from_si(si, unit, kind) for si in (figure.value, figure.uncertainty or 0.0))
    return f"{own} ({rounded(value, step)} {unit})"


def in_system(figure: Figure, system: str) -> str:
    """The value with its spread and marks in one person's units: "metric", or "inch" where a shop has such a unit."""
    return f"{value_in_system(figure, system)}{spread_in_system(figure, system)}"


def value_in_system(figure: Figure, system: str) -> str:
    """The value and its unit alone, for a place where spread and marks stand beside it."""
    value, known, unit = _told_in(figure, system)
    return f"{rounded(value, known)} {unit}".removesuffix(" 1")


def spread_in_system(figure: Figure, system: str) -> str:
    """Spread and marks as they follow the value."""
    _, known, _ = _told_in(figure, system)
    return f", uncertainty {_marked(figure, None)}" if known is None else f" ± {_marked(figure, known)}"


def _told_in(figure: Figure, system: str) -> tuple[float, float | None, str]:
    value, known, unit = as_told(figure)
    if system == "metric" and unit == "N/m":  # peel is told per millimetre of width (common practice, no source)
        return 1e-3 * value, None if known is None else 1e-3 * known, "N/mm"
    if system == "inch" and figure.unit in _CUSTOMARY:
        unit, kind = _CUSTOMARY[figure.unit]
        value = units.from_si(figure.value, unit, kind)
        known = None if figure.uncertainty is None else units.from_si(figure.uncertainty, unit, kind)
    return value, known, unit


def spread(figure: Figure) -> str:
    """The uncertainty with every mark that belongs to the value."""
    return _marked(figure, as_told(figure)[1])


def _marked(figure: Figure, known: float | None) -> str:
    marks = ["not quantified" if known is None else _to_figures(known, 2)]
    marks += [] if figure.inside_validity else ["outside validity"]
    marks += [] if figure.validated else ["unvalidated data"]
    return "; ".join(marks)


class Outcome(StrEnum):
    """What a rule says. ``missing`` is not a pass: a missing record counts as the worst case."""

    PASS = "pass"
    REFER = "refer"
    FAIL = "fail"
    MISSING = "missing"


@dataclass(frozen=True, slots=True)
class Where:
    """Where in the data it was seen: file, channel or feature, row (as a spreadsheet counts), time (UTC, ISO 8601)."""

    file: str = ""
    channel: str = ""
    row: int | None = None
    time: str = ""
    until: str = ""


def clock_text(moment: datetime.datetime) -> str:
    """A time as the clock of its own zone showed it, with its offset from UTC; seconds only where there are some."""
    offset = f"{moment:%z}"[:5]
    zone = "" if offset == "+0000" else f"{offset[:3]}:{offset[3:]}"
    seconds = f":{moment:%S}" if moment.second else ""
    return f"{moment:%Y-%m-%d %H:%M}{seconds} UTC{zone}"


def where_text(where: Where, zone: datetime.tzinfo | None = None) -> str:
    """File, channel, row and time, those that are known; times by the clock of a zone, in UTC without one."""
    row = "" if where.row is None else f"row {where.row}"
    time, until = (_by_the_clock(text, zone or datetime.UTC) for text in (where.time, where.until))
    return ", ".join(part for part in (where.file, where.channel, row, f"{time} to {until}" if until else time) if part)


def _by_the_clock(text: str, zone: datetime.tzinfo) -> str:
    """A moment as a clock shows it; a day, or a log's own seconds, as they stand."""
    try:
        moment = datetime.datetime.fromisoformat(text)
    except ValueError:
        return text
    return clock_text(moment.astimezone(zone)) if moment.tzinfo else text


@dataclass(frozen=True, slots=True)
class Finding:
    """One rule's answer: outcome, worst value, limit and its source, where, and a sentence for a blade maker."""

    rule: str
    outcome: Outcome
    sentence: str
    proof: str  # which required proof this speaks for: "cure", "coupon", "dimensions", ...
    worst: Figure | None = None
    limit: str = ""
    limit_source: str = ""
    where: tuple[Where, ...] = ()
    deviable: bool = True
    next_step: str = ""
    would_change: str = ""  # what would change this answer


#: the worst first, so that a reader who stops early has seen what matters
WORST_FIRST = (Outcome.FAIL, Outcome.MISSING, Outcome.REFER, Outcome.PASS)


def worst_of(findings: Iterable[Finding]) -> Outcome:
    """The worst outcome among some findings; with none at all nothing was judged, which is ``missing``."""
    found = {finding.outcome for finding in findings}
    return next((outcome for outcome in WORST_FIRST if outcome in found), Outcome.MISSING)


@dataclass(frozen=True, slots=True)
class Missing:
    """An answer that could not be given, and which entries it waits for."""

    name: str
    needs: tuple[str, ...] = field(default=())

    def __str__(self) -> str:
        return f"{self.name}: not known; the drawing does not say {', '.join(self.needs)}"


@dataclass(frozen=True, slots=True)
class Axis:
    """What one axis of a chart shows, and in which unit."""

    words: str
    unit: str = "1"
    downward: bool = False  # the larger values below, as pressure on a section is drawn

    def __str__(self) -> str:
        return self.words if self.unit == "1" else f"{self.words} [{self.unit}]"


@dataclass(frozen=True, slots=True)
class Curve:
    """One line of a chart; a gap where a value is None. ``spread`` is expanded (k = 2), None: not quantified."""

    name: str
    x: tuple[float, ...]
    y: tuple[float | None, ...]
    spread: tuple[float, ...] | None = None
    points: bool = False  # drawn as points, because nothing is known between them
    beside: bool = False  # only to compare with: drawn thin, and named at its own end


@dataclass(frozen=True, slots=True)
class Level:
    """A straight line across a chart with its words: a limit, a band's end."""

    words: str
    at: float
    upright: bool = False  # at a place of the x axis


@dataclass(frozen=True, slots=True)
class Reach:
    """A part of the x axis that is shaded, with its words."""

    words: str
    least: float
    greatest: float


@dataclass(frozen=True, slots=True)
class Chart:
    """Curves over one axis, as plain data: whoever draws it, for screen or paper, draws the same."""

    name: str  # for files and marks: lower case and hyphens
    title: str
    x: Axis
    y: Axis
    curves: tuple[Curve, ...]
    levels: tuple[Level, ...] = ()
    note: str = ""  # what it rests on and where it ends
    true_scale: bool = False  # x and y to the same scale, as a section is drawn
    reaches: tuple[Reach, ...] = ()


@dataclass(frozen=True, slots=True)
class Bars:
    """Named contributions side by side."""

    name: str
    title: str
    axis: Axis
    rows: tuple[tuple[str, float], ...]  # words and value, the first on top
    note: str = ""


@dataclass(frozen=True, slots=True)
class Answered:
    """A question of the shop, answered in a sentence and in figures; ``missing`` is what keeps it from being known."""

    question: str
    told: str
    figures: tuple[Figure, ...] = ()
    missing: tuple[Missing, ...] = ()


def counted(number: int, one: str) -> str:
    """``1 blade``, ``2 blades``."""
    return f"{number} {one}" if number == 1 else f"{number} {one}s"


def plain(value: Any) -> Any:
    """A record as plain dictionaries, lists, texts and numbers, ready for canonical JSON."""
    if dataclasses.is_dataclass(value) and not isinstance(value, type):
        return {f.name: plain(getattr(value, f.name)) for f in dataclasses.fields(value)}
    if isinstance(value, StrEnum):
        return value.value
    if isinstance(value, (datetime.datetime, datetime.date)):
        return value.isoformat()
    if isinstance(value, Mapping):
        return {str(key): plain(item) for key, item in value.items()}
    if isinstance(value, (str, bool, int, float)) or value is None:
        return value
    if isinstance(value, Iterable):
        return [plain(item) for item in value]
    raise TypeError(f"{type(value).__name__} has no plain form")


def canonical(value: Any) -> bytes:
    """Canonical JSON (RFC 8785) of a record: same record, same bytes, whoever writes it."""
    return rfc8785.dumps(plain(value))


def digest(data: bytes) -> str:
    """SHA-256 as lower-case hex: how evidence, drawings and events are named."""
    return hashlib.sha256(data).hexdigest()
