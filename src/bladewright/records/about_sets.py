"""Formed sets, to look at: what each waits for, what it came to, where it flies."""

import datetime
from collections.abc import Sequence
from dataclasses import dataclass
from typing import Final

from django.db.models import OuterRef, Subquery

from bladewright.figures import Bars, Figure
from bladewright.pairing.beside import felt_with_trim, shares_at_the_handle
from bladewright.pairing.handle import CASES
from bladewright.pairing.judging import judged
from bladewright.pairing.records import BladeSet, TrimWeight
from bladewright.records.blades import Happened
from bladewright.records.chain import moment
from bladewright.records.evidence import WEIGHING
from bladewright.records.free_blades import candidates_of
from bladewright.records.ready import models
from bladewright.records.sets import SetLine, lines_of, match_of, set_named
from bladewright.records.trying import MAY_FLY, mark_of, terms_of_row

LINES: Final = 20  # of a page
MARKS: Final = 200  # aircraft a person is offered


@dataclass(frozen=True, slots=True)
class SetPage:
    """Some of the sets, the newest first."""

    lines: tuple[SetLine, ...]
    first: int  # place of the first line
    sets: int  # there are

    @property
    def earlier(self) -> int | None:
        """Where the page before begins."""
        return max(0, self.first - LINES) if self.first else None

    @property
    def later(self) -> int | None:
        """Where the next page begins."""
        return self.first + LINES if self.first + LINES < self.sets else None


@dataclass(frozen=True, slots=True)
class BladeInSet:
    """One blade of a set and what it still waits for."""

    serial: str
    word: str  # of the newest verdict
    trim: tuple[TrimWeight, ...]  # reckoned when the set was formed
    weighed_since: bool  # after that
    unjudged: str  # kind of evidence filed since the newest verdict; "" if none
    judged_since: bool  # another verdict than the one it was matched on

    @property
    def accepted(self) -> bool:
        """Whether its newest verdict lets it fly."""
        return self.word in MAY_FLY

    @property
    def waits_for(self) -> str:
        """What comes next for this blade, or nothing."""
        if self.unjudged:
            return "judge it again"
        if not self.accepted:
            return "an accepting verdict"
        return "fit the weight and weigh it again" if self.trim and not self.weighed_since else ""


@dataclass(frozen=True, slots=True)
class Flight:
    """A stay of the set on an aircraft; without an end it is there now."""

    mark: str
    on: datetime.date
    off: datetime.date | None


@dataclass(frozen=True, slots=True)
class AboutSet:
    """Everything the book knows about one set."""

    line: SetLine
    drawing: str
    revision: str
    formed_at: datetime.datetime
    formed_why: str
    formed: BladeSet  # as it was found when it was formed
    method: str
    last: BladeSet | None  # as the blades were measured last, where they were judged again; None: as formed
    mark: str  # of what counts now, for ``sign_out``
    blades: tuple[BladeInSet, ...]
    felt: tuple[Figure, ...]  # empty where a blade may not fly
    shares: tuple[Bars, ...]
    signed_out_at: datetime.datetime | None
    signed_out_why: str
    flights: tuple[Flight, ...]  # the newest first
    history: tuple[Happened, ...]
    marks: tuple[str, ...]  # aircraft that carry no set

    @property
    def now(self) -> BladeSet:
        """What counts."""
        return self.last or self.formed

    @property
    def stops(self) -> tuple[str, ...]:
        """Why it may not be signed out yet."""
        found = [f"{blade.serial}: {blade.waits_for}" for blade in self.blades if blade.waits_for]
        if not found and self.last is not None and self.last.trim:
            more = sorted({weight.serial for weight in self.last.trim})
            found = [f"{serial}: still differs, more trim weight is needed" for serial in more]
        return tuple(found)

    @property
    def next_step(self) -> str:
        """The one thing to do next, in a sentence."""
        if self.line.aircraft:
            return f"It flies on {self.line.aircraft}: nothing is to be done here until it is taken off."
        if self.signed_out_at is not None:
            return "It is signed out. Enter its aircraft once it is fitted."
        first = next((blade for blade in self.blades if blade.waits_for), None)
        if first is not None and first.trim and not first.unjudged and first.accepted:
            weights = " and ".join(weight.told for weight in first.trim)
            return f"Fit {weights}; weigh it again against the master and hand in the weighing."
        if self.stops:
            return f"{self.stops[0]}."
        return "A person who may release looks at it and signs it out."


