"""What waits in the shop besides blades: the oven, gauges, adhesive, other material, drawings, sets, people."""

import datetime
import json
from collections import defaultdict
from collections.abc import Iterable, Sequence
from dataclasses import dataclass

from django.db.models import Exists, Max, OuterRef

from bladewright.figures import Outcome
from bladewright.proof.dues import AHEAD, Due, DueState
from bladewright.proof.kitting import NOT_USED
from bladewright.proof.roll_standing import NOT_FOR_LONG
from bladewright.records.acts import Scope
from bladewright.records.adhesive_on_file import RollOnFile, adhesive_on_file
from bladewright.records.book import opened
from bladewright.records.evidence import WEIGHING
from bladewright.records.oven_on_file import gauges_on_file, oven_on_file
from bladewright.records.ready import models
from bladewright.records.shop_files import Shelf, unreadable
from bladewright.records.shop_kinds import CALIBRATION, FREEZER, GAUGE, KINDS, OVEN, ROLL, RULE
from bladewright.records.waiting_lines import Found, Held, Place

_STORES = (Scope.RECEIVE, Scope.INSPECT)


@dataclass(frozen=True, slots=True)
class CureRunning:
    """A cure that is in the oven now, as whoever watches its log tells it."""

    name: str  # of the growing log
    told: str  # how it stands, in a sentence
    act: str  # the one next action
    since: datetime.datetime | None = None
    until: datetime.datetime | None = None  # predicted end of the dwell


def running_cures(running: Sequence[CureRunning]) -> tuple[Found, ...]:
    """A cure that runs waits for nobody."""
    return tuple(
        Found(Place("growing", one.name), one.name, one.told, one.act, (Scope.CURE,), until=one.until)
        for one in running
    )


def files_unread(on_shelf: Shelf) -> tuple[Found, ...]:
    """Files about the shop that today's readers refuse, or that are damaged."""
    kinds = (OVEN, CALIBRATION, RULE, ROLL, GAUGE, FREEZER)
    return tuple(
        Found(
            Place("shelf", line.kind, line.about), line.about, f"{line.file}: {error.what}.",
            "Keep a file in its place that can be read", KINDS[line.kind].needs,
        )
        for kind in kinds
        for line, error in unreadable(on_shelf.get(kind, ()))
    )  # fmt: skip


def oven_dues(now: datetime.datetime, on_shelf: Shelf) -> tuple[tuple[Found, ...], tuple[Found, ...]]:
    """What stops an oven, and what falls due on one soon."""
    stops: list[Found] = []
    soon: list[Found] = []
    for oven in oven_on_file(now, on_shelf=on_shelf):
        place = Place("oven", oven.name)
        for dues in _alike(oven.dues):
            what, why = f"{oven.name}: {dues[0].what}", _told(dues)
            step = {
                DueState.SOON: f"Do the {dues[0].what} and enter it before then",
                DueState.BAD: f"Set the oven right, then do the {dues[0].what} again",
            }.get(dues[0].state, f"Do the {dues[0].what} and enter it; do not cure before")
            found = Found(place, what, why, step, (Scope.INSPECT,), until=_end_of(dues[0]))
            if dues[0].blocks:
                stops.append(found)
            elif dues[0].state is DueState.SOON:
                soon.append(found)
        stops += [
            Found(place, f"{oven.name}: sensors", one.sentence, one.next_step.removesuffix("."), (Scope.INSPECT,))
            for one in oven.ready
            if one.rule.endswith("beside check sensor") and one.outcome in (Outcome.FAIL, Outcome.REFER)
        ]
    return tuple(stops), tuple(soon)


def gauge_dues(now: datetime.datetime, on_shelf: Shelf) -> tuple[tuple[Found, ...], tuple[Found, ...]]:
    """Gauges nobody may measure with, and those due soon."""
    dues = sorted(
        (
            one.due
            for one in gauges_on_file(now, on_shelf=on_shelf)
            if one.due is not None and one.due.state is not DueState.GOOD
        ),
        key=lambda due: (due.due or datetime.date.min, due.of),
    )
    stops = tuple(_gauge(due) for due in dues if due.blocks)
    return stops, tuple(_gauge(due) for due in dues if not due.blocks)


def _gauge(due: Due) -> Found:
    step = "Calibrate it, or set it aside" if due.blocks else "Have it calibrated before then"
    if due.state is DueState.BAD:
        step = "Set it aside, and look at what was measured with it since it was last good"
    return Found(Place("gauge", due.of), due.of, due.told, step, KINDS[GAUGE].needs, until=_end_of(due))


def adhesive_waits(now: datetime.datetime, on_shelf: Shelf) -> tuple[Found, ...]:
    """Rolls whose hours or days run out, that may no longer be used, or that nobody keeps a log of."""
    on_file = adhesive_on_file(now, on_shelf=on_shelf)
    rolls = [_roll(one) for one in on_file.rolls if one.standing.state in (NOT_FOR_LONG, NOT_USED)]
    rolls += [
        Found(
            Place("lot", lot), lot, "A roll was received and nobody keeps its log: its hours are not known.",
            "Keep its log", KINDS[ROLL].needs,
        )
        for lot in on_file.unlogged
    ]  # fmt: skip
    return tuple(rolls)


def _roll(one: RollOnFile) -> Found:
    roll = one.standing
    place = Place("roll", roll.roll)
    if not roll.usable:
        return Found(place, roll.roll, roll.why, "Keep it apart until that is settled", KINDS[ROLL].needs)
    left = "" if roll.left is None else f"{roll.left.value:.1f} h left"
    if roll.out_since is not None:
        why = f"Out of the freezer since {roll.out_since:%Y-%m-%d %H:%M}, {left}; its {roll.ended_by} ends first."
        return Found(place, roll.roll, why, "Use it, or put it back and log that", KINDS[ROLL].needs, until=roll.ends)
    return Found(
        place, roll.roll, f"In the freezer, {left}; its {roll.ended_by} ends first.", "Use it up first",
        KINDS[ROLL].needs, until=roll.ends,
    )  # fmt: skip


