"""Serials by the page: however many blades the book holds, a page costs the same."""

from dataclasses import dataclass
from typing import Final

from django.db.models import OuterRef, Subquery

from bladewright.records.blades import BladeLine
from bladewright.records.ready import models

#: lines on a page
PAGE: Final = 50


@dataclass(frozen=True, slots=True)
class BladesPage:
    """Some serials in order. ``after``: the next page begins after this one; "": there is none."""

    blades: tuple[BladeLine, ...]
    after: str


def blades_page(*, search: str = "", after: str = "", only_open: bool = False) -> BladesPage:
    """Serials that hold ``search``, from the one after ``after`` on; ``only_open``: in no signed-out set."""
    newest = models.Verdict.objects.filter(blade_id=OuterRef("id")).order_by("-id").values("word")[:1]
    rows = models.Blade.objects.filter(serial__gt=after)
    if search:
        rows = rows.filter(serial__icontains=search)
    if only_open:
        rows = rows.filter(in_set__set__sign_out__isnull=True)
    found = list(
        rows.annotate(word=Subquery(newest))
        .order_by("serial")
        .values_list("serial", "drawing__name", "drawing__revision", "word", "in_set__set__name",
                     "in_set__set__sign_out__id")[: PAGE + 1]
    )  # fmt: skip
    lines = tuple(
        BladeLine(serial, name, revision, "signed out" if out is not None else word or "", held or "")
        for serial, name, revision, word, held, out in found[:PAGE]
    )
    return BladesPage(lines, lines[-1].serial if len(found) > PAGE else "")
