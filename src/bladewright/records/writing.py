"""The only way into the book: one transaction, its rows, and one event that holds them all."""

import contextlib
import datetime
from collections.abc import Iterator
from pathlib import Path
from typing import TypeVar

from django.db import Error, connection, transaction
from django.db import models as fields

from bladewright.errors import (
    AlreadyEntered,
    BadInput,
    BookBusy,
    BookDamaged,
    ComputerRefused,
    HeadNotKept,
    Outdated,
)
from bladewright.figures import canonical
from bladewright.records import chain, databases, heads
from bladewright.records.acts import Act, Scope
from bladewright.records.authority import require
from bladewright.records.book import opened
from bladewright.records.ready import models

AnyRow = TypeVar("AnyRow", bound=models.Row)


def plain_row(row: fields.Model) -> dict[str, object]:
    """A row as its columns, ready for canonical JSON."""
    found: dict[str, object] = {}
    for field in row._meta.local_concrete_fields:
        value = getattr(row, field.attname)
        found[field.column] = value.isoformat() if isinstance(value, datetime.date) else value
    return found


class Entry:
    """What one act writes. Nothing added means nothing happened, and no event is written."""

    def __init__(self, act: Act, number: int) -> None:
        self.act = act
        self.number = number
        self.rows: list[dict[str, object]] = []

    def add(self, row: AnyRow) -> AnyRow:
        """Insert a row as part of this act."""
        row.event_id = self.number
        row.save(force_insert=True)
        self.rows.append({"table": row._meta.db_table, "row": plain_row(row)})
        return row


@contextlib.contextmanager
def writing(act: Act, kind: str, subject: str, *needs: Scope) -> Iterator[Entry]:
    """One act in the book: all or nothing. ``needs``: any one of these authorisations will do."""
    book = opened()
    if not book.writable:
        raise BadInput("is open for reading only", file=str(book.folder), fix="open it for writing")
    made = None
    try:
        with transaction.atomic():
            databases.kind_of(book).take_turn(book)
            newest = models.Event.objects.order_by("-number").first()
            number, previous = (newest.number + 1, newest.hash) if newest else (1, chain.START)
            refuse_again(act)
            _refuse_stale(act, subject)
            if needs:
                require(act, *needs)
            entry = Entry(act, number)
            yield entry
            if entry.rows:
                if act.once:
                    entry.add(models.Once(token=act.once))
                heads.refuse_unwritable(book.folder)
                made = _event(entry, kind, subject, {"rows": entry.rows}, previous)
    except Error as error:
        if made is None or not _is_written_after_all(made, error):
            raise said(error, book.tables) from error
    if made is not None:
        _keep_head(book.folder, heads.Head(made.number, made.hash))


def refuse_repeated(act: Act, subject: str) -> None:
    """What ``writing`` refuses before anything else, for a service that must read first what it then changes."""
    refuse_again(act)
    _refuse_stale(act, subject)


def newest_about(subject: str) -> int:
    """The number of the newest event about a serial, a lot, a set, a person ...; 0 if there is none."""
    own = models.Event.objects.filter(subject=subject).aggregate(newest=fields.Max("number"))["newest"]
    filed = models.EvidenceOf.objects.filter(blade__serial=subject).aggregate(newest=fields.Max("event_id"))["newest"]
    return max(own or 0, filed or 0)


def _is_written_after_all(made: models.Event, error: Error) -> bool:
    """A server that went away while it was told to finish may have finished: ask it again, in our turn behind that."""
    if databases.meaning_of(error) is not databases.Meaning.AWAY:
        return False
    book = opened()
    connection.close()
    try:
        with transaction.atomic():
            databases.kind_of(book).take_turn(book)
            return models.Event.objects.filter(number=made.number, hash=made.hash).exists()
    except Error as again:
        raise ComputerRefused(
            "went away while this was being written: whether it is in the book cannot be told",
            file=book.tables,
            field="event",
            value=made.number,
            allowed="a server that answers",
            fix="when it answers again, look whether it is there before you enter it again",
        ) from again


