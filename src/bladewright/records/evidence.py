"""Evidence is filed whole: read first, so that what cannot be read is not filed; known again by its hash."""

import datetime
from collections.abc import Sequence
from dataclasses import dataclass
from pathlib import Path
from typing import Final

from bladewright.drawing.kinds import kind_of
from bladewright.errors import BadInput, MissingInput, NotAuthorised, SeveralBadInputs
from bladewright.evidence.coupon import read_coupon
from bladewright.evidence.cure_log import read_cure_log
from bladewright.evidence.description import parse_logger_description, parse_pull_description
from bladewright.evidence.dimension_sheet import read_dimension_sheet
from bladewright.evidence.outlined import OutlinedPhotograph, read_outlined
from bladewright.evidence.pull_curve import read_pull_curve
from bladewright.evidence.records import Coupon, DimensionSheet, PullCurve, Remark
from bladewright.evidence.signed_record import read_signed_record
from bladewright.evidence.void_map import read_void_map
from bladewright.evidence.weighing import read_weighing
from bladewright.figures import digest
from bladewright.proof.outlined import refuse_unclear
from bladewright.proof.records import BladeEvidence
from bladewright.proof.void_map import unplaced
from bladewright.records.acts import Act, Scope
from bladewright.records.authority import require
from bladewright.records.blades import blade_named
from bladewright.records.book import opened
from bladewright.records.drawings import read_filed as read_drawing
from bladewright.records.hands import may_sign, refuse_own_work
from bladewright.records.holding import Handed
from bladewright.records.keeping import keep, kept, taken
from bladewright.records.ready import models
from bladewright.records.writing import writing

CURE: Final = "cure"
COUPON: Final = "coupon"
DIMENSIONS: Final = "dimensions"
WEIGHING: Final = "weighing"
SIGNED: Final = "signed record"
PHOTOGRAPH: Final = "coupon photograph"
#: between the gauges a dimension sheet was measured with, which is what it is about
GAUGES: Final = "; "
VOID_MAP: Final = "void map"


@dataclass(frozen=True, slots=True)
class EvidenceFiled:
    """A piece of evidence on file, with what a judge must know about it. ``already``: its hash was on file."""

    kind: str
    about: str
    serials: tuple[str, ...]
    file: str
    sha256: str
    remarks: tuple[Remark, ...]
    already: bool


@dataclass(frozen=True, slots=True)
class Ready:
    """Evidence that was read and found whole; all that is left is to file it."""

    kind: str
    about: str
    serials: tuple[str, ...]
    given: Handed
    needs: tuple[Scope, ...]  # any one of these authorisations will do
    how: Handed | None = None
    pull: Handed | None = None
    remarks: tuple[Remark, ...] = ()


def _at(path: Path) -> Handed:
    return Handed(path.name, taken(path))


def file_cure(act: Act, serials: Sequence[str], log_path: Path, description_path: Path) -> EvidenceFiled:
    """File the log of one oven run for every blade that was in it."""
    return file_ready(act, cure_ready(act, serials, _at(log_path), _at(description_path)))


def cure_ready(act: Act, serials: Sequence[str], log: Handed, how: Handed) -> Ready:
    """A cure log through its logger description."""
    if not serials:
        raise BadInput("no blade is named", field="serials", allowed="the serials in the mould", fix="name them")
    read = read_cure_log(log.data, parse_logger_description(how.data, how.name), log.name)
    if read.start is not None:
        last = read.start + datetime.timedelta(seconds=float(read.seconds[-1]))
        _refuse_future(act, log, "time", opened().clock(last))
    return Ready(CURE, read.description, tuple(sorted(set(serials))), log, (Scope.CURE,), how=how, remarks=read.remarks)


def file_coupon(
    act: Act, path: Path, pull_path: Path | None = None, description_path: Path | None = None
) -> EvidenceFiled:
    """File a torn coupon and, where one was logged, its pull curve with the machine's description."""
    pull = None if pull_path is None else _at(pull_path)
    how = None if description_path is None else _at(description_path)
    return file_ready(act, coupon_ready(act, _at(path), pull, how))


