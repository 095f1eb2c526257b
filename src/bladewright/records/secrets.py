"""What people prove themselves by on the desk. The book keeps a slow salted hash; the newest of a person holds.

A secret that somebody else chose opens the desk but signs nothing: two people know it. There is none to begin with.
"""

import math
import threading
import unicodedata
from dataclasses import dataclass
from typing import Final

from django.contrib.auth.hashers import check_password, make_password
from django.contrib.auth.password_validation import CommonPasswordValidator
from django.core.exceptions import ValidationError

from bladewright.errors import BadInput, MissingInput, NotAuthorised
from bladewright.figures import digest
from bladewright.records.acts import Act, Scope
from bladewright.records.authority import require
from bladewright.records.book import opened
from bladewright.records.naming import refuse_name
from bladewright.records.ready import models
from bladewright.records.writing import writing

#: letters; NIST SP 800-63B asks for 8 at least and for no mixture of kinds (from memory); ten is our own choice
SHORTEST: Final = 10
#: letters; long enough for a sentence; our own choice
LONGEST: Final = 200
#: letters that differ; our own choice: keeps out a key held down
FEWEST_DIFFERENT: Final = 5
#: wrong secrets in a row before the next must wait; our own choice: a gloved hand slips
FREE: Final = 4
#: the longest wait [s]; our own choice: 1,440 guesses a day at most, and a mean hand keeps nobody out for long
LONGEST_WAIT: Final = 60.0
#: names nobody has that are remembered as tried; our own choice
_MOST_STRANGERS: Final = 1000


@dataclass(frozen=True, slots=True)
class SecretSet:
    """A person may enter by a secret. ``given``: somebody else chose it, so the person must choose their own."""

    person: str
    given: bool


@dataclass(frozen=True, slots=True)
class Begun:
    """The first person who may enter the desk, and administer the book."""

    person: str
    added: bool


@dataclass(frozen=True, slots=True)
class Tried:
    """Wrong secrets given for a name since the last right one, and when the last was, by a steady clock [s]."""

    wrong: int
    last: float
    known: bool


def change_secret(act: Act, old: str, new: str, seconds: float) -> SecretSet:
    """Choose one's own secret anew, having proven the one before."""
    refuse_weak(act.by, new, "new_secret")
    enter(act.by, old, seconds)
    return set_secret(act, act.by, new, "new_secret")


def set_secret(act: Act, person: str, secret: str, field: str = "secret") -> SecretSet:
    """Choose one's own secret, or as who administers the book, a first one for somebody else."""
    refuse_weak(person, secret, field)
    refuse_name(person, "person")
    known = models.Person.objects.filter(name=person).first()
    if known is None:
        raise MissingInput(
            "is not in the book", field="person", value=person, allowed="a person in the book", fix="add them first"
        )
    if act.by != person:
        require(act, Scope.ADMINISTER)
    elif check_password(_typed(secret), _hash_of(person)):
        raise BadInput("is the one you have", field=field, allowed="another than before", fix="think of another")
    made = make_password(_typed(secret))
    with writing(act, "secret set", person) as entry:
        if act.by != person:
            require(act, Scope.ADMINISTER)
        entry.add(models.Secret(person=known, hash=made))
    forget_tries(person)
    return SecretSet(person, given=act.by != person)


def take_secret(act: Act, person: str) -> bool:
    """Let a person, and the programs with their keys, no longer enter the desk. False if they could not before.

    What they did stays done.
    """
    with writing(act, "secret taken", person, Scope.ADMINISTER) as entry:
        newest = _newest(person)
        if newest is None or not newest.hash:
            return False
        if act.by == person:
            raise BadInput(
                "would leave yourself outside",
                field="person",
                value=person,
                allowed="somebody else",
                fix="let another who administers the book do it",
            )
        entry.add(models.Secret(person=newest.person, hash=""))
        for token in models.Token.objects.filter(person=newest.person, withdrawal__isnull=True).order_by("id"):
            entry.add(models.TokenWithdrawal(token=token))
        return True


def begin_with(act: Act, name: str, secret: str) -> Begun:
    """First start: the first administrator, with a secret, in one act. Refused once anybody has a secret.

    In a book that has people already, only somebody who administers it may be the first to enter.
    """
    refuse_name(name, "name")
    refuse_weak(name, secret)
    if act.by != name:
        raise NotAuthorised(
            "is entered by another person",
            field="by",
            value=act.by,
            allowed="the first person enters themselves",
            fix=f'let "{name}" be entered by "{name}"',
        )
    made = make_password(_typed(secret))
    with writing(act, "first administrator", name) as entry:
        if anybody_has_secret():
            raise NotAuthorised(
                "somebody can enter already",
                field="name",
                value=name,
                allowed="a first person in a book nobody can enter",
                fix="sign in, or ask who administers the book",
            )
        added = not models.Person.objects.exists()
        if added:
            person = entry.add(models.Person(name=name))
            day = opened().day(act.at)
            entry.add(models.Authorisation(person=person, scope=Scope.ADMINISTER.value, first=day, last=None))
        else:
            require(act, Scope.ADMINISTER)
            person = models.Person.objects.get(name=name)
        entry.add(models.Secret(person=person, hash=made))
        return Begun(name, added)


