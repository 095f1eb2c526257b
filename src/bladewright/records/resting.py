"""Back from one serial to everything it rests on: drawing, lots and their papers, evidence, people, and where it is."""

import datetime
from collections import defaultdict
from dataclasses import dataclass

from django.db.models import Value

from bladewright.records.blades import blade_named
from bladewright.records.chain import moment
from bladewright.records.evidence import CURE, DIMENSIONS, GAUGES, WEIGHING
from bladewright.records.ready import models
from bladewright.records.trace import Traced, places_of


@dataclass(frozen=True, slots=True)
class LotBeneath:
    """A lot in a blade, with what its maker sent along."""

    part: str
    lot: str
    material: str
    maker: str
    maker_lot: str
    received_on: datetime.date
    expires_on: datetime.date | None
    certificate: str
    certificate_sha256: str


@dataclass(frozen=True, slots=True)
class EvidenceBeneath:
    """A piece of evidence, and the files it is read by."""

    kind: str
    about: str
    file: str
    sha256: str
    read_by: tuple[tuple[str, str], ...]  # file and hash: description, pull curve, photograph
    by: str
    at: datetime.datetime

    @property
    def instruments(self) -> tuple[str, ...]:
        """The gauges, the rig or the logger it was taken with."""
        if self.kind not in (CURE, DIMENSIONS, WEIGHING):
            return ()
        return tuple(name for name in self.about.split(GAUGES) if name)


@dataclass(frozen=True, slots=True)
class RestsOn:
    """One serial and everything under it."""

    serial: str
    drawing: str
    revision: str
    drawing_sha256: str
    filed_by: str
    approved_by: str
    lots: tuple[LotBeneath, ...]
    evidence: tuple[EvidenceBeneath, ...]
    people: tuple[tuple[str, tuple[str, ...]], ...]  # name, what they entered
    mates: tuple[str, ...]
    place: Traced


def rests_on(serial: str) -> RestsOn:
    """Everything one serial rests on; ``MissingInput`` if it was never started. A constant number of queries."""
    blade = blade_named(serial)
    approval = models.DrawingApproval.objects.select_related("event").filter(drawing=blade.drawing).first()
    rows = models.Evidence.objects.select_related("file", "description", "pull", "event").filter(blades__blade=blade)
    evidence = tuple(_beneath(row) for row in rows.order_by("id"))
    uses = models.LotUse.objects.select_related("lot__certificate").filter(blade=blade).order_by("id")
    own = models.Blade.objects.filter(id=blade.id)
    (place,) = places_of(own, Value("serial"), Value(serial), "")
    mates = models.SetBlade.objects.filter(set__blades__blade=blade).exclude(blade=blade)
    return RestsOn(
        serial=serial,
        drawing=blade.drawing.name,
        revision=blade.drawing.revision,
        drawing_sha256=blade.drawing.file.sha256,
        filed_by=blade.drawing.event.by,
        approved_by=approval.event.by if approval else "",
        lots=tuple(_lot(use) for use in uses),
        evidence=evidence,
        people=_people(serial, evidence),
        mates=tuple(mates.order_by("blade__serial").values_list("blade__serial", flat=True)),
        place=place,
    )


def _lot(use: models.LotUse) -> LotBeneath:
    lot = use.lot
    paper = lot.certificate
    return LotBeneath(
        use.part, lot.lot, lot.material, lot.maker, lot.maker_lot, lot.received_on, lot.expires_on,
        paper.name if paper else "", paper.sha256 if paper else "",
    )  # fmt: skip


def _beneath(row: models.Evidence) -> EvidenceBeneath:
    beside = tuple((file.name, file.sha256) for file in (row.description, row.pull) if file)
    return EvidenceBeneath(
        row.kind, row.about, row.file.name, row.file.sha256, beside, row.event.by, moment(row.event.at)
    )


def _people(serial: str, evidence: tuple[EvidenceBeneath, ...]) -> tuple[tuple[str, tuple[str, ...]], ...]:
    """Who entered what about the serial, in the order of their first entry; those who only filed a shared run too."""
    found: dict[str, dict[str, None]] = defaultdict(dict)
    for by, kind in models.Event.objects.filter(subject=serial).order_by("number").values_list("by", "kind"):
        found[by][kind] = None
    for item in evidence:
        found[item.by].setdefault(f"{item.kind} filed")
    return tuple((name, tuple(kinds)) for name, kinds in found.items())
