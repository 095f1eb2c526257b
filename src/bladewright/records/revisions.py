"""Drawing revisions to look at: who filed them and why, who approved them, and which may be built to today."""

import datetime
from collections.abc import Iterable
from dataclasses import dataclass

from django.db.models import Count

from bladewright.drawing.file import BladeDrawing
from bladewright.records.drawings import drawing_named, read_filed
from bladewright.records.keeping import kept
from bladewright.records.ready import models

RELEASED, DRAFT, SUPERSEDED, LEFT = "released", "draft", "superseded", "superseded draft"


@dataclass(frozen=True, slots=True)
class RevisionLine:
    """One revision of a drawing. ``approved_by`` is empty until somebody has."""

    name: str
    revision: str
    standing: str  # released: the newest approved; draft: the newest, while nobody has approved it
    filed_by: str
    filed_at: datetime.datetime
    why: str
    approved_by: str
    approved_at: datetime.datetime | None
    blades: int  # serials made to it


@dataclass(frozen=True, slots=True)
class Revision:
    """One revision with its file, and where it stands among those of its drawing."""

    line: RevisionLine
    file: str
    data: bytes
    drawing: BladeDrawing
    newest: str  # revision filed last
    released: str  # revision approved last; empty while none is

    @property
    def is_newest(self) -> bool:
        """Whether a change may be drawn on it."""
        return self.newest == self.line.revision


def revisions(name: str = "") -> tuple[RevisionLine, ...]:
    """Every revision, of one drawing or of all: drawings by name, the newest revision of each first."""
    every = models.Drawing.objects.select_related("event", "approval__event").order_by("name", "-id")
    rows = list(every.filter(name=name) if name else every)
    made = {
        found["drawing"]: found["blades"]
        for found in models.Blade.objects.filter(drawing__in=rows).values("drawing").annotate(blades=Count("id"))
    }
    return tuple(_lines(rows, made))


def revision_of(name: str, revision: str) -> Revision:
    """One revision; ``MissingInput`` if it was never filed."""
    row = drawing_named(name, revision)
    lines = revisions(name)
    return Revision(
        line=next(line for line in lines if line.revision == revision),
        file=row.file.name,
        data=kept(row.file),
        drawing=read_filed(row),
        newest=lines[0].revision,
        released=next((line.revision for line in lines if line.standing == RELEASED), ""),
    )


def _lines(rows: Iterable[models.Drawing], made: dict[int, int]) -> Iterable[RevisionLine]:
    newest, released = "", ""
    for row in rows:
        approval = getattr(row, "approval", None)
        standing = SUPERSEDED if approval else LEFT
        if approval and released != row.name:
            standing, released = RELEASED, row.name
        elif not approval and newest != row.name:
            standing = DRAFT
        newest = row.name
        yield RevisionLine(
            name=row.name,
            revision=row.revision,
            standing=standing,
            filed_by=row.event.by,
            filed_at=datetime.datetime.fromisoformat(row.event.at),
            why=row.event.reason,
            approved_by=approval.event.by if approval else "",
            approved_at=datetime.datetime.fromisoformat(approval.event.at) if approval else None,
            blades=made.get(row.id, 0),
        )
