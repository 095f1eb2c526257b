"""Torn coupons as they stand in the book: all of them in pages, and one with everything about it."""

import datetime
from collections import defaultdict
from dataclasses import dataclass
from typing import Final

from django.db.models import QuerySet

from bladewright.drawing.limits import PeelLimits
from bladewright.errors import MissingInput
from bladewright.evidence.photograph import read_photograph
from bladewright.evidence.records import Coupon, PullCurve
from bladewright.figures import Finding
from bladewright.proof.outlined import MeasuredFace, judge_photographs, measured_face
from bladewright.proof.peel import judge_coupon
from bladewright.records.chain import moment
from bladewright.records.drawings import read_filed as read_drawing
from bladewright.records.evidence import COUPON, PHOTOGRAPH, coupon_in, photograph_in
from bladewright.records.keeping import kept
from bladewright.records.ready import models

PAGE: Final = 50  # coupons on one page of the list


@dataclass(frozen=True, slots=True)
class CouponLine:
    """One coupon in the list."""

    sha256: str
    serial: str
    label: str
    file: str
    drawing: str
    by: str
    at: datetime.datetime
    curve: bool
    photographs: int


@dataclass(frozen=True, slots=True)
class CouponPage:
    """Some coupons, the newest first; ``older`` is the number to go on before, 0 at the end."""

    lines: tuple[CouponLine, ...]
    older: int


@dataclass(frozen=True, slots=True, eq=False)
class CouponSeen:
    """One coupon with what was found on it, its photographs, and what else was torn of that blade."""

    sha256: str
    coupon: Coupon
    curve: PullCurve | None
    limits: PeelLimits | None
    drawing: str
    revision: str
    filed_by: str
    filed_at: datetime.datetime
    findings: tuple[Finding, ...]
    photographs: tuple[MeasuredFace, ...]
    bare: tuple[tuple[str, str, str], ...]  # photographs nobody outlined: hash, file, face
    others: tuple[tuple[str, str], ...]  # hash and label of the blade's other coupons


def coupon_page(before: int = 0, text: str = "") -> CouponPage:
    """A page of coupons, the newest first; ``text``: only serials that begin so."""
    rows = _coupons()
    rows = rows.filter(blades__blade__serial__startswith=text) if text else rows
    rows = rows.filter(id__lt=before) if before else rows
    found = list(
        rows.order_by("-id").values_list(
            "id", "file__sha256", "blades__blade__serial", "about", "file__name", "blades__blade__drawing__name",
            "event__by", "event__at", "pull_id",
        )[: PAGE + 1]
    )  # fmt: skip
    shown = found[:PAGE]
    taken: dict[tuple[str, str], int] = defaultdict(int)
    photos = models.EvidenceOf.objects.filter(evidence__kind=PHOTOGRAPH, blade__serial__in={row[2] for row in shown})
    seen = set(photos.values_list("blade__serial", "evidence__about", "evidence__description__sha256"))
    for serial, label, _ in seen:
        taken[serial, label] += 1
    lines = tuple(
        CouponLine(sha, serial, label, file, drawing, by, moment(at), pull is not None, taken[serial, label])
        for _, sha, serial, label, file, drawing, by, at, pull in shown
    )
    return CouponPage(lines, shown[-1][0] if len(found) > PAGE else 0)


def coupon_named(sha256: str) -> CouponSeen:
    """One coupon by the hash of its file; ``MissingInput`` if it is not on file."""
    row = _coupons().select_related("file", "description", "pull", "event").filter(file__sha256=sha256).first()
    if row is None:
        raise MissingInput(
            "is not in the book", field="coupon", value=sha256, allowed="a coupon on file", fix="file the torn coupon"
        )
    coupon, curve = coupon_in(row)
    blade = models.Blade.objects.select_related("drawing__file").get(serial=coupon.serial)
    limits = read_drawing(blade.drawing).limits.peel
    of_blade = models.Evidence.objects.select_related("file", "description").filter(blades__blade=blade)
    photos = [photograph_in(one) for one in of_blade.filter(kind=PHOTOGRAPH, about=coupon.label).order_by("id")]
    measured = tuple(found for photo in photos if (found := measured_face(photo)) is not None)
    drawn = {found.photo.photograph.source.sha256 for found in measured}
    bare = {
        photo.photograph.source.sha256: (photo.photograph.source.sha256, photo.photograph.source.file, photo.face)
        for photo in photos
        if photo.photograph.source.sha256 not in drawn
    }
    others = of_blade.filter(kind=COUPON).exclude(id=row.id).order_by("id").values_list("file__sha256", "about")
    return CouponSeen(
        sha256=sha256,
        coupon=coupon,
        curve=curve,
        limits=limits,
        drawing=blade.drawing.name,
        revision=blade.drawing.revision,
        filed_by=row.event.by,
        filed_at=moment(row.event.at),
        findings=(*judge_coupon(coupon, curve, limits), *judge_photographs([coupon], photos, limits)),
        photographs=measured,
        bare=tuple(bare.values()),
        others=tuple(others),
    )


def photograph(sha256: str) -> tuple[bytes, str]:
    """A photograph of a torn face, its bytes as they came, and what kind of picture they are."""
    held = models.Evidence.objects.select_related("description").filter(kind=PHOTOGRAPH, description__sha256=sha256)
    row = held.first()
    if row is None or row.description is None:
        raise MissingInput(
            "is not in the book", field="photograph", value=sha256, allowed="a photograph on file", fix="file it first"
        )
    data = kept(row.description)
    return data, read_photograph(data, row.description.name).content_type


def _coupons() -> QuerySet[models.Evidence]:
    return models.Evidence.objects.filter(kind=COUPON)
