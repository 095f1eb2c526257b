"""What is entered at the desk about a photograph of a torn face becomes the file it would be, and is filed like it."""

from dataclasses import dataclass, replace
from pathlib import Path
from typing import Literal

from bladewright.errors import BadInput, MissingInput
from bladewright.evidence.outlined import Corner, Mark, Outline, OutlinedPhotograph, written
from bladewright.evidence.photograph import read_photograph
from bladewright.evidence.records import Source
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


def outline_photograph(act: Act, photograph: str, drawn: Drawn) -> EvidenceFiled:
    """File what was outlined on a photograph, named by its hash. What was outlined before stays and counts."""
    rows = models.Evidence.objects.select_related("file", "description").filter(
        kind=PHOTOGRAPH, description__sha256=photograph
    )
    row = rows.order_by("id").first()
    if row is None or row.description is None:
        raise MissingInput(
            "is not in the book", field="photograph", value=photograph, allowed="a photograph on file", fix="file it"
        )
    if not drawn.areas:
        raise BadInput("nothing is outlined", field="areas", allowed="one area at least", fix="outline what you see")
    before = photograph_in(row)
    outlined = replace(
        before, named=row.description.name, outlined_by=act.by, outlined_on=opened().day(act.at), placing=drawn.placing,
        outline=drawn.outline, marks=drawn.marks, areas=drawn.areas,
    )  # fmt: skip
    name = f"{Path(row.description.name).stem}-outlined-{rows.count()}.toml"
    return file_outlines(act, name, written(outlined), row.description.name, kept(row.description))
