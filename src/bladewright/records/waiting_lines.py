"""Waiting work as plain records: what waits, where, since or until when, the one next action, and who may do it."""

import datetime
from collections import defaultdict
from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from typing import Final

from django.db.models import Q

from bladewright.records.acts import Scope
from bladewright.records.chain import moment
from bladewright.records.ready import models

#: lines of a group that are told one by one; the rest is counted
SHOWN: Final = 25


@dataclass(frozen=True, slots=True)
class Place:
    """Where something is looked at or done, for whoever makes links: a kind and what it is called."""

    kind: str  # "blade", "run", "set", "roll", "lot", "drawing", "oven", "gauge", "person", "growing"
    name: str
    part: str = ""  # the revision of a drawing


@dataclass(frozen=True, slots=True)
class Waiting:
    """One thing that waits."""

    place: Place
    what: str  # like a serial
    why: str  # one sentence
    next_action: str
    needs: tuple[Scope, ...]  # any one of these
    who: tuple[str, ...] = ()  # everybody who may do it that day; nobody: somebody must be authorised first
    since: datetime.datetime | None = None
    until: datetime.datetime | None = None
    holds: int = 1  # how many things one line tells together


@dataclass(frozen=True, slots=True)
class Group:
    """Things that wait for the same reason."""

    title: str
    means: str  # why it matters
    count: int
    lines: tuple[Waiting, ...]  # the first of them

    @property
    def more(self) -> int:
        """How many are not told one by one."""
        return max(0, self.count - sum(line.holds for line in self.lines))


@dataclass(frozen=True, slots=True)
class Found:
    """Something that waits, before its times and its people are known."""

    place: Place
    what: str
    why: str
    next_action: str
    needs: tuple[Scope, ...]
    event: int | None = None  # since this event
    barred: frozenset[str] = frozenset()  # who may not, though authorised
    until: datetime.datetime | None = None
    holds: int = 1


def told(found: Iterable[Found], people: Mapping[Scope, tuple[str, ...]]) -> dict[Found, Waiting]:
    """Each with the time of its event, and everybody who may do it."""
    lines = tuple(found)
    numbers = {line.event for line in lines if line.event is not None}
    rows = models.Event.objects.filter(number__in=numbers).values_list("number", "at") if numbers else ()
    times = {number: moment(at) for number, at in rows}
    return {
        line: Waiting(
            line.place, line.what, line.why, line.next_action, line.needs,
            tuple(sorted({name for need in line.needs for name in people.get(need, ())} - line.barred)),
            None if line.event is None else times.get(line.event), line.until, line.holds,
        )
        for line in lines
    }  # fmt: skip


@dataclass(frozen=True, slots=True)
class Held:
    """An authorisation that nobody withdrew."""

    person: str
    scope: Scope
    first: datetime.date
    last: datetime.date | None


def held_since(day: datetime.date) -> tuple[Held, ...]:
    """Every authorisation that was not withdrawn and had not ended before a day."""
    rows = models.Authorisation.objects.filter(Q(last__isnull=True) | Q(last__gte=day), withdrawal__isnull=True)
    return tuple(
        Held(name, Scope(scope), first, last)
        for name, scope, first, last in rows.values_list("person__name", "scope", "first", "last")
    )


def people_by_scope(held: Iterable[Held], day: datetime.date) -> dict[Scope, tuple[str, ...]]:
    """Who is authorised for what on a day."""
    found: defaultdict[Scope, set[str]] = defaultdict(set)
    for one in held:
        if one.first <= day and (one.last is None or day <= one.last):
            found[one.scope].add(one.person)
    return {scope: tuple(sorted(names)) for scope, names in found.items()}
