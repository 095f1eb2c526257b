"""What is in the stores: lots as received, their certificates, and what they went into."""

import datetime
from dataclasses import dataclass
from typing import Final

from django.db.models import Count, Q

from bladewright.errors import MissingInput
from bladewright.records.book import opened
from bladewright.records.chain import moment
from bladewright.records.keeping import kept
from bladewright.records.ready import models

#: lines on a page
PAGE: Final = 50
#: blades of one lot that are told one by one; the trace tells them all
USES_SHOWN: Final = 100


@dataclass(frozen=True, slots=True)
class StoredLot:
    """One lot in the stores."""

    id: int
    lot: str
    material: str
    maker: str
    maker_lot: str
    received_on: datetime.date
    expires_on: datetime.date | None
    certificate: str  # the file's name; "": none was handed in
    certificate_sha256: str
    expired: bool
    blades: int  # it was built into


@dataclass(frozen=True, slots=True)
class LotsPage:
    """Some lots, the newest first. ``before``: the next page begins before this one; 0: there is none."""

    lots: tuple[StoredLot, ...]
    before: int


@dataclass(frozen=True, slots=True)
class AboutLot:
    """Everything about one lot but where it flies, which the trace tells."""

    lot: StoredLot
    by: str
    at: datetime.datetime
    reason: str
    uses: tuple[tuple[str, str], ...]  # serial and part, the first of them


def lots_page(now: datetime.datetime, *, search: str = "", before: int = 0) -> LotsPage:
    """Lots whose name, material, maker or maker's lot holds ``search``."""
    rows = models.Lot.objects.all()
    if before:
        rows = rows.filter(id__lt=before)
    if search:
        held = [Q(**{f"{field}__icontains": search}) for field in ("lot", "material", "maker", "maker_lot")]
        rows = rows.filter(held[0] | held[1] | held[2] | held[3])
    found = list(rows.select_related("certificate").order_by("-id")[: PAGE + 1])
    shown = found[:PAGE]
    blades = _blades_of([row.id for row in shown])
    day = opened().day(now)
    return LotsPage(
        tuple(_stored(row, blades.get(row.id, 0), day) for row in shown), shown[-1].id if len(found) > PAGE else 0
    )


def about_lot(lot: str, now: datetime.datetime) -> AboutLot:
    """One lot; ``MissingInput`` if it was never received."""
    row = models.Lot.objects.select_related("certificate", "event").filter(lot=lot).first()
    if row is None:
        raise MissingInput(
            "is not in the book", field="lot", value=lot, allowed="a lot that was received", fix="receive it first"
        )
    uses = models.LotUse.objects.filter(lot=row).order_by("blade__serial", "part")[:USES_SHOWN]
    return AboutLot(
        _stored(row, _blades_of([row.id]).get(row.id, 0), opened().day(now)),
        row.event.by,
        moment(row.event.at),
        row.event.reason,
        tuple(uses.values_list("blade__serial", "part")),
    )


def materials_known() -> tuple[str, ...]:
    """The names material was received under before."""
    return tuple(models.Lot.objects.order_by("material").values_list("material", flat=True).distinct())


def shelf_bytes(sha256: str) -> tuple[str, bytes]:
    """Name and bytes of a certificate or a file about the shop; nothing else is handed out here."""
    file = models.StoredFile.objects.filter(sha256=sha256).first()
    about_the_shop = (
        models.Lot.objects.filter(certificate__sha256=sha256).exists()
        or models.ShopFile.objects.filter(Q(file__sha256=sha256) | Q(beside__sha256=sha256)).exists()
    )
    if file is None or not about_the_shop:
        raise MissingInput(
            "is not in the book", field="file", value=sha256, allowed="a certificate, or a file about the shop",
            fix="open it from the page it belongs to",
        )  # fmt: skip
    return file.name, kept(file)


def _blades_of(ids: list[int]) -> dict[int, int]:
    rows = (
        models.LotUse.objects.filter(lot_id__in=ids).values("lot_id").annotate(blades=Count("blade_id", distinct=True))
    )
    return dict(rows.values_list("lot_id", "blades"))


def _stored(row: models.Lot, blades: int, day: datetime.date) -> StoredLot:
    return StoredLot(
        row.id, row.lot, row.material, row.maker, row.maker_lot, row.received_on, row.expires_on,
        row.certificate.name if row.certificate else "", row.certificate.sha256 if row.certificate else "",
        row.expires_on is not None and row.expires_on < day, blades,
    )  # fmt: skip