def other_material(now: datetime.datetime, days: int = AHEAD) -> tuple[Found, ...]:
    """Lots that keep no log of hours and go out of date within some days, or went so lately."""
    day = opened().day(now)
    logged = models.ShopFile.objects.filter(kind=ROLL, about=OuterRef("lot"))
    span = datetime.timedelta(days=days)
    rows = models.Lot.objects.filter(~Exists(logged), expires_on__gte=day - span, expires_on__lte=day + span)
    found = []
    for lot in rows.order_by("expires_on", "lot"):
        assert lot.expires_on is not None
        over = lot.expires_on < day
        why = f"{lot.material}: {'went' if over else 'goes'} out of date on {lot.expires_on.isoformat()}."
        step = "Keep it apart: it is not built in" if over else "Use it up first, or order another"
        found.append(
            Found(
                Place("lot", lot.lot),
                lot.lot,
                why,
                step,
                _STORES,
                lot.event_id,
                until=_after(lot.expires_on, day),
            )
        )
    return tuple(found)


def drawings_to_approve() -> tuple[Found, ...]:
    """Revisions nobody has approved, filed after the newest approved one of their drawing."""
    newer = models.Drawing.objects.filter(name=OuterRef("name"), id__gt=OuterRef("id"), approval__isnull=False)
    rows = models.Drawing.objects.select_related("event").filter(~Exists(newer), approval__isnull=True).order_by("id")
    return tuple(
        Found(
            Place("drawing", row.name, row.revision), f"{row.name} revision {row.revision}",
            f"Filed by {row.event.by}; no blade is made to it before another person has approved it.", "Approve it",
            (Scope.APPROVE,), row.event_id, frozenset({row.event.by}),
        )
        for row in rows
    )  # fmt: skip


def open_sets(sets: frozenset[int], stale: frozenset[int]) -> tuple[tuple[Found, ...], tuple[Found, ...]]:
    """Formed sets that are to be weighed again, and those to be signed out; ``stale``: to be judged first."""
    rows = list(models.Set.objects.filter(id__in=sets).order_by("id").values_list("id", "name", "event_id", "match"))
    weighed: defaultdict[int, dict[str, int]] = defaultdict(dict)
    newest = (
        models.EvidenceOf.objects.filter(evidence__kind=WEIGHING, blade__in_set__set_id__in=[row[0] for row in rows])
        .values_list("blade__in_set__set_id", "blade__serial")
        .annotate(newest=Max("event_id"))
    )
    for number, serial, event in newest if rows else ():
        weighed[number][serial] = event
    again: list[Found] = []
    out: list[Found] = []
    for number, name, event, match in rows:
        took = sorted({trim["serial"] for trim in json.loads(match)["trim"]})
        waits = [serial for serial in took if weighed[number].get(serial, 0) <= event]
        place = Place("set", name)
        if waits:
            why = (
                f"{' and '.join(waits)} took trim weight and {'was' if len(waits) == 1 else 'were'} not weighed since."
            )
            again.append(
                Found(
                    place,
                    name,
                    why,
                    f"Fit the weight, weigh {waits[0]} and file it",
                    (Scope.MAKE, Scope.INSPECT),
                    event,
                )
            )
        elif number in stale:
            why = "One of its blades has evidence no verdict knows of."
            out.append(Found(place, name, why, "Judge its blades again", (Scope.INSPECT,), event))
        else:
            out.append(Found(place, name, "Formed and not released.", "Sign it out", (Scope.RELEASE,), event))
    return tuple(again), tuple(out)


def authorisations_ending(held: Sequence[Held], now: datetime.datetime, days: int = AHEAD) -> tuple[Found, ...]:
    """Who may soon no longer do something, or since lately, unless a longer authorisation stands beside it."""
    day, span = opened().day(now), datetime.timedelta(days=days)
    lasts: dict[tuple[str, Scope], datetime.date] = {}
    for one in held:
        key = one.person, one.scope
        lasts[key] = max(lasts.get(key, datetime.date.min), one.last or datetime.date.max)
    ending = sorted((last, name, scope) for (name, scope), last in lasts.items() if day - span <= last <= day + span)
    return tuple(
        Found(
            Place("person", name), name, f'"{scope}" {"ended" if last < day else "ends"} on {last.isoformat()}.',
            "Authorise anew, or let it end", (Scope.ADMINISTER,), until=_after(last, day),
        )
        for last, name, scope in ending
    )  # fmt: skip


def _alike(dues: Iterable[Due]) -> list[list[Due]]:
    """Sensors checked on one day are told in one line."""
    found: defaultdict[tuple[str, DueState, datetime.date | None], list[Due]] = defaultdict(list)
    for due in dues:
        found[due.what, due.state, due.due].append(due)
    return list(found.values())


def _told(dues: Sequence[Due]) -> str:
    if len(dues) == 1:
        return dues[0].told
    first = dues[0]
    state = first.told.partition(": ")[2] or "was never entered."
    return f"{', '.join(due.of for due in dues)}: {state}"


def _end_of(due: Due) -> datetime.datetime | None:
    """The end of the last day it holds, while that is still to come."""
    return opened().midnight_after(due.due) if due.state is DueState.SOON and due.due is not None else None


def _after(last: datetime.date, day: datetime.date) -> datetime.datetime | None:
    """The end of a last day, while that is still to come."""
    return opened().midnight_after(last) if last >= day else None
