"""From whatever the shop has a name for to every serial it touched and to whoever must be told; and back from a serial.

A name may mean several things; each is a trace of its own. A page at a time, in the order of serials.
"""

from collections.abc import Callable, Iterable
from dataclasses import dataclass
from functools import lru_cache
from typing import Any, Final

from django.db.models import Count, F, OuterRef, Q, QuerySet, Subquery, TextField, Value
from django.db.models.functions import Concat

from bladewright.errors import MissingInput
from bladewright.evidence.dimension_sheet import read_dimension_sheet
from bladewright.records.evidence import CURE, DIMENSIONS, GAUGES, WEIGHING
from bladewright.records.keeping import kept
from bladewright.records.ready import models
from bladewright.records.trace import Traced, places_of

PAGE: Final = 500  # places on one page; a recall of so many blades is read in one go
_MOST_FILES: Final = 200  # of one name


@dataclass(frozen=True, slots=True)
class Told:
    """An owner who must be told, and of what. ``serials`` is empty where there are more than a page holds."""

    owner: str
    contact: str
    aircraft: tuple[str, ...]
    blades: int
    serials: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class TracePage:
    """Where something went. ``after``: the serial to go on after, "" at the end."""

    of: str
    kind: str
    places: tuple[Traced, ...]
    owners: tuple[Told, ...]
    count: int  # places of all pages
    after: str = ""

    @property
    def whole(self) -> bool:
        """Whether this is all of it, owners included."""
        return self.count == len(self.places)

    @property
    def unplaced(self) -> tuple[str, ...]:
        """Serials that were signed out and are on no aircraft by the book: somebody has them."""
        return tuple(dict.fromkeys(p.serial for p in self.places if p.signed_out and not p.aircraft))


@dataclass(frozen=True, slots=True)
class _Rows:
    """The rows of one kind of trace: what a row is of, which one, and the way from it to its blade."""

    rows: "QuerySet[Any]"
    part: Any
    which: Any
    blade: str = "blade__"


def senses(of: str) -> tuple[str, ...]:
    """What a name stands for in the book. Instruments are looked for only where it is nothing else."""
    found = tuple(kind for kind, known in _KNOWN.items() if known(of).exists())
    return found or (("instrument",) if of and _instruments(of).rows.exists() else ())


def trace(of: str, kind: str, after: str = "") -> TracePage:
    """One page of where a thing went; ``MissingInput`` if the book has nothing of that kind and name."""
    if kind not in _KINDS or (kind in _KNOWN and not _KNOWN[kind](of).exists()):
        raise MissingInput(
            "is not in the book", field="of", value=of, allowed=f"a name the book knows as {kind}", fix="check it"
        )
    rows = _KINDS[kind](of)
    serial = f"{rows.blade}serial"
    shown = rows.rows.filter(**{f"{serial}__gt": after}) if after else rows.rows
    # the page first, by its numbers alone: what hangs on each row is then looked up for these and not for all
    ids = tuple(shown.order_by(serial, "id").values_list("id", flat=True)[: PAGE + 1])
    found = rows.rows.model._default_manager.filter(id__in=ids).order_by(serial, "id")
    places = places_of(found, rows.part, rows.which, rows.blade)
    if len(places) <= PAGE and not after:
        return TracePage(of, kind, places, _told(places), len(places))
    more = len(places) > PAGE
    whole = tuple(place for place in places if place.serial != places[-1].serial) if more else places
    return TracePage(of, kind, whole, (), rows.rows.count(), whole[-1].serial if more else "")


def owners_to_tell(of: str, kind: str) -> tuple[Told, ...]:
    """Owners of all pages, by one query; with so many blades their number stands for their serials."""
    return _all_owners(_KINDS[kind](of)) if kind in _KINDS else ()


def _told(places: Iterable[Traced]) -> tuple[Told, ...]:
    """Owners with their aircraft and serials."""
    by_owner: dict[tuple[str, str], list[Traced]] = {}
    for place in places:
        if place.owner:
            by_owner.setdefault((place.owner, place.contact), []).append(place)
    return tuple(
        Told(owner, contact, tuple(dict.fromkeys(p.aircraft for p in own)), len(serials), serials)
        for (owner, contact), own in sorted(by_owner.items())
        for serials in [tuple(dict.fromkeys(p.serial for p in own))]
    )


def _all_owners(rows: _Rows) -> tuple[Told, ...]:
    blades = rows.rows.order_by().values(f"{rows.blade}id")
    whose = models.Ownership.objects.filter(aircraft_id=OuterRef("aircraft_id")).order_by("-id")
    found = (
        models.Installation.objects.filter(removal__isnull=True, set__blades__blade_id__in=blades)
        .annotate(
            owner_name=Subquery(whose.values("owner__name")[:1]), reach=Subquery(whose.values("owner__contact")[:1])
        )
        .values("owner_name", "reach", "aircraft__mark")
        .annotate(blades=Count("set__blades__blade_id", distinct=True))
        .values_list("owner_name", "reach", "aircraft__mark", "blades")
    )
    marks: dict[tuple[str, str], list[tuple[str, int]]] = {}
    for owner, reach, mark, blades_there in found:
        marks.setdefault((owner or "", reach or ""), []).append((mark, blades_there))
    return tuple(
        Told(owner, reach, tuple(sorted(mark for mark, _ in own)), sum(count for _, count in own))
        for (owner, reach), own in sorted(marks.items())
        if owner
    )


