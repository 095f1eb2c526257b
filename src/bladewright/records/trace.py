"""From one lot, maker's lot or oven run to every serial it went into, and to whoever has that serial now."""

from dataclasses import dataclass
from typing import Any

from django.db.models import F, OuterRef, Q, QuerySet, Subquery

from bladewright.errors import MissingInput
from bladewright.records.ready import models


@dataclass(frozen=True, slots=True)
class Traced:
    """Where one serial is. Empty texts: not in a set, not signed out, on no aircraft."""

    serial: str
    part: str  # what the lot became; "cure" for an oven run
    lot: str  # which lot; the file's name for an oven run
    word: str  # of the newest verdict
    set_name: str
    signed_out: bool
    aircraft: str
    owner: str
    contact: str


@dataclass(frozen=True, slots=True)
class Trace:
    """Every place something went."""

    of: str
    places: tuple[Traced, ...]

    @property
    def serials(self) -> tuple[str, ...]:
        """Each serial once."""
        return tuple(dict.fromkeys(place.serial for place in self.places))

    @property
    def owners(self) -> tuple[tuple[str, str], ...]:
        """Who must be told, each once, with how to reach them."""
        return tuple(sorted({(place.owner, place.contact) for place in self.places if place.owner}))


def where_lot(lot: str) -> Trace:
    """Where a lot is now: by the shop's name for it, or the maker's, which may be several of the shop's."""
    ids = tuple(models.Lot.objects.filter(Q(lot=lot) | Q(maker_lot=lot)).values_list("id", flat=True))
    if not ids:
        raise MissingInput("was never received", field="lot", value=lot, allowed="a lot in the book", fix="check it")
    uses = models.LotUse.objects.filter(lot_id__in=ids)
    return _trace(lot, uses.order_by("blade__serial", "part", "lot__lot"), "part", "lot__lot")


def where_evidence(file: str) -> Trace:
    """Every serial a filed piece of evidence speaks for: by its file's name or its SHA-256. For one oven run, say."""
    rows = models.EvidenceOf.objects.filter(Q(evidence__file__name=file) | Q(evidence__file__sha256=file))
    found = _trace(file, rows.order_by("blade__serial"), "evidence__kind", "evidence__file__name")
    if not found.places:
        raise MissingInput("is not on file", field="file", value=file, allowed="a filed name or hash", fix="check it")
    return found


def _trace(of: str, rows: "QuerySet[models.LotUse] | QuerySet[models.EvidenceOf]", part: str, lot: str) -> Trace:
    return Trace(of, places_of(rows, F(part), F(lot)))


def places_of(rows: "QuerySet[Any]", part: Any, which: Any, blade: str = "blade__") -> tuple[Traced, ...]:
    """Where the blades of some rows are now, two queries whatever their number. ``blade``: from a row to its blade."""
    own = OuterRef(f"{blade}id")
    newest = models.Verdict.objects.filter(blade_id=own).order_by("-id").values("word")[:1]
    standing = models.Installation.objects.filter(set_id=OuterRef(f"{blade}in_set__set_id"), removal__isnull=True)
    whose = models.Ownership.objects.filter(aircraft_id=OuterRef("aircraft_id")).order_by("-id")
    found = rows.annotate(
        part_=part, which_=which, word=Subquery(newest),
        installation_id=Subquery(standing.order_by("-id").values("id")[:1]),
    ).values_list(
        f"{blade}serial", "part_", "which_", "word", f"{blade}in_set__set__name",
        f"{blade}in_set__set__sign_out__id", "installation_id",
    )  # fmt: skip
    places = list(found)
    ids = {row[6] for row in places if row[6] is not None}
    flying = {
        row[0]: row[1:]
        for row in models.Installation.objects.annotate(
            owner_name=Subquery(whose.values("owner__name")[:1]), reach=Subquery(whose.values("owner__contact")[:1])
        )
        .filter(id__in=ids)
        .values_list("id", "aircraft__mark", "owner_name", "reach")
    }
    return tuple(
        Traced(serial, what, which, word or "", held or "", out is not None, *flying.get(on, ("", "", "")))
        for serial, what, which, word, held, out, on in places
    )