def coupon_ready(act: Act, given: Handed, pull: Handed | None = None, how: Handed | None = None) -> Ready:
    """A torn coupon, with its pull curve through the machine's description."""
    coupon = read_coupon(given.data, given.name)
    _refuse_future(act, given, "torn_on", coupon.torn_on)
    if (pull is None) != (how is None) or (pull is None) != (coupon.pull_curve == ""):
        raise MissingInput(
            "a pull curve is filed with its coupon and the machine's description",
            file=given.name,
            field="pull_curve",
            value=coupon.pull_curve,
            allowed="all three, or none and no pull curve named in the coupon",
            fix="give the missing file",
        )
    remarks: tuple[Remark, ...] = ()
    if pull is not None and how is not None:
        remarks = read_pull_curve(pull.data, parse_pull_description(how.data, how.name), pull.name).remarks
        if pull.name != coupon.pull_curve:
            raise BadInput(
                "is not the pull curve the coupon names",
                file=given.name,
                field="pull_curve",
                value=pull.name,
                allowed=coupon.pull_curve,
                fix="give that file",
            )
    return Ready(COUPON, coupon.label, (coupon.serial,), given, (Scope.INSPECT,), how=how, pull=pull, remarks=remarks)


def file_photograph(act: Act, outlines: Path, photograph: Path) -> EvidenceFiled:
    """File a photograph of a torn face with what was outlined on it, which may be nothing yet."""
    return file_outlines(act, outlines.name, taken(outlines), photograph.name, taken(photograph))


def file_outlines(act: Act, name: str, outlines: bytes, photo_name: str, photograph: bytes) -> EvidenceFiled:
    """The same from bytes at hand. Nobody outlines for another: the person named in it is the person acting."""
    given, photo = Handed(name, outlines), Handed(photo_name, photograph)
    read = read_outlined(outlines, photograph, name, photo_name)
    _refuse_future(act, given, "outlined_on", read.outlined_on)
    if read.named != photo_name:
        raise BadInput(
            "is not the photograph the outlines name", file=name, field="photograph", value=photo_name,
            allowed=read.named, fix="give that file",
        )  # fmt: skip
    if read.outlined_by != act.by:
        raise NotAuthorised(
            "is outlined by another person", file=name, field="outlined_by", value=read.outlined_by, allowed=act.by,
            fix="the person named in it files it",
        )  # fmt: skip
    refuse_unclear(read)
    _refuse_without_coupon(given, read.serial, read.label)
    _refuse_photograph_of_another(photo, read.serial)
    return file_ready(act, Ready(PHOTOGRAPH, read.label, (read.serial,), given, (Scope.INSPECT,), how=photo))


def file_dimensions(act: Act, path: Path) -> EvidenceFiled:
    """File a dimension sheet."""
    return file_ready(act, dimensions_ready(act, _at(path)))


def dimensions_ready(act: Act, given: Handed) -> Ready:
    """A dimension sheet."""
    sheet = read_dimension_sheet(given.data, given.name)
    _refuse_future(act, given, "measured_on", sheet.measured_on)
    _refuse_other_kinds(sheet)
    gauges = GAUGES.join(sorted({row.gauge for row in sheet.rows if row.gauge}))
    return Ready(DIMENSIONS, gauges, (sheet.serial,), given, (Scope.INSPECT,))


def _refuse_other_kinds(sheet: DimensionSheet) -> None:
    """An angle is not filed for a thickness: the number would be judged as if it were one."""
    drawing = read_drawing(blade_named(sheet.serial).drawing)
    for row in sheet.rows:
        kind = kind_of(drawing, row.feature)
        if kind is not None and kind != row.kind:
            raise BadInput(
                f"{row.feature} is not measured in that unit",
                file=sheet.source.file,
                row=row.row,
                column="value",
                value=row.text,
                allowed=f"a unit of {kind}",
                fix="measure it again, or correct the unit",
            )


def file_weighing(act: Act, path: Path) -> EvidenceFiled:
    """File a weighing against the master."""
    return file_ready(act, weighing_ready(act, _at(path)))


def weighing_ready(act: Act, given: Handed) -> Ready:
    """A weighing against the master."""
    weighing = read_weighing(given.data, given.name)
    _refuse_future(act, given, "weighed_on", weighing.weighed_on)
    return Ready(WEIGHING, weighing.rig, (weighing.serial,), given, (Scope.INSPECT, Scope.MAKE))


