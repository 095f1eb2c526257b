"""Files dropped on a blade: told apart, read and judged as they would be if they were filed; nothing is written."""

import datetime
from collections.abc import Callable, Iterable, Mapping, Sequence
from dataclasses import dataclass
from typing import Final

from bladewright.errors import BadInput, BladewrightError, MissingInput, NotAuthorised, SeveralBadInputs
from bladewright.evidence.coupon import read_coupon
from bladewright.evidence.records import Channel, Remark
from bladewright.evidence.told_apart import FileKind, kind_of_file
from bladewright.figures import WORST_FIRST, Finding
from bladewright.records import evidence, holding
from bladewright.records.acts import Act, Scope
from bladewright.records.chain import moment
from bladewright.records.evidence import EvidenceFiled, Ready
from bladewright.records.holding import Handed
from bladewright.records.keeping import kept
from bladewright.records.read_out import Read, read_out
from bladewright.records.ready import models
from bladewright.records.writing import refuse_again

FILE, HOW, PULL = "file", "description", "pull"
#: filing these is signing them
SIGNED_FOR: Final = (evidence.SIGNED, evidence.VOID_MAP)
#: of everything dropped at once; our own choice
MOST_FILES: Final = 24


@dataclass(frozen=True, slots=True)
class OnFile:
    """The very same evidence, filed before."""

    sha256: str
    by: str
    at: datetime.datetime


@dataclass(frozen=True, slots=True)
class Preview:
    """One piece of evidence as it would be filed: what was read of it, and what its rules would find."""

    key: str  # by which it is filed
    kind: str
    about: str
    serials: tuple[str, ...]
    files: tuple[tuple[str, str, str], ...]  # part, name, SHA-256
    read: tuple[tuple[str, str], ...]  # what was read, in words
    channels: tuple[Channel, ...]
    remarks: tuple[Remark, ...]
    findings: tuple[Finding, ...]  # the worst first
    on_file: OnFile | None
    needs: tuple[Scope, ...]


@dataclass(frozen=True, slots=True)
class Unread:
    """A file that cannot be filed as it is, and everything wrong with it."""

    kind: str
    file: str
    errors: tuple[BladewrightError, ...]


@dataclass(frozen=True, slots=True)
class Described:
    """A description that was filed with evidence before, to read the next file by."""

    sha256: str
    name: str


def look(
    act: Act, serial: str, handed: Sequence[Handed], *, mates: Sequence[str] = (), logger: str = "", machine: str = ""
) -> tuple[Preview | Unread, ...]:
    """Every piece of evidence among some files. ``mates`` were in the mould with this blade.

    ``logger`` and ``machine`` are descriptions on file, by hash, for readings that come without one.
    """
    if len(handed) > MOST_FILES:
        raise BadInput(
            "are too many at once", field="handed", value=len(handed), allowed=f"{MOST_FILES} at once", fix="drop fewer"
        )
    sorted_, found = _sorted(handed)
    hows = {
        FileKind.LOGGER: _only(sorted_[FileKind.LOGGER], logger),
        FileKind.PULL: _only(sorted_[FileKind.PULL], machine),
    }
    tables = list(sorted_[FileKind.READINGS])
    for coupon in sorted_[FileKind.COUPON]:
        pull = _named_by(coupon, tables)
        if pull is not None:
            tables.remove(pull)
        how = hows[FileKind.PULL] if pull is not None else None
        found.append(_looked(act, serial, FileKind.COUPON, {FILE: coupon, PULL: pull, HOW: how}))
    for table in tables:
        parts = {FILE: table, HOW: hows[FileKind.LOGGER]}
        found.append(_looked(act, serial, FileKind.READINGS, parts, mates))
    for kind in (FileKind.DIMENSIONS, FileKind.WEIGHING, FileKind.VOID_MAP, FileKind.SIGNED):
        found += [_looked(act, serial, kind, {FILE: file}) for file in sorted_[kind]]
    if not found:
        raise MissingInput(
            "holds no evidence by itself", field="handed", value=", ".join(file.name for file in handed),
            allowed="a log, a sheet, a coupon, a weighing, a void map or a signed record",
            fix="drop the readings together with their description",
        )  # fmt: skip
    return tuple(found)


def looked_at_before(act: Act, serial: str, key: str) -> Preview | Unread | None:
    """What is held under a key, looked at once more; None once it is gone."""
    try:
        it = holding.held(act, key)
    except BadInput:
        return None
    return _looked(act, serial, FileKind(it.kind), it.files(), [one for one in it.serials if one != serial])


def file_looked_at(act: Act, key: str, *, signed: bool = False) -> EvidenceFiled:
    """File what was looked at under this key: the same bytes, once. ``signed``: the person proved themselves for it."""
    refuse_again(act)  # what was filed is held no longer: sent once more, it must not read as if it were not filed
    it = holding.held(act, key)
    ready = _ready(act, FileKind(it.kind), it.files(), it.serials)
    if ready.kind in SIGNED_FOR and not signed:
        raise NotAuthorised(
            f"a {ready.kind} is filed by signing it", field="secret", value=ready.kind,
            allowed="the person named in it, who proves themselves", fix="enter your secret with it",
        )  # fmt: skip
    done = evidence.file_ready(act, ready)
    holding.release(key)
    return done


