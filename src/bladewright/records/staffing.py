"""Who may do what today, what nobody may, what ends soon: the shop's people at a glance, and one of them whole."""

import datetime
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from typing import Final

from django.db.models import OuterRef, QuerySet, Subquery

from bladewright.errors import MissingInput
from bladewright.records.acts import LETS, Scope
from bladewright.records.authority import Held, State, held_by, held_from
from bladewright.records.blades import Happened
from bladewright.records.chain import moment
from bladewright.records.naming import refuse_name
from bladewright.records.ready import models
from bladewright.records.tokens import Key, all_tokens

#: days before its end that an authorisation is told to end; our own choice
SOON_DAYS: Final = 30
#: acts of a person that are shown; our own choice
_NEWEST: Final = 50
#: work that makes a part, and the decisions its makers do not take
_MAKING: Final = frozenset({Scope.MAKE, Scope.BOND, Scope.CURE})
_BY_ANOTHER: Final = (Scope.LOOK_LAST, Scope.DESIGN)


@dataclass(frozen=True, slots=True)
class MayNow:
    """What a person may today, and the last day of it (none: until withdrawn)."""

    scope: Scope
    until: datetime.date | None
    soon: bool


@dataclass(frozen=True, slots=True)
class PersonNow:
    """One person today. ``given_by``: who chose the secret they have, if not they themselves."""

    name: str
    may: tuple[MayNow, ...]
    has_secret: bool
    given_by: str


@dataclass(frozen=True, slots=True)
class Staffed:
    """One kind of work, and who may do it today."""

    scope: Scope
    lets: str
    names: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Standing:
    """One authorisation as it stands today."""

    held: Held
    state: State


@dataclass(frozen=True, slots=True)
class AboutPerson:
    """Everything the book knows about one person: what holds first, then the newest; what was entered about them."""

    now: PersonNow
    held: tuple[Standing, ...]
    keys: tuple[Key, ...]
    history: tuple[Happened, ...]


@dataclass(frozen=True, slots=True)
class PeopleStep:
    """The one thing to do about people next; ``person`` is whose page it is done on, if it is one person's."""

    sentence: str
    person: str = ""


def people_now(day: datetime.date) -> tuple[PersonNow, ...]:
    """Everybody, in order of name."""
    held: dict[str, list[Held]] = {}
    for one in held_from(day):
        held.setdefault(one.person, []).append(one)
    return tuple(
        PersonNow(name, may_now(held.get(name, ()), day), has_secret, given_by)
        for name, has_secret, given_by in _with_secrets(models.Person.objects.order_by("name"))
    )


def may_now(held: Iterable[Held], day: datetime.date) -> tuple[MayNow, ...]:
    """What these authorisations of one person come to: each kind of work with the day it lasts to without a gap."""
    of: dict[Scope, list[Held]] = {}
    for one in held:
        of.setdefault(one.scope, []).append(one)
    found = []
    for scope in sorted(of, key=list(Scope).index):
        if any(one.state(day) is State.HOLDS for one in of[scope]):
            until = _lasts_to(of[scope], day)
            found.append(MayNow(scope, until, until is not None and (until - day).days <= SOON_DAYS))
    return tuple(found)


def staffed(people: Iterable[PersonNow]) -> tuple[Staffed, ...]:
    """Each kind of work with who may do it; nobody is an answer too."""
    held = {person.name: {item.scope for item in person.may} for person in people}
    return tuple(Staffed(scope, LETS[scope], tuple(n for n in held if scope in held[n])) for scope in Scope)


def next_step(people: Sequence[PersonNow]) -> PeopleStep:
    """What to do next about people: work nobody may do, then what ends, then who decides on their own work."""
    work = staffed(people)
    for kind in work:
        if not kind.names:
            return PeopleStep(f'Nobody may do "{kind.scope}" today ({kind.lets}): authorise somebody.')
    ending = [(item.until, person.name, item) for person in people for item in person.may if item.soon and item.until]
    if ending:
        until, name, item = min(ending, key=lambda found: found[:2])
        return PeopleStep(f'{name} may do "{item.scope}" until {until}: authorise them again, or let it end.', name)
    for kind in work:
        if kind.scope in _BY_ANOTHER and len(kind.names) == 1:
            (alone,) = kind.names
            if _MAKING & {may.scope for person in people if person.name == alone for may in person.may}:
                return PeopleStep(
                    f'Only {alone} may do "{kind.scope}", and may make blades too: '
                    "a blade they made waits for a second person. Authorise one.",
                )
    outside = [person.name for person in people if person.may and not person.has_secret]
    if outside:
        return PeopleStep(f"{outside[0]} has no secret and cannot sign in here: give them a first one.", outside[0])
    return PeopleStep("")


def about_person(name: str, day: datetime.date) -> AboutPerson:
    """One person; ``MissingInput`` if nobody has that name."""
    refuse_name(name, "person")  # before a database is asked for letters it cannot hold
    if not (found := _with_secrets(models.Person.objects.filter(name=name))):
        raise MissingInput(
            "is not in the book", field="person", value=name, allowed="a person in the book", fix="look at the list"
        )
    held = held_by(name)
    stands = [Standing(one, one.state(day)) for one in reversed(held)]
    events = models.Event.objects.filter(subject=name).order_by("-number")[:_NEWEST]
    return AboutPerson(
        now=PersonNow(name, may_now(held, day), *found[0][1:]),
        held=tuple(sorted(stands, key=lambda item: list(State).index(item.state))),
        keys=tuple(reversed(all_tokens(name))),
        history=tuple(Happened(e.number, e.kind, e.by, moment(e.at), e.reason) for e in events),
    )


def _with_secrets(people: QuerySet[models.Person]) -> list[tuple[str, bool, str]]:
    """Each name, whether they have a secret, and who chose it if they did not."""
    newest = models.Secret.objects.filter(person_id=OuterRef("id")).order_by("-id")
    rows = people.annotate(hash_of=Subquery(newest.values("hash")[:1]), by=Subquery(newest.values("event__by")[:1]))
    told = rows.values_list("name", "hash_of", "by")
    return [(name, bool(hash_of), by if hash_of and by != name else "") for name, hash_of, by in told]


def _lasts_to(held: Sequence[Held], day: datetime.date) -> datetime.date | None:
    """The last day without a gap from this one on; none: until withdrawn."""
    last = day - datetime.timedelta(days=1)
    for one in sorted((h for h in held if h.state(day) in (State.HOLDS, State.LATER)), key=lambda h: h.from_):
        if one.from_ > last + datetime.timedelta(days=1) and one.from_ > day:
            break
        if one.until is None:
            return None
        last = max(last, one.until)
    return last
