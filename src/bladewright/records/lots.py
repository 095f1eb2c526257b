"""Material as it is received: every sheet, roll, bar and box under the name the shop gives it."""

import datetime
from dataclasses import dataclass
from pathlib import Path

from bladewright.errors import BadInput, MissingInput
from bladewright.records.acts import Act, Scope
from bladewright.records.book import opened
from bladewright.records.keeping import keep, taken
from bladewright.records.naming import refuse_look_alike, refuse_name
from bladewright.records.ready import models
from bladewright.records.writing import writing


@dataclass(frozen=True, slots=True)
class LotLine:
    """A lot as it was received. ``already``: it was in the book before."""

    lot: str
    material: str
    maker: str
    maker_lot: str
    received_on: datetime.date
    expires_on: datetime.date | None
    certificate_sha256: str
    already: bool = True


def receive_lot(
    act: Act,
    lot: str,
    material: str,
    *,
    maker: str = "",
    maker_lot: str = "",
    expires_on: datetime.date | None = None,
    certificate: Path | None = None,
) -> LotLine:
    """Enter a lot. ``material`` is the drawing's name for it; the certificate's file is kept with it."""
    given = {"lot": lot, "material": material, "maker": maker, "maker_lot": maker_lot}
    for field, text in given.items():
        if text or field in ("lot", "material"):
            refuse_name(text, field)
    paper = None if certificate is None else taken(certificate)
    with writing(act, "lot received", lot, Scope.RECEIVE) as entry:
        found = models.Lot.objects.select_related("certificate").filter(lot=lot).first()
        if found is not None:
            same = (found.material, found.maker, found.maker_lot, found.expires_on)
            if same != (material, maker, maker_lot, expires_on):
                raise BadInput(
                    "is in the book with other particulars",
                    field="lot",
                    value=lot,
                    allowed=f"{found.material}, maker's lot {found.maker_lot or 'not given'}",
                    fix="give this lot a name of its own",
                )
            return _line(found, already=True)
        refuse_look_alike(lot, "lot", models.Lot.objects.values_list("lot", flat=True))
        kept = keep(entry, paper, certificate.name) if certificate is not None and paper is not None else None
        made = entry.add(
            models.Lot(
                lot=lot,
                material=material,
                maker=maker,
                maker_lot=maker_lot,
                received_on=opened().day(act.at),
                expires_on=expires_on,
                certificate=kept,
            )
        )
        return _line(made, already=False)


def lot_named(lot: str) -> models.Lot:
    """The row of a lot; ``MissingInput`` if it was never received."""
    found = models.Lot.objects.filter(lot=lot).first()
    if found is None:
        raise MissingInput(
            "was never received", field="lot", value=lot, allowed="a lot in the book", fix="receive the lot first"
        )
    return found


def all_lots() -> tuple[LotLine, ...]:
    """Every lot, in the order received."""
    return tuple(_line(row, already=True) for row in models.Lot.objects.select_related("certificate").order_by("id"))


def _line(row: models.Lot, *, already: bool) -> LotLine:
    return LotLine(
        lot=row.lot,
        material=row.material,
        maker=row.maker,
        maker_lot=row.maker_lot,
        received_on=row.received_on,
        expires_on=row.expires_on,
        certificate_sha256=row.certificate.sha256 if row.certificate else "",
        already=already,
    )
