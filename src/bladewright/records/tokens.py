"""Keys for programs: one acts for a person until a day, only in what it was made for, and never signs.

The book keeps a key's SHA-256; the key itself is shown once. It is 256 bits of chance, so a plain hash is enough.
"""

import datetime
import hmac
import json
import secrets
from dataclasses import dataclass
from enum import StrEnum
from typing import Final

from django.db.models import QuerySet

from bladewright.errors import BadInput, MissingInput, NotAuthorised
from bladewright.figures import canonical, digest
from bladewright.records.acts import Act, Scope
from bladewright.records.authority import require
from bladewright.records.book import opened
from bladewright.records.chain import moment
from bladewright.records.naming import refuse_look_alike, refuse_name
from bladewright.records.ready import models
from bladewright.records.writing import writing

#: days a key may be valid; our own choice: one forgotten on a computer ends within a year
LONGEST_DAYS: Final = 366
_BYTES: Final = 32


class May(StrEnum):
    """What a program may do with a key."""

    READ = "read"
    TRACE = "trace"
    ADD = "add evidence"


@dataclass(frozen=True, slots=True)
class Key:
    """A program's key as the book knows it; ``last`` is its last day."""

    name: str
    person: str
    may: tuple[May, ...]
    last: datetime.date
    made_by: str
    withdrawn_on: datetime.date | None = None
    withdrawn_by: str = ""

    def holds(self, day: datetime.date) -> bool:
        """Whether a program may come in with it on this day."""
        return self.withdrawn_on is None and day <= self.last


def make_token(act: Act, name: str, person: str, may: tuple[May, ...], last: datetime.date) -> tuple[Key, str]:
    """A new key, and the key itself, which is told this once.

    Who administers the book makes keys for anybody; to add evidence in a person's name is that person's to give.
    """
    refuse_name(name, "name")
    allowed = tuple(sorted({may_named(item) for item in may}))
    if not allowed:
        raise MissingInput("is not said", field="may", allowed=", ".join(May), fix="choose one at least")
    _refuse_long(last, opened().day(act.at))
    key = secrets.token_urlsafe(_BYTES)
    with writing(act, "program key made", name) as entry:
        if act.by != person:
            require(act, Scope.ADMINISTER)
            _refuse_in_anothers_name(act, person, allowed)
        known = models.Person.objects.filter(name=person).first()
        if known is None:
            raise MissingInput(
                "is not in the book", field="person", value=person, allowed="a person in the book", fix="add them first"
            )
        if models.Token.objects.filter(name=name).exists():
            raise BadInput(
                "is the name of another key",
                field="name",
                value=name,
                allowed="a name of its own for each key, also after it has ended",
                fix="say which program and which computer",
            )
        refuse_look_alike(name, "name", models.Token.objects.values_list("name", flat=True))
        entry.add(
            models.Token(
                name=name,
                person=known,
                may=canonical(allowed).decode("ascii"),
                sha256=digest(key.encode("ascii")),
                last=last,
            )
        )
        return Key(name, person, allowed, last, act.by), key


def withdraw_token(act: Act, name: str) -> Key:
    """End a key now. Its person may, and who administers the book."""
    with writing(act, "program key withdrawn", name) as entry:
        row = _rows().filter(name=name).first()
        if row is None:
            raise MissingInput(
                "is not a key of this book", field="name", value=name, allowed="a key's name", fix="look at the list"
            )
        if act.by != row.person.name:
            require(act, Scope.ADMINISTER)
        if not hasattr(row, "withdrawal"):
            entry.add(models.TokenWithdrawal(token=row))
    return _key(_rows().get(name=name))


def all_tokens(person: str = "") -> tuple[Key, ...]:
    """Every key there ever was, or one person's, in the order made."""
    rows = _rows().filter(person__name=person) if person else _rows()
    return tuple(_key(row) for row in rows.order_by("id"))


def token_holder(key: str, now: datetime.datetime) -> Key:
    """Whom a program acts for, by its key; ``NotAuthorised`` for one that does not hold. No error repeats the key."""
    sha256 = digest(key.encode("utf-8", "surrogatepass"))
    row = _rows().filter(sha256=sha256).first()
    # found by its hash, which nobody can choose, then compared whole in constant time
    if row is None or not hmac.compare_digest(row.sha256, sha256):
        raise _refused("is not a key of this book", "ask for a key on the people page")
    found, day = _key(row), opened().day(now)
    if found.withdrawn_on is not None:
        told = f'"{found.name}" of {found.person} was withdrawn by {found.withdrawn_by} on {found.withdrawn_on}'
        raise _refused(told, "make a new key if the program is still needed")
    if day > found.last:
        raise _refused(f'"{found.name}" of {found.person} was valid until {found.last}', "make a new key")
    return found


def require_may(key: Key, may: May) -> None:
    """``NotAuthorised`` unless the key was made for this."""
    if may not in key.may:
        raise NotAuthorised(
            f'"{key.name}" of {key.person} is not for this',
            field="key",
            value=key.name,
            allowed=f'a key that may "{may}"',
            fix="make one that may, and withdraw this one if it is no longer needed",
        )


def may_named(may: May | str) -> May:
    """What a key may, by its name; ``BadInput`` lists all of them."""
    try:
        return May(may)
    except ValueError as error:
        raise BadInput(
            "is nothing a key can be for",
            field="may",
            value=str(may),
            allowed=", ".join(May),
            fix="choose from these; a program never signs",
        ) from error


def _refused(what: str, fix: str) -> NotAuthorised:
    return NotAuthorised(what, field="key", allowed="a key that is neither withdrawn nor over", fix=fix)


def _refuse_long(last: datetime.date, day: datetime.date) -> None:
    latest = day + datetime.timedelta(days=LONGEST_DAYS)
    if not day <= last <= latest:
        raise BadInput(
            "is over already" if last < day else "is too far away",
            field="last",
            value=last.isoformat(),
            allowed=f"{day.isoformat()} to {latest.isoformat()}",
            fix="choose the last day the program needs it; a new key can be made then",
        )


def _refuse_in_anothers_name(act: Act, person: str, may: tuple[May, ...]) -> None:
    if May.ADD in may:
        raise NotAuthorised(
            "evidence is not added in another person's name",
            field="person",
            value=person,
            allowed=act.by,
            fix="let that person make the key, or leave adding evidence out",
        )


def _rows() -> QuerySet[models.Token]:
    return models.Token.objects.select_related("person", "event", "withdrawal__event")


def _key(row: models.Token) -> Key:
    ended = row.withdrawal.event if hasattr(row, "withdrawal") else None
    return Key(
        name=row.name,
        person=row.person.name,
        may=tuple(May(item) for item in json.loads(row.may)),
        last=row.last,
        made_by=row.event.by,
        withdrawn_on=opened().day(moment(ended.at)) if ended else None,
        withdrawn_by=ended.by if ended else "",
    )