def _lots(of: str) -> _Rows:
    ids = tuple(models.Lot.objects.filter(Q(lot=of) | Q(maker_lot=of)).values_list("id", flat=True))
    return _Rows(models.LotUse.objects.filter(lot_id__in=ids), F("part"), F("lot__lot"))


def _files(of: str) -> _Rows:
    """Evidence the file is, or is read by; a drawing's or a certificate's file leads on to what it stands for."""
    ids = tuple(models.StoredFile.objects.filter(Q(sha256=of) | Q(name=of)).values_list("id", flat=True)[:_MOST_FILES])
    if models.Drawing.objects.filter(file_id__in=ids).exists():
        return _Rows(models.Blade.objects.filter(drawing__file_id__in=ids), Value("drawing"), _REVISION, "")
    if models.Lot.objects.filter(certificate_id__in=ids).exists():
        return _Rows(models.LotUse.objects.filter(lot__certificate_id__in=ids), F("part"), F("lot__lot"))
    held = Q(evidence__file_id__in=ids) | Q(evidence__description_id__in=ids) | Q(evidence__pull_id__in=ids)
    return _Rows(models.EvidenceOf.objects.filter(held), F("evidence__kind"), F("evidence__file__name"))


_REVISION: Final = Concat("drawing__name", Value(" revision "), "drawing__revision", output_field=TextField())


def _drawings(of: str) -> "QuerySet[models.Drawing]":
    """All revisions of a name, or the one that is named with it."""
    name, _, revision = of.replace(" revision ", " ").rpartition(" ")
    return models.Drawing.objects.filter(Q(name=of) | Q(name=name, revision=revision))


def _drawn(of: str) -> _Rows:
    ids = tuple(_drawings(of).values_list("id", flat=True))
    return _Rows(models.Blade.objects.filter(drawing_id__in=ids), Value("drawing"), _REVISION, "")


def _person(of: str) -> _Rows:
    """Serials somebody wrote about, once each, with the first thing they did; and those in evidence they filed."""
    about = models.Event.objects.filter(by=of).values("subject")
    filed = models.EvidenceOf.objects.filter(evidence__event__by=of).values("blade_id")
    first = models.Event.objects.filter(by=of, subject=OuterRef("serial")).order_by("number").values("kind")[:1]
    rows = models.Blade.objects.filter(Q(serial__in=about) | Q(id__in=filed))
    return _Rows(rows, Value("first of what they entered"), Subquery(first), "")


def _instruments(of: str) -> _Rows:
    """Evidence taken with a rig or a gauge, or through a logger."""
    gauge = Q(evidence__about=of) | Q(evidence__about__startswith=of + GAUGES)
    gauge |= Q(evidence__about__endswith=GAUGES + of) | Q(evidence__about__contains=f"{GAUGES}{of}{GAUGES}")
    measured = Q(evidence__kind=DIMENSIONS) & (gauge | Q(evidence_id__in=_sheets_by_gauge(of)))
    whole = Q(evidence__kind__in=(CURE, WEIGHING), evidence__about=of)
    return _Rows(models.EvidenceOf.objects.filter(measured | whole), F("evidence__kind"), F("evidence__file__name"))


def _sheets_by_gauge(of: str) -> tuple[int, ...]:
    """Sheets filed before the book wrote their gauges down: each is read, once."""
    rows = models.Evidence.objects.filter(kind=DIMENSIONS, about="").values_list("id", "file__sha256", "file__name")
    return tuple(number for number, sha256, name in rows if of in _gauges(sha256, name))


@lru_cache(maxsize=200_000)
def _gauges(sha256: str, name: str) -> frozenset[str]:
    sheet = read_dimension_sheet(kept(models.StoredFile(sha256=sha256, name=name)), name)
    return frozenset(row.gauge for row in sheet.rows)


def _in_set(of: str) -> _Rows:
    rows = models.Blade.objects.filter(in_set__set__name=of)
    return _Rows(rows, Value("set"), F("in_set__set__name"), "")


def _on_aircraft(of: str) -> _Rows:
    """Also sets that were taken off again."""
    sets = models.Installation.objects.filter(aircraft__mark=of).values("set_id")
    return _Rows(
        models.Blade.objects.filter(in_set__set_id__in=sets), Value("set once on it"), F("in_set__set__name"), ""
    )


def _of_owner(of: str) -> _Rows:
    sets = models.Installation.objects.filter(aircraft__owners__owner__name=of).values("set_id")
    rows = models.Blade.objects.filter(in_set__set_id__in=sets)
    return _Rows(rows, Value("set on an aircraft once theirs"), F("in_set__set__name"), "")


#: what the book has a table of its own for, and how a name is found there
_KNOWN: Final[dict[str, Callable[[str], "QuerySet[Any]"]]] = {
    "serial": lambda of: models.Blade.objects.filter(serial=of),
    "lot": lambda of: models.Lot.objects.filter(Q(lot=of) | Q(maker_lot=of)),
    "drawing": _drawings,
    "person": lambda of: models.Person.objects.filter(name=of),
    "set": lambda of: models.Set.objects.filter(name=of),
    "aircraft": lambda of: models.Aircraft.objects.filter(mark=of),
    "owner": lambda of: models.Owner.objects.filter(name=of),
    "file": lambda of: models.StoredFile.objects.filter(Q(sha256=of) | Q(name=of)),
}
_KINDS: Final[dict[str, Callable[[str], _Rows]]] = {
    "lot": _lots,
    "file": _files,
    "drawing": _drawn,
    "person": _person,
    "instrument": _instruments,
    "set": _in_set,
    "aircraft": _on_aircraft,
    "owner": _of_owner,
}