def descriptions_on_file(kind: str) -> tuple[Described, ...]:
    """Descriptions that evidence of a kind was read by, the last used first."""
    used = models.Evidence.objects.filter(kind=kind, description__isnull=False)
    rows = used.order_by("-id").values_list("description__sha256", "description__name")[:200]
    return tuple(Described(*row) for row in dict.fromkeys(rows))


def _sorted(handed: Sequence[Handed]) -> tuple[dict[FileKind, list[Handed]], list[Preview | Unread]]:
    sorted_: dict[FileKind, list[Handed]] = {kind: [] for kind in FileKind}
    unread: list[Preview | Unread] = []
    for file in dict.fromkeys(handed):
        try:
            sorted_[kind_of_file(file.data, file.name)].append(file)
        except BladewrightError as error:
            unread.append(_unread("", file, error))
    return sorted_, unread


def _only(files: Sequence[Handed], on_file: str) -> Handed | None:
    """The one description to read by: the one handed in, else the one chosen."""
    if len(files) > 1:
        raise BadInput(
            "are two descriptions", field="handed", value=", ".join(file.name for file in files),
            allowed="one description for what is dropped at once", fix="drop each log with its own description",
        )  # fmt: skip
    if files or not on_file:
        return files[0] if files else None
    row = models.StoredFile.objects.filter(sha256=on_file).first()
    if row is None:
        raise MissingInput(
            "is not on file", field="description", value=on_file[:12], allowed="a description on file", fix="choose one"
        )
    return Handed(row.name, kept(row))


def _named_by(coupon: Handed, tables: Iterable[Handed]) -> Handed | None:
    """The pull curve a coupon names, among the tables handed in with it."""
    try:
        name = read_coupon(coupon.data, coupon.name).pull_curve
    except BladewrightError:
        return None  # what is wrong with the coupon is said when it is read for filing
    return next((table for table in tables if table.name == name), None)


def _looked(
    act: Act, serial: str, kind: FileKind, parts: Mapping[str, Handed | None], mates: Sequence[str] = ()
) -> Preview | Unread:
    files = {part: file for part, file in parts.items() if file is not None}
    try:
        ready = _ready(act, kind, files, (serial, *mates))
        if serial not in ready.serials:
            raise BadInput(
                f"is evidence of {', '.join(ready.serials)}", file=ready.given.name, field="serial",
                value=", ".join(ready.serials), allowed=serial, fix="drop it on the page of the blade it belongs to",
            )  # fmt: skip
        before = evidence.on_file(act, ready)
        read = read_out(ready)
    except BladewrightError as error:
        return _unread(kind, files[FILE], error)
    return _preview(act, kind, ready, files, before, read)


def _preview(
    act: Act, kind: FileKind, ready: Ready, files: Mapping[str, Handed], before: models.Evidence | None, read: Read
) -> Preview:
    return Preview(
        key="" if before else holding.hold(act, kind, ready.serials, files),
        kind=ready.kind,
        about=ready.about,
        serials=ready.serials,
        files=tuple((part, file.name, file.sha256) for part, file in files.items()),
        read=read.told,
        channels=read.channels,
        remarks=read.remarks,
        findings=tuple(sorted(read.findings, key=lambda finding: WORST_FIRST.index(finding.outcome))),
        on_file=OnFile(before.file.sha256, before.event.by, moment(before.event.at)) if before else None,
        needs=ready.needs,
    )


def _ready(act: Act, kind: FileKind, files: Mapping[str, Handed], serials: Sequence[str]) -> Ready:
    file, how = files[FILE], files.get(HOW)
    if kind is FileKind.READINGS:
        if how is None:
            raise MissingInput(
                "is a table of readings without its logger description", file=file.name, field="description",
                allowed="the description of the logger that wrote it",
                fix="drop the description with it or choose one on file; a pull curve is dropped with its coupon",
            )  # fmt: skip
        return evidence.cure_ready(act, serials, file, how)
    if kind is FileKind.COUPON:
        return evidence.coupon_ready(act, file, files.get(PULL), how)
    return _BY_ITSELF[kind](act, file)


_BY_ITSELF: Final[dict[FileKind, Callable[[Act, Handed], Ready]]] = {
    FileKind.DIMENSIONS: evidence.dimensions_ready,
    FileKind.WEIGHING: evidence.weighing_ready,
    FileKind.VOID_MAP: evidence.void_map_ready,
    FileKind.SIGNED: evidence.signed_ready,
}


def _unread(kind: str, file: Handed, error: BladewrightError) -> Unread:
    errors = error.errors if isinstance(error, SeveralBadInputs) else (error,)
    return Unread(kind, file.name, tuple(errors))
