"""People and what they may do. The first person in a book administers it."""

import datetime
from dataclasses import dataclass

from bladewright.errors import BadInput, MissingInput, NotAuthorised
from bladewright.records.acts import Act, Scope
from bladewright.records.authority import require, standing
from bladewright.records.book import opened
from bladewright.records.naming import refuse_look_alike, refuse_name
from bladewright.records.ready import models
from bladewright.records.writing import writing


@dataclass(frozen=True, slots=True)
class PersonAdded:
    """A person in the book."""

    name: str
    already: bool


@dataclass(frozen=True, slots=True)
class Authorised:
    """What a person may do, from a day until a day (none: until withdrawn)."""

    person: str
    scope: Scope
    from_: datetime.date
    until: datetime.date | None
    already: bool


@dataclass(frozen=True, slots=True)
class Withdrawn:
    """The end of an authorisation."""

    person: str
    scope: Scope
    already: bool


@dataclass(frozen=True, slots=True)
class PersonLine:
    """One person, and what they may do on the day that was asked for."""

    name: str
    scopes: tuple[Scope, ...]


def add_person(act: Act, name: str) -> PersonAdded:
    """Enter a person. The first enters themselves, and may then administer the book."""
    refuse_name(name, "name")
    with writing(act, "person added", name) as entry:
        first = not models.Person.objects.exists()
        if first and act.by != name:
            raise NotAuthorised(
                "nobody is in the book yet",
                field="by",
                value=act.by,
                allowed="the first person enters themselves",
                fix=f'let "{name}" be entered by "{name}"',
            )
        if not first:
            require(act, Scope.ADMINISTER)
        if models.Person.objects.filter(name=name).exists():
            return PersonAdded(name, already=True)
        refuse_look_alike(name, "name", models.Person.objects.values_list("name", flat=True))
        person = entry.add(models.Person(name=name))
        if first:
            day = opened().day(act.at)
            entry.add(models.Authorisation(person=person, scope=Scope.ADMINISTER.value, first=day, last=None))
        return PersonAdded(name, already=False)


def authorise(
    act: Act, person: str, scope: Scope, from_: datetime.date, until: datetime.date | None = None
) -> Authorised:
    """Let a person do something, from a day until a day, both included."""
    scope = scope_named(scope)
    if until is not None and until < from_:
        raise BadInput(
            "ends before it begins",
            field="until",
            value=until.isoformat(),
            allowed=f"{from_.isoformat()} or later",
            fix="check the days",
        )
    with writing(act, "person authorised", person, Scope.ADMINISTER) as entry:
        known = _known(person)
        same = models.Authorisation.objects.filter(
            person=known, scope=scope.value, first=from_, last=until, withdrawal__isnull=True
        )
        already = same.exists()
        if not already:
            entry.add(models.Authorisation(person=known, scope=scope.value, first=from_, last=until))
        return Authorised(person, scope, from_, until, already)


def withdraw(act: Act, person: str, scope: Scope) -> Withdrawn:
    """End every authorisation of a person for one thing. What they did before stays done."""
    scope = scope_named(scope)
    with writing(act, "authorisation withdrawn", person, Scope.ADMINISTER) as entry:
        open_ = models.Authorisation.objects.filter(person=_known(person), scope=scope.value, withdrawal__isnull=True)
        if scope is Scope.ADMINISTER and not _others_administer(act, person):
            raise BadInput(
                "would leave nobody to administer the book",
                field="person",
                value=person,
                allowed="one other person at least who may without an end",
                fix="authorise another first",
            )
        ended = [entry.add(models.Withdrawal(authorisation=held)) for held in open_]
        return Withdrawn(person, scope, already=not ended)


def all_people(day: datetime.date) -> tuple[PersonLine, ...]:
    """Everybody in the book, in order of name."""
    may: dict[str, set[Scope]] = {name: set() for name in models.Person.objects.values_list("name", flat=True)}
    for name, scope in standing(day).values_list("person__name", "scope"):
        may[name].add(Scope(scope))
    return tuple(PersonLine(name, tuple(sorted(may[name]))) for name in sorted(may))


def _others_administer(act: Act, person: str) -> bool:
    holds = standing(opened().day(act.at)).filter(scope=Scope.ADMINISTER.value, last__isnull=True)
    return holds.exclude(person__name=person).exists()


def scope_named(scope: Scope | str) -> Scope:
    """The scope of that name; ``BadInput`` lists all of them."""
    try:
        return Scope(scope)
    except ValueError as error:
        raise BadInput(
            "is not something to be authorised for",
            field="scope",
            value=str(scope),
            allowed=", ".join(Scope),
            fix="choose one of these",
        ) from error


def _known(name: str) -> models.Person:
    refuse_name(name, "person")
    person = models.Person.objects.filter(name=name).first()
    if person is None:
        raise MissingInput(
            "is not in the book", field="person", value=name, allowed="a person in the book", fix="add the person first"
        )
    return person
