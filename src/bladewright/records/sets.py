"""Sets: proposed from all accepted blades, formed by a person who may match, signed out by one who may release."""

import datetime
from collections.abc import Iterable, Sequence
from dataclasses import dataclass

from bladewright.errors import BadInput, BookBusy, MissingInput
from bladewright.figures import canonical
from bladewright.pairing.match import best_within
from bladewright.pairing.records import BladeSet, Matching
from bladewright.records.acts import Act, Scope
from bladewright.records.authority import require
from bladewright.records.blades import blade_named
from bladewright.records.chain import moment
from bladewright.records.checking import refuse_disagreeing
from bladewright.records.free_blades import free_blades, the_drawing
from bladewright.records.naming import refuse_look_alike, refuse_name
from bladewright.records.ready import models
from bladewright.records.restoring import restored_text
from bladewright.records.trying import (
    accepted,
    may_fly,
    referred,
    refuse_more_trim,
    refuse_other_than_shown,
    refuse_unfit,
    refuse_unweighed_trim,
    terms_of_row,
    tried,
)
from bladewright.records.writing import writing


@dataclass(frozen=True, slots=True)
class SetFormed:
    """A set in the book."""

    name: str
    match: BladeSet
    method: str
    already: bool


@dataclass(frozen=True, slots=True)
class SignedOut:
    """A set released to fly."""

    name: str
    serials: tuple[str, ...]
    by: str
    at: datetime.datetime
    already: bool


@dataclass(frozen=True, slots=True)
class SetLine:
    """One set at a glance."""

    name: str
    serials: tuple[str, ...]
    formed_by: str
    signed_out_by: str  # "" until it is
    aircraft: str = ""  # the mark it flies on now


def propose_sets(size: int = 2, *, drawing: str = "", revision: str = "") -> Matching:
    """The best sets of every accepted blade that is in none. Nothing is written.

    Only blades of one drawing revision are matched; name it when the book has blades of several.
    """
    free = free_blades(the_drawing(drawing, revision))
    matching = best_within(free.candidates, size, terms_of_row(free.drawing))
    leftovers = (*matching.leftovers, *free.held_back)
    return Matching(matching.sets, leftovers, matching.total_cost, matching.method)


def form_set(act: Act, name: str, serials: Sequence[str], *, shown: str = "") -> SetFormed:
    """Put accepted blades together, if the tests of a set allow it.

    A test that fails, or waits for something missing, forms no set. One that refers needs a reason in ``act``.
    ``shown`` is the mark of what the person had before them: blades that come to something else now are not formed.
    """
    wanted = tuple(sorted(set(serials)))
    refuse_name(name, "name")
    if len(wanted) < 2:
        raise BadInput(
            "a set has two blades at least",
            field="serials",
            value=", ".join(wanted),
            allowed="two serials or more",
            fix="name them",
        )
    require(act, Scope.MATCH)
    before = models.Set.objects.filter(name=name).first()
    if before is not None:
        return _same_set(before, wanted)
    blades = [blade_named(serial) for serial in wanted]
    verdicts = [may_fly(blade) for blade in blades]
    match, method = tried(blades)  # before the book is locked, so that others can go on writing
    refuse_other_than_shown(match, shown)
    refuse_unfit(act, match)
    with writing(act, "set formed", name, Scope.MATCH) as entry:
        before = models.Set.objects.filter(name=name).first()
        if before is not None:
            return _same_set(before, wanted)
        if [may_fly(blade).id for blade in blades] != [verdict.id for verdict in verdicts]:
            raise BookBusy("a blade was judged meanwhile", field="serials", value=", ".join(wanted), fix="try again")
        refuse_look_alike(name, "name", models.Set.objects.values_list("name", flat=True))
        made = entry.add(models.Set(name=name, match=canonical(match).decode("utf-8"), method=method))
        for blade, verdict in zip(blades, verdicts, strict=True):
            entry.add(models.SetBlade(set=made, blade=blade, verdict=verdict))
        return SetFormed(name, match, method, already=False)


