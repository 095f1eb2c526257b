"""What is entered at the desk about a photograph of a torn face becomes the file it would be, and is filed like it."""

import datetime
from dataclasses import dataclass, replace
from pathlib import Path
from typing import Literal

from django.db.models import QuerySet

from bladewright.errors import BadInput, MissingInput
from bladewright.evidence.coupon import read_coupon
from bladewright.evidence.outlined import Corner, Mark, Outline, OutlinedPhotograph, written
from bladewright.evidence.photograph import read_photograph
from bladewright.evidence.records import Source
from bladewright.proof.outlined import MeasuredFace, measured_face, refuse_unclear
from bladewright.records.acts import Act
from bladewright.records.book import opened
from bladewright.records.evidence import COUPON, PHOTOGRAPH, EvidenceFiled, file_outlines, photograph_in
from bladewright.records.keeping import kept, taken
from bladewright.records.ready import models


@dataclass(frozen=True, slots=True)
class Drawn:
    """What somebody outlined, in pixels of the photograph."""

    outline: tuple[Corner, ...]
    marks: tuple[Mark, ...]
    areas: tuple[Outline, ...]
    placing: float  # standard deviation of a corner [px]


def add_photograph(act: Act, coupon: str, face: Literal["top", "bottom"], photograph: Path) -> EvidenceFiled:
    """File a photograph of one face of a coupon, named by the hash of its file; it is outlined afterwards."""
    row = models.Evidence.objects.filter(kind=COUPON, file__sha256=coupon).first()
    serial = None if row is None else row.blades.values_list("blade__serial", flat=True).first()
    if row is None or serial is None:
        raise MissingInput(
            "is not in the book", field="coupon", value=coupon, allowed="a coupon on file", fix="file the torn coupon"
        )
    data = taken(photograph)
    picture = read_photograph(data, photograph.name)
    bare = OutlinedPhotograph(
        Source("", ""), picture, serial, row.about, face, photograph.name, act.by, opened().day(act.at)
    )
    return file_outlines(act, f"{photograph.stem}.toml", written(bare), photograph.name, data)


def measure(photograph: str, drawn: Drawn) -> MeasuredFace | None:
    """What outlines would come to, without filing them; refused for what filing would refuse."""
    outlined = _outlined(_row(photograph), drawn, "nobody yet", datetime.date.min)
    refuse_unclear(outlined)
    return measured_face(outlined)


@dataclass(frozen=True, slots=True)
class Photographed:
    """A photograph as it was outlined last, its coupon's file by hash, and the coupon's width as it is typed."""

    photo: OutlinedPhotograph
    coupon: str
    width: str


def photographed(photograph: str) -> Photographed:
    """A photograph of a torn face, by its hash."""
    row = _rows(photograph).order_by("-id").first() or _row(photograph)
    read = photograph_in(row)
    coupons = models.Evidence.objects.select_related("file").filter(kind=COUPON, about=read.label)
    of = coupons.filter(blades__blade__serial=read.serial).order_by("-id")[0]  # a photograph is filed with its coupon
    width = read_coupon(kept(of.file), of.file.name).width
    return Photographed(read, of.file.sha256, f"{1000.0 * width:.6g} mm")


def outline_photograph(act: Act, photograph: str, drawn: Drawn) -> EvidenceFiled:
    """File what was outlined on a photograph, named by its hash. What was outlined before stays and counts."""
    row = _row(photograph)
    if not drawn.areas:
        raise BadInput("nothing is outlined", field="areas", allowed="one area at least", fix="outline what you see")
    outlined = _outlined(row, drawn, act.by, opened().day(act.at))
    name = f"{Path(outlined.named).stem}-outlined-{_rows(photograph).count()}.toml"
    assert row.description is not None  # a photograph is what outlines are filed with
    return file_outlines(act, name, written(outlined), outlined.named, kept(row.description))


def _rows(photograph: str) -> QuerySet[models.Evidence]:
    rows = models.Evidence.objects.select_related("file", "description")
    return rows.filter(kind=PHOTOGRAPH, description__sha256=photograph)


def _row(photograph: str) -> models.Evidence:
    row = _rows(photograph).order_by("id").first()
    if row is None:
        raise MissingInput(
            "is not in the book", field="photograph", value=photograph, allowed="a photograph on file", fix="file it"
        )
    return row


def _outlined(row: models.Evidence, drawn: Drawn, by: str, on: datetime.date) -> OutlinedPhotograph:
    before = photograph_in(row)
    return replace(
        before, source=Source("outlines", ""), named=before.photograph.source.file, outlined_by=by, outlined_on=on,
        placing=drawn.placing, outline=drawn.outline, marks=drawn.marks, areas=drawn.areas,
    )  # fmt: skip
