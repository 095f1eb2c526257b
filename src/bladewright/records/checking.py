"""Does the book agree with itself? Tables, files, chain, guards, and the heads that were kept outside."""

import json
from collections.abc import Iterator
from dataclasses import dataclass
from typing import Final

from django.db import Error, connection
from django.db.models import DateField, Model

from bladewright.errors import BookDamaged
from bladewright.figures import canonical, digest
from bladewright.records import chain, databases, guards, heads
from bladewright.records.book import opened
from bladewright.records.keeping import path_of
from bladewright.records.ready import models
from bladewright.records.writing import record_of, said

GUARDS: Final = "guards"


@dataclass(frozen=True, slots=True)
class Complaint:
    """One thing that is not as it was written."""

    where: str
    what: str


@dataclass(frozen=True, slots=True)
class Checked:
    """What was compared, and everything that did not agree."""

    events: int
    rows: int
    files: int
    head: str
    complaints: tuple[Complaint, ...]

    @property
    def sound(self) -> bool:
        """Whether nothing disagreed."""
        return not self.complaints

    def condensed(self) -> tuple[Complaint, ...]:
        """The complaints for a person to read: guards that are gone in one line, with the tables they stood over."""
        gone = tuple(item for item in self.complaints if item.where == GUARDS)
        if len(gone) < 2:
            return self.complaints
        tables = [model._meta.db_table for model in guards.tables()]
        bare = [table for table in tables if any(f"keep_{table}_" in item.what for item in gone)]
        over = "every table" if bare == tables else ", ".join(bare)
        line = Complaint(GUARDS, f"{len(gone)} are gone, over {over}; upgrade-book puts them back")
        return (line, *(item for item in self.complaints if item.where != GUARDS))


def check(*, printed_head: str = "") -> Checked:
    """Compare everything with everything. ``printed_head``: a chain head read from a paper, to be looked for too."""
    kept = heads.logged(opened().folder)  # first: the log only ever follows the tables
    try:
        with databases.in_use().one_moment():
            return _check(kept, printed_head)
    except Error as error:
        raise said(error, opened().tables) from error


def refuse_disagreeing() -> None:
    """``BookDamaged`` if anything disagrees: nothing leaves the shop on the word of a book that was tampered with."""
    found = check()
    if found.complaints:
        worst = found.complaints[0]
        raise BookDamaged(
            f"does not agree with itself: {worst.where} {worst.what}",
            file=str(opened().folder),
            field=worst.where,
            value=f"{len(found.complaints)} things do not agree",
            allowed="a book that agrees with itself",
            fix="check the book to see everything; put back the newest backup",
        )


def _check(kept: tuple[heads.Head, ...], printed_head: str) -> Checked:
    complaints = [Complaint(where, what) for where, what in databases.in_use().torn()]
    complaints += [Complaint(GUARDS, f"{name} is gone") for name in guards.missing_guards()]
    events = list(models.Event.objects.order_by("number"))
    complaints += _chain(events)
    complaints += _heads(events, kept, printed_head)
    written, of_events = _rows_of(events)
    complaints += of_events
    rows, of_rows = _rows(written)
    complaints += of_rows
    files, of_files = _files()
    complaints += of_files
    return Checked(len(events), rows, files, events[-1].hash if events else "", tuple(complaints))


def _chain(events: list[models.Event]) -> Iterator[Complaint]:
    previous = chain.START
    for place, event in enumerate(events, 1):
        where = f"event {event.number}"
        if event.number != place:
            yield Complaint(where, f"stands where event {place} should be")
            return
        if event.previous != previous:
            yield Complaint(where, "does not follow from the one before it")
        if chain.link(event.previous, record_of(event)) != event.hash:
            yield Complaint(where, "was changed after it was written")
        previous = event.hash
    if not events:
        yield Complaint("events", "there are none")
    elif events[0].body != canonical({"book": opened().card()}).decode("utf-8"):
        yield Complaint("book.toml", "does not say what the first event says")


def _heads(events: list[models.Event], kept: tuple[heads.Head, ...], printed_head: str) -> Iterator[Complaint]:
    hashes = {event.number: event.hash for event in events}
    if not kept:
        yield Complaint("heads", f"the log of chain heads is gone: {heads.log_of(opened().folder).name}")
    for head in kept:
        if head.number not in hashes:
            yield Complaint("heads", f"event {head.number} was written and is gone: the end was cut off")
        elif hashes[head.number] != head.hash:
            yield Complaint("heads", f"event {head.number} is not the one that was written")
    if printed_head and printed_head not in hashes.values():
        yield Complaint("heads", f"the head {printed_head[:16]}... of a paper is not in the chain")


Written = dict[tuple[str, object], dict[str, object]]


def _rows_of(events: list[models.Event]) -> tuple[Written, list[Complaint]]:
    """What the events say was written, each row once."""
    found: Written = {}
    complaints = []
    for event in events:
        where = f"event {event.number}"
        try:
            rows = {(item["table"], item["row"]["id"]): item["row"] for item in json.loads(event.body).get("rows", ())}
        except (ValueError, KeyError, TypeError, AttributeError) as error:
            complaints.append(Complaint(where, f"cannot be read: {error}"))
            continue
        for (table, number), row in rows.items():
            if (table, number) in found or row.get("event_id") != event.number:
                complaints.append(Complaint(where, f"writes {table} row {number} again"))
        found |= rows
    return found, complaints


def _rows(written: Written) -> tuple[int, list[Complaint]]:
    """Every row against its event, both ways. Read without the models: what was forged need not fit them."""
    complaints = []
    left = dict(written)
    count = 0
    for model in guards.tables():
        if model is models.Event:
            continue
        table = model._meta.db_table
        for row in _raw(model):
            count += 1
            as_said = left.pop((table, row["id"]), None)
            if as_said is None:
                complaints.append(Complaint(f"table {table}", f"row {row['id']} was never written by an event"))
            elif as_said != row:
                complaints.append(Complaint(f"table {table}", f"row {row['id']} was changed after it was written"))
    complaints += [Complaint(f"table {table}", f"row {number} is gone") for table, number in left]
    return count, complaints


def _raw(model: type[Model]) -> Iterator[dict[str, object]]:
    """The rows as they stand. Days as text: read as days, one that is no day would come back as none at all."""
    fields = model._meta.local_concrete_fields
    names = [f'CAST("{f.column}" AS TEXT)' if isinstance(f, DateField) else f'"{f.column}"' for f in fields]
    with connection.cursor() as cursor:
        cursor.execute(f'SELECT {", ".join(names)} FROM "{model._meta.db_table}" ORDER BY "id"')
        for values in cursor.fetchall():
            yield dict(zip([field.column for field in fields], values, strict=True))


def _files() -> tuple[int, list[Complaint]]:
    """Every kept file still itself. Files without a row are left over from an act that was never finished."""
    complaints = []
    rows = models.StoredFile.objects.order_by("id")
    for row in rows:
        path = path_of(row.sha256)
        if not path.is_file():
            complaints.append(Complaint(f"file {row.name}", "is gone"))
        elif digest(path.read_bytes()) != row.sha256:
            complaints.append(Complaint(f"file {row.name}", "was changed after it was filed"))
    complaints += [
        Complaint(f"verdict {verdict.pk}", "does not have the hash it was kept under")
        for verdict in models.Verdict.objects.order_by("id")
        if digest(verdict.body.encode("utf-8")) != verdict.sha256
    ]
    return len(rows), complaints