def sign_out(act: Act, name: str, *, shown: str = "") -> SignedOut:
    """Release a set on the newest verdicts of its blades, all of which must be accepted and know of everything filed.

    A blade that took trim weight must have been weighed again since. Blades judged again are tried again as a set.
    ``shown`` as for ``form_set``.
    """
    require(act, Scope.RELEASE)
    refuse_disagreeing()
    row = set_named(name)
    before = _released(row)
    if before is not None:
        return before
    serials, formed = serials_of(row), match_of(row)
    blades = [blade_named(serial) for serial in serials]
    verdicts = [accepted(blade) for blade in blades]
    refuse_unweighed_trim(row, formed)
    held = dict(row.blades.values_list("blade__serial", "verdict_id"))
    match = formed
    if [held[serial] for serial in serials] != [verdict.id for verdict in verdicts]:
        match = tried(blades)[0]
        refuse_unfit(act, match, decided=referred(formed))
        refuse_more_trim(match)
    refuse_other_than_shown(match, shown)
    with writing(act, "set signed out", name, Scope.RELEASE) as entry:
        before = _released(row)
        if before is not None:
            return before
        if [accepted(blade).id for blade in blades] != [verdict.id for verdict in verdicts]:
            raise BookBusy("a blade was judged meanwhile", field="set", value=name, fix="try again")
        entry.add(
            models.SignOut(
                set=row,
                match=canonical(match).decode("utf-8"),
                verdicts=canonical(dict(zip(serials, (v.sha256 for v in verdicts), strict=True))).decode("utf-8"),
            )
        )
        return SignedOut(name, serials, act.by, act.at, already=False)


def all_sets() -> tuple[SetLine, ...]:
    """Every set, in the order formed."""
    rows = models.Set.objects.select_related("event").order_by("id")
    return tuple(lines_of(rows))


def lines_of(rows: Iterable[models.Set]) -> list[SetLine]:
    """Sets at a glance, in three queries however many there are."""
    found = list(rows)
    of = {"set_id__in": [row.id for row in found]}
    out = dict(models.SignOut.objects.filter(**of).values_list("set_id", "event__by"))
    serials: dict[int, list[str]] = {}
    for number, serial in (
        models.SetBlade.objects.filter(**of).order_by("blade__serial").values_list("set_id", "blade__serial")
    ):
        serials.setdefault(number, []).append(serial)
    flying = models.Installation.objects.filter(removal__isnull=True, **of)
    on = dict(flying.values_list("set_id", "aircraft__mark"))
    return [
        SetLine(row.name, tuple(serials.get(row.id, ())), row.event.by, out.get(row.id, ""), on.get(row.id, ""))
        for row in found
    ]


def set_named(name: str) -> models.Set:
    """The row of a set; ``MissingInput`` if there is none."""
    row = models.Set.objects.select_related("event").filter(name=name).first()
    if row is None:
        raise MissingInput("is not in the book", field="set", value=name, allowed="a formed set", fix="form it first")
    return row


def serials_of(row: models.Set) -> tuple[str, ...]:
    """The blades of a set."""
    return tuple(row.blades.order_by("blade__serial").values_list("blade__serial", flat=True))


def match_of(row: models.Set) -> BladeSet:
    """Why these blades may fly together, as it was found when the set was formed."""
    return restored_text(BladeSet, row.match)


def _same_set(before: models.Set, wanted: tuple[str, ...]) -> SetFormed:
    serials = serials_of(before)
    if serials != wanted:
        raise BadInput(
            f"is the set of {', '.join(serials)}",
            field="name",
            value=before.name,
            allowed="a name no set has",
            fix="choose another name",
        )
    return SetFormed(before.name, match_of(before), before.method, already=True)


def _released(row: models.Set) -> SignedOut | None:
    """The release of a set, if there was one."""
    out = models.SignOut.objects.select_related("event").filter(set=row).first()
    if out is None:
        return None
    return SignedOut(row.name, serials_of(row), out.event.by, moment(out.event.at), already=True)