def refuse_again(act: Act) -> None:
    """``AlreadyEntered`` if the form this act came from has written before."""
    done = models.Once.objects.select_related("event").filter(token=act.once).first() if act.once else None
    if done is not None:
        raise AlreadyEntered(
            f"was entered already: {done.event.kind}, {done.event.subject}, by {done.event.by}",
            field="once",
            value=done.event.number,
            allowed="each form sent once",
            fix="nothing is to be done: it is in the book once",
        )


def _refuse_stale(act: Act, subject: str) -> None:
    """``Outdated`` if something about the subject was written after the person looked at it."""
    if act.seen is None or newest_about(subject) <= act.seen:
        return
    later = models.Event.objects.filter(subject=subject, number__gt=act.seen).order_by("-number").first()
    told = f"{later.kind}, by {later.by}" if later else "evidence was filed"
    raise Outdated(
        f"was written to since this page was shown: {told}",
        field="seen",
        value=subject,
        allowed="a page that shows the newest entry",
        fix="look at what is new, then decide again",
    )


def _keep_head(folder: Path, head: heads.Head) -> None:
    try:
        heads.append(folder, [head])
    except ComputerRefused as error:
        raise HeadNotKept(
            f"event {head.number} is in the book, but not yet in the log of heads: {error.what}",
            file=error.file,
            field="event",
            value=head.number,
            allowed=error.allowed,
            fix="mend that; the next command that writes in the book adds what the log lacks",
        ) from error


def first_event(act: Act, card: dict[str, object]) -> heads.Head:
    """The event every book begins with: which book it is."""
    with transaction.atomic():
        made = _event(Entry(act, 1), "book begun", str(card["id"]), {"book": card}, chain.START)
    return heads.Head(made.number, made.hash)


def record_of(event: models.Event) -> dict[str, object]:
    """What an event's hash is taken over, besides the hash before it."""
    return {
        "number": event.number,
        "kind": event.kind,
        "subject": event.subject,
        "by": event.by,
        "at": event.at,
        "reason": event.reason,
        "body": event.body,
    }


def _event(entry: Entry, kind: str, subject: str, body: object, previous: str) -> models.Event:
    event = models.Event(
        number=entry.number,
        kind=kind,
        subject=subject,
        by=entry.act.by,
        at=chain.utc_text(entry.act.at),
        reason=entry.act.reason,
        body=canonical(body).decode("utf-8"),
        previous=previous,
    )
    event.hash = chain.link(previous, record_of(event))
    event.save(force_insert=True)
    return event


def said(error: BaseException, file: str) -> BookBusy | BookDamaged | ComputerRefused:
    """A database's complaint in words a person can act on."""
    match databases.meaning_of(error):
        case databases.Meaning.BUSY:
            return BookBusy(
                "somebody else is writing in the book; nothing was changed", file=file, fix="try again in a moment"
            )
        case databases.Meaning.REFUSED:
            return ComputerRefused.because(OSError(f"{str(error).strip()}; nothing was changed"), file)
        case databases.Meaning.DENIED:
            return ComputerRefused(
                f"the server refused: {str(error).strip()}; nothing was changed",
                file=file,
                allowed="a server with room on its disk, whose user may make the book's schema and write in it",
                fix="let whoever looks after the server see to it, then do it again",
            )
        case databases.Meaning.AWAY:
            return ComputerRefused(
                f"the server does not answer: {str(error).strip()}; nothing was changed",
                file=file,
                allowed="a PostgreSQL server that runs and lets this book's user in",
                fix="see that the server runs and that BLADEWRIGHT_POSTGRES is its address, then do it again",
            )
    return BookDamaged(
        f"the database refused: {str(error).strip()}; nothing was changed",
        file=file,
        fix="check the book; put back a backup",
    )
