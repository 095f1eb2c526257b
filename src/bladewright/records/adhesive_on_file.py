"""The adhesive rolls on file at a moment: may each be used, for how long, and what ends it."""

import contextlib
import datetime
import functools
from collections.abc import Mapping
from dataclasses import dataclass, replace
from typing import Final

from django.db.models import Exists, Min, OuterRef

from bladewright.drawing.counting_rule import CountingRule
from bladewright.errors import BladewrightError
from bladewright.evidence.freezer_log import Roll
from bladewright.proof.dues import AHEAD
from bladewright.proof.freezer_watch import FreezerWatch, freezer_watch
from bladewright.proof.kitting import rule_for
from bladewright.proof.roll_standing import RollStanding, in_order_of_use, not_to_be_used, roll_standing
from bladewright.records.book import opened
from bladewright.records.chain import moment
from bladewright.records.drawings import read_filed as read_drawing
from bladewright.records.ready import models
from bladewright.records.shop_files import (
    Shelf,
    ShopFileLine,
    contents,
    contents_of,
    history,
    newest,
    readable,
    shelf,
    standing,
)
from bladewright.records.shop_kinds import FREEZER, ROLL, RULE

UNWATCHED: Final = FreezerWatch((), ())


@dataclass(frozen=True, slots=True)
class RollOnFile:
    """One roll: its log, the material it was received as, and how it stands."""

    file: ShopFileLine
    material: str
    standing: RollStanding


@dataclass(frozen=True, slots=True)
class AdhesiveOnFile:
    """Every roll that may still matter, and by what its hours were counted."""

    as_of: datetime.datetime  # by the shop's clock
    rolls: tuple[RollOnFile, ...]  # the first to be used up on top
    rules: tuple[ShopFileLine, ...]
    freezer: FreezerWatch | None  # None: nothing is asked of the freezer's own log
    unlogged: tuple[str, ...] = ()  # rolls that were received as a film with a rule, and have no log


def adhesive_on_file(now: datetime.datetime, days: int = AHEAD, on_shelf: Shelf | None = None) -> AdhesiveOnFile:
    """The rolls whose lot has not been out of date for longer than ``days``, each judged at ``now``.

    ``on_shelf`` spares asking the book again for what was read already.
    """
    clock = opened().clock(now)
    files = shelf(clock.date() - datetime.timedelta(days=days)) if on_shelf is None else on_shelf
    lines, rules, logs = (files.get(kind, ()) for kind in (ROLL, RULE, FREEZER))
    material = dict(models.Lot.objects.filter(lot__in=[line.about for line in lines]).values_list("lot", "material"))
    limits = _drawing_limits()
    used = _first_used(list(material))
    found = []
    watch: FreezerWatch | None = None
    for line in lines:
        of = material.get(line.about, "")
        rule = _rule_for(of, rules, limits)
        seen = _watch(logs, rule)
        watch = seen if rule is not None and rule.storage_warmest is not None else watch
        found.append(RollOnFile(line, of, _standing(line, used, rule, seen, clock, days)))
    placed = {one.roll: number for number, one in enumerate(in_order_of_use([one.standing for one in found]))}
    return AdhesiveOnFile(
        clock, tuple(sorted(found, key=lambda one: placed[one.standing.roll])), rules, watch, _without_log(clock)
    )


def roll_on_file(number: str, now: datetime.datetime, days: int = AHEAD) -> RollOnFile | None:
    """One roll, however long it has been out of date; None where no log of it is on file."""
    line = newest(ROLL, number)
    if line is None:
        return None
    lot = models.Lot.objects.filter(lot=number).first()
    rule = _rule_for(lot.material if lot else "", standing(RULE), _drawing_limits())
    watch = _watch(history(FREEZER), rule)
    found = _standing(line, _first_used([number]), rule, watch, opened().clock(now), days)
    return RollOnFile(line, lot.material if lot else "", found)


def _standing(
    line: ShopFileLine,
    used: Mapping[str, datetime.date],
    rule: CountingRule | None,
    watch: FreezerWatch,
    clock: datetime.datetime,
    days: int,
) -> RollStanding:
    """A roll whose log a reader refuses today may not be used."""
    try:
        roll: Roll = contents(line)
    except BladewrightError as error:
        return not_to_be_used(line.about, "", f"Its log cannot be read: {error}")
    return roll_standing(_as_used(roll, used), rule, watch, clock, days)


def _first_used(rolls: list[str]) -> dict[str, datetime.date]:
    """The day the first of each maker's lot among some rolls was built in, as the book has it."""
    lots = models.Lot.objects.filter(lot__in=rolls).exclude(maker_lot="").values("maker_lot")
    uses = (
        models.LotUse.objects.filter(lot__maker_lot__in=lots).values("lot__maker_lot").annotate(first=Min("event__at"))
    )
    return {lot: opened().day(moment(at)) for lot, at in uses.values_list("lot__maker_lot", "first")}


def _as_used(roll: Roll, used: Mapping[str, datetime.date]) -> Roll:
    """The roll with its lot's first use, by its log or by what the book says was built in, whichever is earlier."""
    days = [day for day in (roll.first_used, used.get(roll.lot)) if day is not None]
    return replace(roll, first_used=min(days, default=None))


def _watch(logs: tuple[ShopFileLine, ...], rule: CountingRule | None) -> FreezerWatch:
    """What the freezer's logs tell, by what a rule asks of them."""
    if rule is None or rule.storage_warmest is None:
        return UNWATCHED
    return _watched(tuple((line.sha256, line.beside_sha256) for line in logs), rule)


@functools.lru_cache(maxsize=16)
def _watched(logs: tuple[tuple[str, str], ...], rule: CountingRule) -> FreezerWatch:
    """The same logs and the same rule tell the same."""
    found = []
    for log in logs:
        with contextlib.suppress(BladewrightError):  # what cannot be read vouches for nothing
            found.append(contents_of(FREEZER, *log))
    return freezer_watch(found, rule)


def _without_log(clock: datetime.datetime) -> tuple[str, ...]:
    """Lots of a material some roll's log is about, received since and in date, of which nobody keeps a log."""
    logged = models.ShopFile.objects.filter(kind=ROLL, about=OuterRef("lot"))
    films = models.Lot.objects.filter(lot__in=models.ShopFile.objects.filter(kind=ROLL).values("about"))
    rows = models.Lot.objects.filter(
        ~Exists(logged), material__in=films.values("material").distinct(), expires_on__gte=clock.date()
    )
    return tuple(rows.order_by("lot").values_list("lot", flat=True)[:20])


def _rule_for(
    material: str, rules: tuple[ShopFileLine, ...], limits: tuple[tuple[str, models.Drawing], ...]
) -> CountingRule | None:
    """The only rule on file, or the one named after the material; with the strictest drawing's own limit beside it."""
    mine = rules if len(rules) == 1 else tuple(line for line in rules if line.about == material)
    read: list[CountingRule] = [found for _, found in readable(mine)]
    if len(read) != 1:
        return None
    rule = read[0]
    for name, drawing in limits:
        if name == material:
            rule = rule_for(rule, read_drawing(drawing).adhesive)
    return rule


def _drawing_limits() -> tuple[tuple[str, models.Drawing], ...]:
    """The newest approved revision of each drawing, by the material of its film."""
    rows = models.Drawing.objects.select_related("file").filter(approval__isnull=False).order_by("id")
    newest_of = {row.name: row for row in rows}
    return tuple((_film(row), row) for row in newest_of.values())


def _film(row: models.Drawing) -> str:
    adhesive = read_drawing(row).adhesive
    return "" if adhesive is None else adhesive.material
