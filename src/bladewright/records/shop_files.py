"""Files about the shop itself: read first, kept whole, the newest of its name holding and the older ones as history."""

import contextlib
import datetime
import functools
from collections import defaultdict
from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass
from pathlib import Path
from typing import Any

from django.db.models import Exists, Max, OuterRef, Q, QuerySet

from bladewright.drawing.counting_rule import CountingRule
from bladewright.errors import BadInput, BladewrightError, MissingInput
from bladewright.evidence.freezer_log import Roll
from bladewright.figures import digest
from bladewright.proof.kitting import counted_in
from bladewright.records.acts import Act
from bladewright.records.authority import require
from bladewright.records.book import opened
from bladewright.records.chain import moment
from bladewright.records.keeping import keep, kept, taken
from bladewright.records.naming import refuse_look_alike, refuse_name
from bladewright.records.ready import models
from bladewright.records.shop_kinds import KINDS, LOGGER, ROLL, Given, OvenWithSensors, ShopKind, kind_named
from bladewright.records.writing import writing


@dataclass(frozen=True, slots=True)
class ShopFileLine:
    """One file about the shop. ``already``: these very bytes were the newest of their name before."""

    kind: str
    about: str
    file: str
    sha256: str
    beside: str  # the name of the file it is read by, "" where it needs none
    beside_sha256: str
    by: str
    at: datetime.datetime
    reason: str
    already: bool = True


def keep_shop_file(act: Act, kind: str, path: Path, beside: Path | None = None, *, described: str = "") -> ShopFileLine:
    """Keep a file about the shop. What its reader refuses is not kept.

    ``beside`` is the logger description it is read by; or ``described`` names one that is on file.
    """
    of = kind_named(kind)
    require(act, *of.needs)
    given = Given(path.name, taken(path))
    return keep_given(act, of, given, _beside(of, given, beside, described))


def keep_given(act: Act, of: ShopKind, given: Given, how: Given | None = None) -> ShopFileLine:
    """Keep bytes about the shop under a name, as ``keep_shop_file`` does."""
    kind = of.name
    read = of.read(given, how)
    about = of.about(read)
    refuse_name(about, "about")
    _refuse_future(act, of, given, read)
    with writing(act, f"{kind} kept", about, *of.needs) as entry:
        before = newest(kind, about)
        if before is not None and (before.sha256, before.beside_sha256) == (digest(given.data), _sha(how)):
            return before
        if before is None:
            refuse_look_alike(about, "about", models.ShopFile.objects.filter(kind=kind).values_list("about", flat=True))
        if isinstance(read, Roll):
            _refuse_unlike_lot(read, given)
        if before is not None:
            _refuse_lost_entries(act, contents(before), read, given)
        row = entry.add(
            models.ShopFile(
                kind=kind,
                about=about,
                file=keep(entry, given.data, given.name),
                beside=keep(entry, how.data, how.name) if how else None,
            )
        )
        return ShopFileLine(
            kind, about, row.file.name, row.file.sha256, row.beside.name if row.beside else "", _sha(how), act.by,
            act.at, act.reason, already=False,
        )  # fmt: skip


def standing(kind: str) -> tuple[ShopFileLine, ...]:
    """What holds now: the newest of each name, in order of name."""
    newest_ids = models.ShopFile.objects.filter(kind=kind).values("about").annotate(newest=Max("id")).values("newest")
    return tuple(_line(row) for row in _rows().filter(id__in=newest_ids).order_by("about"))


Shelf = Mapping[str, tuple[ShopFileLine, ...]]


def shelf(rolls_in_date: datetime.date) -> Shelf:
    """All that is on file about the shop, by kind, in one query; rolls out of date before that day are left out.

    What holds of each name; of kinds whose files speak for their own days, every file.
    """
    every = [kind.name for kind in KINDS.values() if kind.every]
    gone = models.Lot.objects.filter(lot=OuterRef("about"), expires_on__lt=rolls_in_date)
    rows = models.ShopFile.objects.exclude(kind__in=every).exclude(Q(kind=ROLL) & Exists(gone))
    newest_ids = rows.values("kind", "about").annotate(newest=Max("id")).values("newest")
    found: defaultdict[str, list[ShopFileLine]] = defaultdict(list)
    for row in _rows().filter(Q(id__in=newest_ids) | Q(kind__in=every)).order_by("kind", "about", "id"):
        found[row.kind].append(_line(row))
    return {kind: tuple(lines) for kind, lines in found.items()}


def history(kind: str, about: str = "") -> tuple[ShopFileLine, ...]:
    """Every file of a kind, or of one name, the oldest first."""
    rows = _rows().filter(kind=kind)
    return tuple(_line(row) for row in (rows.filter(about=about) if about else rows).order_by("id"))


def newest(kind: str, about: str) -> ShopFileLine | None:
    """What holds of one name, or None."""
    row = _rows().filter(kind=kind, about=about).order_by("-id").first()
    return None if row is None else _line(row)


def contents(line: ShopFileLine) -> Any:
    """What a kept file says, as its kind reads it."""
    return contents_of(line.kind, line.sha256, line.beside_sha256)


def readable(lines: Iterable[ShopFileLine]) -> Iterator[tuple[ShopFileLine, Any]]:
    """Each file with what it says; one that a newer reader refuses, or that is damaged, is left out."""
    for line in lines:
        with contextlib.suppress(BladewrightError):
            yield line, contents(line)