def refuse_weak(person: str, secret: str, field: str = "secret") -> None:
    """``BadInput`` for a secret that others would guess. The error never repeats it."""
    trouble = _weakness(person, _typed(secret))
    if trouble:
        raise BadInput(
            trouble,
            field=field,
            allowed=f"{SHORTEST} to {LONGEST} letters of any kind, not a much-used one and not somebody's name",
            fix="take a few words that do not belong together",
        )


def prove(name: str, secret: str) -> bool:
    """Whether the secret is this person's. Takes as long for a name nobody has."""
    return check_password(_typed(secret[: LONGEST + 1]), _hash_of(name))


def enter(name: str, secret: str, seconds: float) -> None:
    """``NotAuthorised`` unless the secret is this person's; each wrong one in a row makes the next wait longer.

    ``seconds`` is by a steady clock, such as ``time.monotonic()``. [s]
    """
    with _locks[hash(name) % len(_locks)]:  # one guess at a time for a name, so that none slips past the wait
        before = _tries.get(name)
        wait = wait_left(before, seconds)
        if wait > 0.0 and before is not None:
            raise NotAuthorised(
                f"{before.wrong} wrong secrets in a row for this name",
                field="secret",
                allowed=f"the next try in {math.ceil(wait)} s",
                fix="wait, then type it slowly; who administers the book can set a new one",
            )
        if prove(name, secret):
            _tries.pop(name, None)
            return
        _remember(name, Tried((before.wrong if before else 0) + 1, seconds, has_secret(name)))
    raise NotAuthorised(
        "this name and this secret do not go together",
        field="secret",
        allowed="the secret this person chose",
        fix="check the name and type the secret again; who administers the book can set a new one",
    )


def prove_to_sign(name: str, secret: str, seconds: float) -> None:
    """Like ``enter``, and refused while the secret is one that somebody else chose."""
    enter(name, secret, seconds)
    giver = given_by(name)
    if giver:
        raise NotAuthorised(
            f"was chosen by {giver}, so two people know it",
            field="secret",
            allowed="a secret only you know",
            fix="choose your own on your own page, then sign",
        )


def wait_left(tried: Tried | None, seconds: float) -> float:
    """How long a name must wait before the next try [s]: none for the first few, then doubling, to an end."""
    if tried is None or tried.wrong < FREE:
        return 0.0
    wait = min(2.0 ** min(tried.wrong - FREE, 60), LONGEST_WAIT)
    return min(max(tried.last + wait - seconds, 0.0), LONGEST_WAIT)


def has_secret(name: str) -> bool:
    """Whether this person can enter the desk."""
    return _hash_of(name) != ""


def anybody_has_secret() -> bool:
    """Whether the desk was ever begun: if not, its first page asks for the first administrator."""
    return models.Secret.objects.exists()


def given_by(name: str) -> str:
    """Who chose the secret this person has, if it was somebody else; else nothing."""
    newest = _newest(name)
    return newest.event.by if newest is not None and newest.event.by != name else ""


def secret_mark(name: str) -> str:
    """A few letters that change whenever the secret does, and end what was entered with the old one. Empty: none."""
    newest = _newest(name)
    return digest(f"{newest.pk} {newest.hash}".encode())[:16] if newest is not None and newest.hash else ""


def forget_tries(name: str) -> None:
    """Wrong secrets no longer count: a new one was set."""
    _tries.pop(name, None)


_tries: dict[str, Tried] = {}
_locks: Final = tuple(threading.Lock() for _ in range(16))
_common: Final = CommonPasswordValidator()


def _remember(name: str, tried: Tried) -> None:
    """Keep a wrong try. Made-up names must neither fill the memory nor push out those of the shop's people."""
    if not tried.known and len(_tries) >= _MOST_STRANGERS:
        for stranger in [other for other, before in list(_tries.items()) if not before.known]:
            _tries.pop(stranger, None)
    _tries[name] = tried


def _newest(name: str) -> models.Secret | None:
    found = models.Secret.objects.select_related("event", "person").filter(person__name=name)
    return found.order_by("-id").first()


def _hash_of(name: str) -> str:
    newest = _newest(name)
    return newest.hash if newest is not None else ""


def _typed(secret: str) -> str:
    """The same letters from every keyboard: NIST SP 800-63B asks for one normal form (from memory)."""
    return unicodedata.normalize("NFKC", secret)


def _weakness(person: str, secret: str) -> str:
    if len(secret) < SHORTEST:
        return f"is {len(secret)} letters long" if secret else "is empty"
    if len(secret) > LONGEST:
        return f"is {len(secret)} letters long"
    if any(not letter.isprintable() for letter in secret):
        return "holds a letter that cannot be seen"
    if len(set(secret.casefold())) < FEWEST_DIFFERENT:
        return "is made of too few different letters"
    said = _bare(secret)
    for word in (person, opened().shop, "bladewright"):
        if _bare(word) and not said.replace(_bare(word), "").strip("0123456789"):
            return "is a name that anybody here would try"
    try:
        _common.validate(secret)
    except ValidationError:
        return "is one of the most used everywhere"
    return ""


def _bare(text: str) -> str:
    return "".join(letter for letter in text.casefold() if letter.isalnum())
