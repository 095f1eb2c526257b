"""Which blades are open: in no signed-out set, and not rejected with their serial closed.

A book only grows, so a blade that is open no more never is again. What was found open last is remembered, and only that
and what came since is looked at: it costs the same whether ten blades were signed out or a hundred thousand.
"""

from dataclasses import dataclass
from pathlib import Path
from typing import Any, Final

from django.db.models import Exists, Max, OuterRef, QuerySet, Subquery

from bladewright.proof.records import Word
from bladewright.proof.signed import CLOSED
from bladewright.records.book import opened
from bladewright.records.evidence import SIGNED
from bladewright.records.ready import models

#: open blades that are looked at, the longest open first; a shop has far fewer
LOOKED_AT: Final = 2000


@dataclass(frozen=True, slots=True)
class OpenBlade:
    """One open blade as the tables know it. Numbers are of events."""

    id: int
    serial: str
    drawing_id: int
    begun: int
    verdict_id: int | None
    word: str  # "" until judged
    judged: int
    filed: int  # the newest evidence
    deviated: int  # the newest deviation
    set_id: int | None

    @property
    def stale(self) -> bool:
        """Whether something was filed or accepted that the newest verdict does not know of."""
        return max(self.filed, self.deviated) > self.judged


@dataclass(frozen=True, slots=True)
class _Known:
    """What was found at an event: the open blades among the first ones."""

    event: int
    hash: str
    last: int  # the newest blade there was
    open: tuple[int, ...]


_known: dict[Path, _Known] = {}


def open_blades() -> tuple[OpenBlade, ...]:
    """The open blades, the longest open first; one more than are looked at where there are more."""
    folder = opened().folder
    known = _still(_known.get(folder))
    event = models.Event.objects.order_by("-number").values_list("number", "hash").first()
    last = models.Blade.objects.aggregate(newest=Max("id"))["newest"] or 0
    rows = models.Blade.objects.all()
    if known is not None:  # by their numbers alone, which a database finds without looking at the others
        new = rows.filter(id__gt=known.last).order_by("id").values_list("id", flat=True)[: LOOKED_AT + 1]
        rows = rows.filter(id__in=[*known.open, *new])
    found = tuple(
        OpenBlade(number, serial, drawing, begun, verdict, word or "", judged or 0, filed or 0, deviated or 0, held)
        for number, serial, drawing, begun, verdict, word, judged, filed, deviated, held in _told(rows)
    )
    if event is not None and len(found) <= LOOKED_AT:
        _known[folder] = _Known(*event, last, tuple(blade.id for blade in found if blade.id <= last))
    return found


def _still(known: _Known | None) -> _Known | None:
    """What is remembered, unless the book was put back from an older copy, or is another in the same place."""
    if known is None or not models.Event.objects.filter(number=known.event, hash=known.hash).exists():
        return None
    return known


def _told(blades: QuerySet[models.Blade]) -> QuerySet[models.Blade, tuple[Any, ...]]:
    newest = models.Verdict.objects.filter(blade_id=OuterRef("id")).order_by("-id")
    filed = models.EvidenceOf.objects.filter(blade_id=OuterRef("id")).order_by("-id")
    deviated = models.Deviation.objects.filter(blade_id=OuterRef("id")).order_by("-id")
    out = models.SignOut.objects.filter(set_id=OuterRef("in_set__set_id"))
    closing = models.EvidenceOf.objects.filter(blade_id=OuterRef("id"), evidence__kind=SIGNED, evidence__about=CLOSED)
    rejected = models.Verdict.objects.filter(blade_id=OuterRef("id"), word=Word.REJECTED.value)
    return (
        blades.filter(~Exists(out))
        .exclude(Exists(rejected) & Exists(closing))  # the rarer is asked first
        .annotate(
            verdict=Subquery(newest.values("id")[:1]),
            word=Subquery(newest.values("word")[:1]),
            judged=Subquery(newest.values("event_id")[:1]),
            filed=Subquery(filed.values("event_id")[:1]),
            deviated=Subquery(deviated.values("event_id")[:1]),
        )
        .order_by("id")
        .values_list(
            "id", "serial", "drawing_id", "event_id", "verdict", "word", "judged", "filed", "deviated",
            "in_set__set_id",
        )[: LOOKED_AT + 1]
    )  # fmt: skip
