"""What people are authorised for, on which day; and, where they are not, whose authorisation ended when and by whom."""

import datetime
from collections.abc import Sequence
from dataclasses import dataclass
from enum import StrEnum

from django.db.models import Q, QuerySet

from bladewright.errors import NotAuthorised
from bladewright.records.acts import Act, Scope
from bladewright.records.book import opened
from bladewright.records.chain import moment
from bladewright.records.ready import models


class State(StrEnum):
    """How an authorisation stands on a day."""

    HOLDS = "holds"
    LATER = "not yet"
    OVER = "over"
    WITHDRAWN = "withdrawn"


@dataclass(frozen=True, slots=True)
class Held:
    """One authorisation of a person, from a day until a day, both included (none: until withdrawn)."""

    person: str
    scope: Scope
    from_: datetime.date
    until: datetime.date | None
    given_by: str
    withdrawn_on: datetime.date | None = None
    withdrawn_by: str = ""

    def state(self, day: datetime.date) -> State:
        """How it stands on this day. One that had run out before it was withdrawn is over."""
        if self.until is not None and self.until < (self.withdrawn_on or day):
            return State.OVER
        if self.withdrawn_on is not None:
            return State.WITHDRAWN
        return State.LATER if self.from_ > day else State.HOLDS


def held_by(name: str) -> tuple[Held, ...]:
    """Every authorisation a person ever had, in the order given."""
    return _held(models.Authorisation.objects.filter(person__name=name))


def held_from(day: datetime.date) -> tuple[Held, ...]:
    """Everybody's authorisations that hold on a day or will later."""
    open_ = Q(last__isnull=True) | Q(last__gte=day)
    return _held(models.Authorisation.objects.filter(open_, withdrawal__isnull=True))


def _held(rows: QuerySet[models.Authorisation]) -> tuple[Held, ...]:
    day = opened().day
    return tuple(
        Held(
            row.person.name,
            Scope(row.scope),
            row.first,
            row.last,
            row.event.by,
            day(moment(row.withdrawal.event.at)) if hasattr(row, "withdrawal") else None,
            row.withdrawal.event.by if hasattr(row, "withdrawal") else "",
        )
        for row in rows.select_related("person", "event", "withdrawal__event").order_by("id")
    )


def standing(day: datetime.date) -> QuerySet[models.Authorisation]:
    """The authorisations that hold on a day."""
    return models.Authorisation.objects.filter(withdrawal__isnull=True, first__lte=day).filter(
        Q(last__isnull=True) | Q(last__gte=day)
    )


def scopes_of(name: str, day: datetime.date) -> frozenset[Scope]:
    """What a person may do on a day."""
    return frozenset(Scope(scope) for scope in standing(day).filter(person__name=name).values_list("scope", flat=True))


def require(act: Act, *needs: Scope) -> None:
    """``NotAuthorised`` unless the acting person holds one of these authorisations on the day of the act."""
    day = opened().day(act.at)
    if scopes_of(act.by, day).intersection(needs):
        return
    needed = " or ".join(f'"{need}"' for need in needs)
    known = models.Person.objects.filter(name=act.by).exists()
    held = tuple(item for item in held_by(act.by) if item.scope in needs)
    raise NotAuthorised(
        why_not(act.by, held, day) if known else f"{act.by} is not in the book",
        field="by",
        value=act.by,
        allowed=f"a person authorised for {needed}",
        fix=f'somebody with "{Scope.ADMINISTER}" authorises them, or an authorised person does it',
    )


def why_not(name: str, held: Sequence[Held], day: datetime.date) -> str:
    """Why none of these authorisations holds on this day: the one that ended last, and the next to begin."""
    ended = [item for item in held if item.state(day) in (State.OVER, State.WITHDRAWN)]
    later = [item for item in held if item.state(day) is State.LATER]
    said = []
    if ended:
        last = max(ended, key=lambda item: _end(item, day))
        if last.state(day) is State.OVER:
            said.append(f'was authorised for "{last.scope}" until {_end(last, day).isoformat()}')
        else:
            said.append(f'had "{last.scope}" withdrawn by {last.withdrawn_by} on {_end(last, day).isoformat()}')
    if later:
        first = min(later, key=lambda item: item.from_)
        said.append(f'is authorised for "{first.scope}" from {first.from_.isoformat()}')
    return f"{name} {' and '.join(said)}" if said else f"{name} is not authorised for this on {day.isoformat()}"


def _end(held: Held, day: datetime.date) -> datetime.date:
    """The last day of one that is over, or the day it was withdrawn."""
    return min(held.until or held.withdrawn_on or day, held.withdrawn_on or held.until or day)