def unreadable(lines: Iterable[ShopFileLine]) -> Iterator[tuple[ShopFileLine, BladewrightError]]:
    """The files that ``readable`` leaves out, and why."""
    for line in lines:
        try:
            contents(line)
        except BladewrightError as error:
            yield line, error


@functools.lru_cache(maxsize=512)
def contents_of(kind: str, sha256: str, beside_sha256: str) -> Any:
    """The same bytes say the same, so they are read once."""
    how = stored(beside_sha256) if beside_sha256 else None
    return kind_named(kind).read(stored(sha256), how)


def stored(sha256: str) -> Given:
    file = models.StoredFile.objects.get(sha256=sha256)
    return Given(file.name, kept(file))


def _beside(of: ShopKind, given: Given, beside: Path | None, described: str) -> Given | None:
    """The file that was handed in beside it, or one of that name on file."""
    if beside is not None and described:
        raise BadInput(
            "was given twice", file=given.name, field="described", value=described,
            allowed="a file, or the name of one on file", fix="leave one out",
        )  # fmt: skip
    if not of.beside and (beside is not None or described):
        raise BadInput(
            "is not read by a second file", file=given.name, field="beside",
            value=beside.name if beside else described, allowed="no second file", fix="leave it out",
        )  # fmt: skip
    if beside is not None:
        return Given(beside.name, taken(beside))
    if not described:
        return None
    found = newest(LOGGER, described)
    if found is None:
        names = ", ".join(line.about for line in standing(LOGGER))
        raise MissingInput(
            "is not on file", file=given.name, field="described", value=described,
            allowed=names or "none is on file yet", fix="give the description's own file",
        )  # fmt: skip
    return stored(found.sha256)


def _refuse_future(act: Act, of: ShopKind, given: Given, read: Any) -> None:
    """Nothing was measured after the moment it is kept at; a roll's log is counted up to that moment."""
    now = opened().clock(act.at)
    if isinstance(read, Roll):
        counted_in(read, CountingRule(), now, given.name)
    done = of.latest(read)
    latest = now if isinstance(done, datetime.datetime) else now.date()
    if done is not None and done > latest:  # both are days, or both are moments
        raise BadInput(
            "lies in the future", file=given.name, field="date", value=done.isoformat(),
            allowed=f"{latest.isoformat()} or earlier", fix="check the date and, for a log, its zone and its clock",
        )  # fmt: skip


def _refuse_unlike_lot(roll: Roll, given: Given) -> None:
    """A roll is received like every other material, and its log may not say otherwise."""
    lot = models.Lot.objects.filter(lot=roll.number).first()
    if lot is None:
        raise MissingInput(
            "was never received", file=given.name, field="roll", value=roll.number, allowed="a lot in the book",
            fix="receive the roll first, under this name",
        )  # fmt: skip
    for field, said, known in (
        ("lot", roll.lot, lot.maker_lot),
        ("expires", roll.expires, lot.expires_on),
    ):
        if known not in ("", None) and said != known:
            raise BadInput(
                "is not what was received", file=given.name, field=field, value=str(said or "nothing"),
                allowed=str(known), fix="look at the roll's own label; if the receipt is wrong, set the roll aside",
            )  # fmt: skip


def _refuse_lost_entries(act: Act, before: Any, now: Any, given: Given) -> None:
    """A record only grows. Whoever takes back what it said, so that hours or a bad survey vanish, says why."""
    still = list(_said(now))
    lost = [what for what, entry in _said(before) if (what, entry) not in still]
    if lost and not act.reason.strip():
        raise MissingInput(
            f"no longer says what it said: {lost[0]}", file=given.name, field="reason", value=act.reason,
            allowed="every entry of the file it takes the place of, or why one is gone",
            fix="put the entry back, or say why it was wrong",
        )  # fmt: skip


def _said(read: Any) -> Iterator[tuple[str, object]]:
    """What a file says that the next one of its name has to say too: in words, with the entry itself."""
    if isinstance(read, Roll):
        for entry in read.entries:
            yield f"{entry.move} at {entry.at.isoformat()}", entry
        for gap in read.unlogged:
            yield f"unlogged from {gap.start.isoformat()}", gap
        for test in read.acceptance:
            yield f"test of {test.lot} on {test.date.isoformat()}", test
        for name in ("lot", "received", "before_receipt", "expires", "first_used"):
            if (value := getattr(read, name)) is not None:
                yield name, value
    if isinstance(read, OvenWithSensors):
        for survey in read.oven.surveys:
            yield f"survey of {survey.done_on.isoformat()}", survey
        for check in read.oven.checks:
            yield f"check of {check.channel} on {check.done_on.isoformat()}", check


def _sha(how: Given | None) -> str:
    return "" if how is None else digest(how.data)


def _rows() -> QuerySet[models.ShopFile]:
    return models.ShopFile.objects.select_related("file", "beside", "event")


def _line(row: models.ShopFile) -> ShopFileLine:
    beside = row.beside
    return ShopFileLine(
        row.kind, row.about, row.file.name, row.file.sha256, beside.name if beside else "",
        beside.sha256 if beside else "", row.event.by, moment(row.event.at), row.event.reason,
    )  # fmt: skip
