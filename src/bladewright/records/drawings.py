"""Drawing revisions: their bytes, who filed them, and the second person who approved them."""

import functools
from collections.abc import Mapping
from dataclasses import dataclass
from pathlib import Path

from django.db.models import QuerySet

from bladewright.drawing.editing import typed_in, with_values
from bladewright.drawing.file import BladeDrawing, parse_drawing
from bladewright.errors import BadInput, MissingInput, NotAuthorised, Outdated
from bladewright.records.acts import Act, Scope
from bladewright.records.keeping import keep, kept, taken
from bladewright.records.naming import refuse_name
from bladewright.records.ready import models
from bladewright.records.writing import writing


@dataclass(frozen=True, slots=True)
class DrawingLine:
    """One revision of a drawing. ``approved_by`` is empty until somebody has."""

    name: str
    revision: str
    sha256: str
    filed_by: str
    approved_by: str = ""
    already: bool = True


def file_drawing(act: Act, path: Path, revision: str) -> DrawingLine:
    """File a drawing as a revision. What does not read as a drawing is not filed."""
    return _filed(act, taken(path), path.name, revision)


def file_draft(act: Act, name: str, base: str, changes: Mapping[str, str], revision: str) -> DrawingLine:
    """File a revision with some fields typed anew, its other lines untouched; another person approves it.

    ``Outdated`` where the base is no longer the newest revision: what was drawn since would be lost.
    """
    row = drawing_named(name, base)
    data, file = kept(row.file), row.file.name
    drawn = _parsed(data, file)
    changed = with_values(data, {field: typed_in(drawn, field, text) for field, text in changes.items()}, file)
    return _filed(act, changed, file, revision, after=row)


def _filed(act: Act, data: bytes, file: str, revision: str, after: models.Drawing | None = None) -> DrawingLine:
    drawing = parse_drawing(data, file)
    refuse_name(revision, "revision")
    refuse_name(drawing.name, "name")
    with writing(act, "drawing filed", f"{drawing.name} {revision}", Scope.DRAW) as entry:
        if after is not None:
            _refuse_overtaken(after)
        stored = keep(entry, data, file)
        same = models.Drawing.objects.filter(file=stored).first()
        if same is not None and (same.name, same.revision) == (drawing.name, revision):
            return _line(same)
        taken_by = same or models.Drawing.objects.filter(name=drawing.name, revision=revision).first()
        if taken_by is not None:
            raise BadInput(
                f"is filed as {taken_by.name} revision {taken_by.revision}" if same else "is another file already",
                file=file,
                field="revision",
                value=revision,
                allowed="each file one revision, each revision one file",
                fix="give a changed drawing a new revision",
            )
        made = entry.add(models.Drawing(file=stored, name=drawing.name, revision=revision))
        return _line(made, already=False, filed_by=act.by)


def approve_drawing(act: Act, name: str, revision: str) -> DrawingLine:
    """Another person's yes to a revision."""
    with writing(act, "drawing approved", f"{name} {revision}", Scope.APPROVE) as entry:
        drawing = drawing_named(name, revision)
        if drawing.event.by == act.by:
            raise NotAuthorised(
                "is approved by somebody who did not file it",
                field="by",
                value=act.by,
                allowed="another person authorised to approve drawings",
                fix="ask another person",
            )
        if models.DrawingApproval.objects.filter(drawing=drawing).exists():
            return _line(drawing)
        later = _rows().filter(name=name, id__gt=drawing.id, approval__isnull=False).order_by("-id").first()
        if later is not None:
            raise BadInput(
                f"is older than revision {later.revision}, which is approved",
                field="revision",
                value=revision,
                allowed="a revision drawn after the approved one",
                fix=f"draw what is wanted of it as a change of revision {later.revision}",
            )
        entry.add(models.DrawingApproval(drawing=drawing))
        return _line(drawing, already=False, approved_by=act.by)


def _refuse_overtaken(base: models.Drawing) -> None:
    """``Outdated`` if a revision of the same drawing was filed after this one."""
    newest = _rows().filter(name=base.name).order_by("-id").first()
    if newest is not None and newest.id != base.id:
        raise Outdated(
            f"was drawn on revision {base.revision}, but revision {newest.revision} was filed since "
            f"by {newest.event.by}; nothing was filed",
            field="base",
            value=base.revision,
            allowed=f"a change of the newest revision, {newest.revision}",
            fix=f"look at what revision {newest.revision} changes, and draw on that",
        )


def all_drawings() -> tuple[DrawingLine, ...]:
    """Every revision, in the order filed."""
    return tuple(_line(row) for row in _rows().order_by("id"))


def drawing_named(name: str, revision: str) -> models.Drawing:
    """The row of a revision; ``MissingInput`` if it was never filed."""
    found = _rows().filter(name=name, revision=revision).first()
    if found is None:
        raise MissingInput(
            "is not in the book",
            field="drawing",
            value=f"{name} revision {revision}",
            allowed=", ".join(f"{row.name} {row.revision}" for row in _rows().order_by("id")) or "none filed yet",
            fix="file the drawing first",
        )
    return found


def approved(name: str, revision: str) -> models.Drawing:
    """The row of a revision that may be built to."""
    drawing = drawing_named(name, revision)
    if not models.DrawingApproval.objects.filter(drawing=drawing).exists():
        raise MissingInput(
            "is not approved",
            field="drawing",
            value=f"{name} revision {revision}",
            allowed="an approved revision",
            fix="another person approves it first",
        )
    return drawing


def read_filed(drawing: models.Drawing) -> BladeDrawing:
    """The drawing in its filed bytes."""
    return _parsed(kept(drawing.file), drawing.file.name)


@functools.lru_cache(maxsize=8)
def _parsed(data: bytes, name: str) -> BladeDrawing:
    return parse_drawing(data, name)


def _rows() -> QuerySet[models.Drawing]:
    return models.Drawing.objects.select_related("file", "event")


def _line(
    row: models.Drawing, *, already: bool = True, filed_by: str | None = None, approved_by: str | None = None
) -> DrawingLine:
    yes = models.DrawingApproval.objects.select_related("event").filter(drawing=row).first()
    return DrawingLine(
        name=row.name,
        revision=row.revision,
        sha256=row.file.sha256,
        filed_by=filed_by or row.event.by,
        approved_by=approved_by or (yes.event.by if yes else ""),
        already=already,
    )