def set_page(first: int = 0) -> SetPage:
    """Formed sets, the newest first."""
    count = models.Set.objects.count()
    first = max(0, min(first, count - 1))
    rows = models.Set.objects.select_related("event").order_by("-id")[first : first + LINES]
    return SetPage(tuple(lines_of(rows)), first, count)


def about_set(name: str) -> AboutSet:
    """One set. About a dozen queries, whatever the book holds."""
    row = set_named(name)
    formed = match_of(row)
    held = list(row.blades.select_related("blade__drawing__file", "verdict").order_by("blade__serial"))
    drawing = held[0].blade.drawing
    blades = _blades(row, held, formed)
    out = models.SignOut.objects.select_related("event").filter(set=row).first()
    known = candidates_of(drawing, {item.blade_id: item.blade.serial for item in held}) if _flies(blades) else ()
    known = known if len(known) == len(held) else ()
    terms = terms_of_row(drawing)
    again = any(blade.judged_since for blade in blades)
    last = judged(known, terms) if again and known else None
    counts = last or formed
    bars = [shares_at_the_handle(known, case) for case in CASES] if known else []
    (line,) = lines_of([row])
    return AboutSet(
        line=line,
        drawing=drawing.name,
        revision=drawing.revision,
        formed_at=moment(row.event.at),
        formed_why=row.event.reason,
        formed=formed,
        method=row.method,
        last=last,
        mark=mark_of(counts),
        blades=blades,
        felt=felt_with_trim(known, counts, terms) if known else (),
        shares=tuple(one for one in bars if one is not None),
        signed_out_at=moment(out.event.at) if out else None,
        signed_out_why=out.event.reason if out else "",
        flights=_flights(row),
        history=_history(name),
        marks=_free_marks() if out and not line.aircraft else (),
    )


def _flies(blades: Sequence[BladeInSet]) -> bool:
    return all(blade.accepted and not blade.unjudged for blade in blades)


def _blades(row: models.Set, held: Sequence[models.SetBlade], formed: BladeSet) -> tuple[BladeInSet, ...]:
    numbers = [item.blade_id for item in held]
    newest = models.Verdict.objects.filter(blade_id=OuterRef("id")).order_by("-id")
    verdicts = {
        number: (verdict, word, event)
        for number, verdict, word, event in models.Blade.objects.filter(id__in=numbers).values_list(
            "id", Subquery(newest.values("id")[:1]), Subquery(newest.values("word")[:1]),
            Subquery(newest.values("event_id")[:1]),
        )
    }  # fmt: skip
    filed: dict[int, list[tuple[str, int]]] = {number: [] for number in numbers}
    on_file = models.EvidenceOf.objects.filter(blade_id__in=numbers).order_by("evidence_id")
    for number, kind, event in on_file.values_list("blade_id", "evidence__kind", "evidence__event_id"):
        filed[number].append((kind, event))
    found = []
    for item in held:
        verdict, word, event = verdicts[item.blade_id]
        mine = filed[item.blade_id]
        found.append(
            BladeInSet(
                serial=item.blade.serial,
                word=word,
                trim=tuple(weight for weight in formed.trim if weight.serial == item.blade.serial),
                weighed_since=any(kind == WEIGHING and at > row.event_id for kind, at in mine),
                unjudged=next((kind for kind, at in mine if at > event), ""),
                judged_since=verdict != item.verdict_id,
            )
        )
    return tuple(found)


def _flights(row: models.Set) -> tuple[Flight, ...]:
    rows = models.Installation.objects.filter(set=row).order_by("-id")
    return tuple(Flight(*found) for found in rows.values_list("aircraft__mark", "on", "removal__on"))


def _history(name: str) -> tuple[Happened, ...]:
    events = models.Event.objects.filter(subject=name, kind__startswith="set ").order_by("number")
    return tuple(Happened(e.number, e.kind, e.by, moment(e.at), e.reason) for e in events)


def _free_marks() -> tuple[str, ...]:
    """Aircraft that carry no set, a few: any other is typed."""
    carrying = models.Installation.objects.filter(removal__isnull=True).values("aircraft_id")
    free = models.Aircraft.objects.exclude(id__in=carrying).order_by("mark")
    return tuple(free.values_list("mark", flat=True)[:MARKS])
