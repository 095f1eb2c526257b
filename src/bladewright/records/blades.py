"""Serials: started to an approved drawing, lots built in, and everything the book knows about one."""

import datetime
from dataclasses import dataclass

from django.db.models import OuterRef, QuerySet, Subquery

from bladewright.errors import BadInput, MissingInput
from bladewright.records.acts import Act, Scope
from bladewright.records.book import opened
from bladewright.records.chain import moment
from bladewright.records.drawings import approved
from bladewright.records.hands import refuse_work_after_looking
from bladewright.records.lots import lot_named
from bladewright.records.naming import refuse_look_alike, refuse_name
from bladewright.records.ready import models
from bladewright.records.writing import writing


@dataclass(frozen=True, slots=True)
class BladeStarted:
    """A serial and the drawing revision it is made to."""

    serial: str
    drawing: str
    revision: str
    already: bool


@dataclass(frozen=True, slots=True)
class LotUsed:
    """A lot built into a part of a blade."""

    serial: str
    part: str
    lot: str
    already: bool


@dataclass(frozen=True, slots=True)
class BladeLine:
    """One serial at a glance. ``word`` is the newest verdict's; "signed out" once its set is."""

    serial: str
    drawing: str
    revision: str
    word: str  # "" until judged
    set_name: str = ""


@dataclass(frozen=True, slots=True)
class Filed:
    """One piece of evidence on file."""

    kind: str
    about: str
    file: str
    sha256: str
    by: str
    at: datetime.datetime


@dataclass(frozen=True, slots=True)
class Happened:
    """One event in a blade's life."""

    number: int
    kind: str
    by: str
    at: datetime.datetime
    reason: str


@dataclass(frozen=True, slots=True)
class AboutBlade:
    """Everything the book knows about one serial."""

    line: BladeLine
    lots: tuple[LotUsed, ...]
    evidence: tuple[Filed, ...]
    history: tuple[Happened, ...]


def start_blade(act: Act, serial: str, drawing: str, revision: str) -> BladeStarted:
    """Open a serial to an approved drawing revision."""
    refuse_name(serial, "serial")
    with writing(act, "blade started", serial, Scope.MAKE) as entry:
        row = approved(drawing, revision)
        found = models.Blade.objects.select_related("drawing").filter(serial=serial).first()
        if found is not None:
            if found.drawing_id != row.id:
                raise BadInput(
                    f"was started to {found.drawing.name} revision {found.drawing.revision}",
                    field="serial",
                    value=serial,
                    allowed="one drawing revision for each serial",
                    fix="give this blade a serial of its own",
                )
            return BladeStarted(serial, drawing, revision, already=True)
        refuse_look_alike(serial, "serial", models.Blade.objects.values_list("serial", flat=True))
        entry.add(models.Blade(serial=serial, drawing=row))
        return BladeStarted(serial, drawing, revision, already=False)


def use_lot(act: Act, serial: str, part: str, lot: str) -> LotUsed:
    """Say which lot went into a part. An expired lot is not built in."""
    refuse_name(part, "part")
    with writing(act, "lot used", serial, Scope.MAKE) as entry:
        blade, row = blade_named(serial), lot_named(lot)
        if models.LotUse.objects.filter(blade=blade, lot=row, part=part).exists():
            return LotUsed(serial, part, lot, already=True)
        day = opened().day(act.at)
        if row.expires_on is not None and day > row.expires_on:
            raise BadInput(
                f"expired on {row.expires_on.isoformat()}",
                field="lot",
                value=lot,
                allowed=f"a lot that has not expired on {day.isoformat()}",
                fix="do not build it in; set the lot aside",
            )
        refuse_work_after_looking(act, blade)
        entry.add(models.LotUse(blade=blade, lot=row, part=part))
        return LotUsed(serial, part, lot, already=False)


def all_blades() -> tuple[BladeLine, ...]:
    """Every serial, in order."""
    return _lines(models.Blade.objects.all())


def blades_after(serial: str, most: int) -> tuple[BladeLine, ...]:
    """So many serials in order, those after this one; from the first with an empty text."""
    some = models.Blade.objects.filter(serial__gt=serial).order_by("serial").values("id")[:most]
    return _lines(models.Blade.objects.filter(id__in=list(some.values_list("id", flat=True))))


def _lines(blades: QuerySet[models.Blade]) -> tuple[BladeLine, ...]:
    newest = models.Verdict.objects.filter(blade_id=OuterRef("id")).order_by("-id").values("word")[:1]
    rows = blades.order_by("serial").annotate(word=Subquery(newest))
    return tuple(
        BladeLine(serial, drawing, revision, "signed out" if out is not None else word or "", name or "")
        for serial, drawing, revision, word, name, out in rows.values_list(
            "serial", "drawing__name", "drawing__revision", "word", "in_set__set__name", "in_set__set__sign_out__id"
        )
    )


def about(serial: str) -> AboutBlade:
    """Everything about one serial."""
    blade = blade_named(serial)
    uses = models.LotUse.objects.select_related("lot").filter(blade=blade).order_by("id")
    filed = models.Evidence.objects.select_related("file", "event").filter(blades__blade=blade).order_by("id")
    numbers = set(filed.values_list("event_id", flat=True))
    events = models.Event.objects.filter(subject=serial) | models.Event.objects.filter(number__in=numbers)
    (line,) = _lines(models.Blade.objects.filter(id=blade.id))
    return AboutBlade(
        line=line,
        lots=tuple(LotUsed(serial, use.part, use.lot.lot, already=True) for use in uses),
        evidence=tuple(
            Filed(row.kind, row.about, row.file.name, row.file.sha256, row.event.by, moment(row.event.at))
            for row in filed
        ),
        history=tuple(Happened(e.number, e.kind, e.by, moment(e.at), e.reason) for e in events.order_by("number")),
    )


def blade_named(serial: str) -> models.Blade:
    """The row of a serial; ``MissingInput`` if it was never started."""
    found = models.Blade.objects.select_related("drawing__file", "drawing__event").filter(serial=serial).first()
    if found is None:
        raise MissingInput(
            "is not in the book", field="serial", value=serial, allowed="a started serial", fix="start the blade first"
        )
    return found
