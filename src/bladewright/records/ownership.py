"""Where a set flies: owners, aircraft, and when a set was put on and taken off."""

import datetime
from dataclasses import dataclass

from bladewright.errors import BadInput, MissingInput
from bladewright.records.acts import Act, Scope
from bladewright.records.book import opened
from bladewright.records.naming import refuse_hidden, refuse_look_alike, refuse_name
from bladewright.records.ready import models
from bladewright.records.sets import set_named
from bladewright.records.writing import writing


@dataclass(frozen=True, slots=True)
class OwnerAdded:
    """An owner and how to reach them."""

    name: str
    contact: str
    already: bool


@dataclass(frozen=True, slots=True)
class AircraftAdded:
    """An aircraft and whose it is now."""

    mark: str
    owner: str
    already: bool


@dataclass(frozen=True, slots=True)
class Installed:
    """A set on an aircraft."""

    set_name: str
    mark: str
    on: datetime.date
    already: bool


@dataclass(frozen=True, slots=True)
class Removed:
    """A set taken off an aircraft."""

    set_name: str
    mark: str
    on: datetime.date
    already: bool


def add_owner(act: Act, name: str, contact: str) -> OwnerAdded:
    """Enter an owner. An owner nobody can reach cannot be warned, so a way to reach them is asked for."""
    refuse_name(name, "name")
    refuse_hidden(contact, "contact")
    if not contact.strip():
        raise BadInput("needs a way to reach them", field="contact", value=contact, fix="enter it")
    with writing(act, "owner added", name, Scope.RELEASE) as entry:
        found = models.Owner.objects.filter(name=name).first()
        if found is not None and found.contact != contact:
            raise BadInput(
                "is in the book with another contact",
                field="contact",
                value=contact,
                allowed=found.contact,
                fix="enter the owner under a name that tells the two apart",
            )
        if found is None:
            refuse_look_alike(name, "name", models.Owner.objects.values_list("name", flat=True))
            entry.add(models.Owner(name=name, contact=contact))
        return OwnerAdded(name, contact, already=found is not None)


def add_aircraft(act: Act, mark: str, owner: str) -> AircraftAdded:
    """Enter an aircraft, or its new owner."""
    refuse_name(mark, "mark")
    with writing(act, "aircraft added", mark, Scope.RELEASE) as entry:
        holder = models.Owner.objects.filter(name=owner).first()
        if holder is None:
            raise MissingInput("is not in the book", field="owner", value=owner, fix="add the owner first")
        aircraft = models.Aircraft.objects.filter(mark=mark).first()
        if aircraft is None:
            refuse_look_alike(mark, "mark", models.Aircraft.objects.values_list("mark", flat=True))
            aircraft = entry.add(models.Aircraft(mark=mark))
        now = models.Ownership.objects.filter(aircraft=aircraft).order_by("-id").first()
        already = now is not None and now.owner_id == holder.id
        if not already:
            entry.add(models.Ownership(aircraft=aircraft, owner=holder))
        return AircraftAdded(mark, owner, already)


def install(act: Act, set_name: str, mark: str, on: datetime.date) -> Installed:
    """Put a signed-out set on an aircraft that carries none."""
    _refuse_future(act, on)
    with writing(act, "set installed", set_name, Scope.RELEASE) as entry:
        row, aircraft = set_named(set_name), _aircraft(mark)
        if not models.SignOut.objects.filter(set=row).exists():
            raise BadInput(
                "is not signed out", field="set", value=set_name, allowed="a signed-out set", fix="sign it out first"
            )
        standing = models.Installation.objects.select_related("set", "aircraft").filter(removal__isnull=True)
        here = standing.filter(set=row).first()
        if here is not None and here.aircraft_id == aircraft.id and here.on == on:
            return Installed(set_name, mark, on, already=True)
        there = here or standing.filter(aircraft=aircraft).first()
        if there is not None:
            raise BadInput(
                f"set {there.set.name} is on {there.aircraft.mark} since {there.on.isoformat()}",
                field="aircraft",
                value=mark,
                allowed="a set that is on no aircraft, an aircraft that carries no set",
                fix=f"take {there.set.name} off first",
            )
        entry.add(models.Installation(set=row, aircraft=aircraft, on=on))
        return Installed(set_name, mark, on, already=False)


def remove(act: Act, set_name: str, on: datetime.date) -> Removed:
    """Take a set off the aircraft it is on."""
    _refuse_future(act, on)
    with writing(act, "set removed", set_name, Scope.RELEASE) as entry:
        row = set_named(set_name)
        rows = models.Installation.objects.select_related("aircraft").filter(set=row).order_by("-id")
        newest = rows.first()
        if newest is None:
            raise MissingInput("is on no aircraft", field="set", value=set_name, fix="install it first")
        ended = models.Removal.objects.filter(installation=newest).first()
        if ended is not None and ended.on == on:
            return Removed(set_name, newest.aircraft.mark, on, already=True)
        if ended is not None or on < newest.on:
            raise BadInput(
                f"was taken off on {ended.on.isoformat()}" if ended else "is before it was put on",
                field="on",
                value=on.isoformat(),
                allowed=ended.on.isoformat() if ended else f"{newest.on.isoformat()} or later",
                fix="check the day",
            )
        entry.add(models.Removal(installation=newest, on=on))
        return Removed(set_name, newest.aircraft.mark, on, already=False)


def _refuse_future(act: Act, on: datetime.date) -> None:
    """Where a set flies is what a recall asks: a plan is no answer."""
    today = opened().day(act.at)
    if on > today:
        raise BadInput(
            "lies in the future",
            field="on",
            value=on.isoformat(),
            allowed=f"{today.isoformat()} or earlier",
            fix="enter it once it is done",
        )


def _aircraft(mark: str) -> models.Aircraft:
    found = models.Aircraft.objects.filter(mark=mark).first()
    if found is None:
        raise MissingInput("is not in the book", field="aircraft", value=mark, fix="add the aircraft first")
    return found