def file_void_map(act: Act, path: Path) -> EvidenceFiled:
    """File a void map. Nobody maps for another, and no void lies where the drawn blade has no such bond."""
    return file_ready(act, void_map_ready(act, _at(path)))


def void_map_ready(act: Act, given: Handed) -> Ready:
    """A void map, every place of it on the drawn blade."""
    void_map = read_void_map(given.data, given.name)
    _refuse_anothers(act, given, "found_by", void_map.found_by)
    _refuse_future(act, given, "found_on", void_map.found_on)
    wrong = unplaced(read_drawing(blade_named(void_map.serial).drawing), void_map)
    if wrong:
        raise SeveralBadInputs(wrong)
    return Ready(VOID_MAP, void_map.method, (void_map.serial,), given, (Scope.INSPECT,))


def sign(act: Act, path: Path) -> EvidenceFiled:
    """File a signed record. Nobody signs for another: the signer named in it is the person acting."""
    return file_ready(act, signed_ready(act, _at(path)))


def signed_ready(act: Act, given: Handed) -> Ready:
    """A signed record."""
    record = read_signed_record(given.data, given.name)
    _refuse_anothers(act, given, "signed_by", record.signed_by)
    _refuse_future(act, given, "signed_on", record.signed_on)
    return Ready(SIGNED, record.proof, (record.serial,), given, may_sign(record.proof))


def _refuse_anothers(act: Act, given: Handed, field: str, named: str) -> None:
    if named != act.by:
        raise NotAuthorised(
            "is signed by another person",
            file=given.name,
            field=field,
            value=named,
            allowed=act.by,
            fix="the person named in it files it",
        )


def _refuse_future(act: Act, given: Handed, field: str, done: datetime.date) -> None:
    """Nothing was done after the moment it is filed at: a slipped year, a wrong zone, or signed ahead of the work."""
    now = opened().clock(act.at)
    latest = now if isinstance(done, datetime.datetime) else now.date()
    if done > latest:
        raise BadInput(
            "lies in the future",
            file=given.name,
            field=field,
            value=done.isoformat(),
            allowed=f"{latest.isoformat()} or earlier",
            fix="check the date and, for a log, its zone and its clock; file it once it is done",
        )


def file_ready(act: Act, ready: Ready) -> EvidenceFiled:
    """Keep the files, then the rows; evidence whose hash is on file is not filed again."""
    serials, given, how, pull = ready.serials, ready.given, ready.how, ready.pull
    subject = serials[0] if len(serials) == 1 else f"{len(serials)} blades"
    with writing(act, f"{ready.kind} filed", subject, *ready.needs) as entry:
        already = on_file(act, ready) is not None
        if not already:
            row = entry.add(
                models.Evidence(
                    kind=ready.kind,
                    about=ready.about,
                    file=keep(entry, given.data, given.name),
                    description=keep(entry, how.data, how.name) if how else None,
                    pull=keep(entry, pull.data, pull.name) if pull else None,
                )
            )
            for serial in serials:
                entry.add(models.EvidenceOf(evidence=row, blade=blade_named(serial)))
        return EvidenceFiled(ready.kind, ready.about, serials, given.name, given.sha256, ready.remarks, already)


def on_file(act: Act, ready: Ready) -> models.Evidence | None:
    """The row of the very same evidence, or None; an error wherever it could not be filed. Writes nothing."""
    require(act, *ready.needs)
    blades = [blade_named(serial) for serial in ready.serials]
    found = models.Evidence.objects.filter(kind=ready.kind, file__sha256=ready.given.sha256).first()
    if found is not None:
        _refuse_other(found, ready.serials, ready.given, ready.how, ready.pull)
        return found
    for blade in blades:
        refuse_own_work(act, blade, ready.kind, ready.about)
    if ready.pull is not None:
        _refuse_shared_pull(ready.pull)
    return None


