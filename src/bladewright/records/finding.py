"""What a scanned or typed text names in the book."""

from dataclasses import dataclass

from django.db.models import Q

from bladewright.errors import BadInput
from bladewright.papers.matrix import read_mark
from bladewright.records.ready import models

#: as many as are looked at before a person types more; our own choice
_MOST = 20


@dataclass(frozen=True, slots=True)
class Found:
    """One thing: its kind, and the names its page is found by."""

    kind: str
    names: tuple[str, ...]
    about: str = ""


def look_up(text: str) -> tuple[Found, ...]:
    """Everything of exactly that name; else the serials and lots that begin with it, a few."""
    name = _scanned(text)
    return _exactly(name) or _beginning(name)


def _scanned(text: str) -> str:
    """The name in a mark from one of our papers; anything else is a name itself."""
    try:
        return read_mark(text).name
    except BadInput:
        return text.strip()


def _exactly(name: str) -> tuple[Found, ...]:
    found = [Found("blade", (name,))] if models.Blade.objects.filter(serial=name).exists() else []
    found += [Found("set", (name,))] if models.Set.objects.filter(name=name).exists() else []
    lots = models.Lot.objects.filter(Q(lot=name) | Q(maker_lot=name))[:_MOST]
    found += [Found("lot", (row.lot,), row.material) for row in lots]
    drawings = models.Drawing.objects.filter(name=name).order_by("-id")[:_MOST]
    found += [Found("drawing", (row.name, row.revision), f"revision {row.revision}") for row in drawings]
    files = models.StoredFile.objects.filter(Q(sha256=name) | Q(name=name))[:_MOST]
    found += [Found("file", (row.sha256,), row.name) for row in files]
    found += [Found("person", (name,))] if models.Person.objects.filter(name=name).exists() else []
    found += [Found("aircraft", (name,))] if models.Aircraft.objects.filter(mark=name).exists() else []
    found += [Found("owner", (name,))] if models.Owner.objects.filter(name=name).exists() else []
    return tuple(found)


def _beginning(name: str) -> tuple[Found, ...]:
    blades = models.Blade.objects.filter(serial__startswith=name).order_by("serial")[:_MOST]
    lots = models.Lot.objects.filter(lot__startswith=name).order_by("lot")[:_MOST]
    return (
        *(Found("blade", (row.serial,)) for row in blades),
        *(Found("lot", (row.lot,), row.material) for row in lots),
    )