def _refuse_other(
    found: models.Evidence, serials: tuple[str, ...], given: Handed, how: Handed | None, pull: Handed | None
) -> None:
    """The same bytes may not become the evidence of another blade, or be read in another way."""
    before = tuple(sorted(found.blades.values_list("blade__serial", flat=True)))
    if before != serials:
        raise BadInput(
            f"is on file for {', '.join(before)}",
            file=given.name,
            field="serials",
            value=", ".join(serials),
            allowed=", ".join(before),
            fix="each run is filed once, for every blade that was in it",
        )
    files = {"description": (found.description, how), "pull_curve": (found.pull, pull)}
    for field, (old, new) in files.items():
        if (old.sha256 if old else None) != (new.sha256 if new else None):
            raise BadInput(
                "is on file with another file beside it",
                file=given.name,
                field=field,
                value=new.name if new else None,
                allowed=old.name if old else "none",
                fix="what was filed stays as it was filed",
            )


def _refuse_shared_pull(pull: Handed) -> None:
    other = models.Evidence.objects.select_related("file").filter(pull__sha256=pull.sha256).first()
    if other is not None:
        raise BadInput(
            f"is the pull curve of {other.file.name} already",
            file=pull.name,
            field="pull_curve",
            value=pull.name,
            allowed="a curve of its own for each coupon",
            fix="find the curve of this coupon",
        )


def _refuse_without_coupon(given: Handed, serial: str, label: str) -> None:
    coupons = models.Evidence.objects.filter(kind=COUPON, blades__blade__serial=blade_named(serial).serial)
    if not coupons.filter(about=label).exists():
        filed = ", ".join(coupons.values_list("about", flat=True))
        raise MissingInput(
            "is of a coupon that is not on file", file=given.name, field="label", value=label,
            allowed=filed or "a coupon on file", fix="file the torn coupon first",
        )  # fmt: skip


def _refuse_photograph_of_another(photo: Handed, serial: str) -> None:
    rows = models.EvidenceOf.objects.filter(evidence__kind=PHOTOGRAPH, evidence__description__sha256=digest(photo.data))
    other = rows.exclude(blade__serial=serial).values_list("blade__serial", flat=True).first()
    if other is not None:
        raise BadInput(
            f"is on file for {other}", file=photo.name, field="photograph", value=serial, allowed=other,
            fix="find the photograph of this coupon",
        )  # fmt: skip


def filed_for(blade: models.Blade) -> tuple[models.Evidence, ...]:
    """The rows of everything on file for a blade, in the order filed."""
    rows = models.Evidence.objects.select_related("file", "description", "pull", "event")
    return tuple(rows.filter(blades__blade=blade).order_by("id"))


def read_filed(rows: Sequence[models.Evidence]) -> BladeEvidence:
    """The evidence in the kept bytes, read again by the same readers."""

    def of(kind: str) -> list[models.Evidence]:
        return [row for row in rows if row.kind == kind]

    return BladeEvidence(
        cures=tuple(
            read_cure_log(
                kept(row.file),
                parse_logger_description(kept(_needed(row.description)), _needed(row.description).name),
                row.file.name,
            )
            for row in of(CURE)
        ),
        coupons=tuple(coupon_in(row) for row in of(COUPON)),
        sheets=tuple(read_dimension_sheet(kept(row.file), row.file.name) for row in of(DIMENSIONS)),
        weighings=tuple(read_weighing(kept(row.file), row.file.name) for row in of(WEIGHING)),
        signed=tuple(read_signed_record(kept(row.file), row.file.name) for row in of(SIGNED)),
        photographs=tuple(photograph_in(row) for row in of(PHOTOGRAPH)),
        void_maps=tuple(read_void_map(kept(row.file), row.file.name) for row in of(VOID_MAP)),
    )


def coupon_in(row: models.Evidence) -> tuple[Coupon, PullCurve | None]:
    """A coupon and its pull curve, read again."""
    coupon = read_coupon(kept(row.file), row.file.name)
    if row.pull is None:
        return coupon, None
    how = parse_pull_description(kept(_needed(row.description)), _needed(row.description).name)
    return coupon, read_pull_curve(kept(row.pull), how, row.pull.name)


def photograph_in(row: models.Evidence) -> OutlinedPhotograph:
    """The outlines and their photograph, read again."""
    photo = _needed(row.description)
    return read_outlined(kept(row.file), kept(photo), row.file.name, photo.name)


def _needed(file: models.StoredFile | None) -> models.StoredFile:
    assert file is not None  # a log or a curve is never filed without its description
    return file
