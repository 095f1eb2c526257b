"""Secrets: who may set whose, which are refused, how a wrong one is slowed down, and what the book keeps."""

from pathlib import Path
from typing import Any

import pytest

from bladewright.errors import BadInput, BladewrightError, MissingInput, NotAuthorised
from bladewright.records import secrets
from bladewright.records.acts import Act, Scope
from bladewright.records.opening import create_book
from bladewright.records.people import all_people
from bladewright.records.ready import models
from tests.records.cast import BEGUN, INSPECTOR, MAKER, OFFICE, STRANGER, by, everybody_but

pytestmark = pytest.mark.book

GOOD, OTHER = "seven grey geese", "a lathe in the rain"


@pytest.fixture(autouse=True)
def _quick_hash(settings: Any) -> None:
    settings.PASSWORD_HASHERS = ["django.contrib.auth.hashers.MD5PasswordHasher"]
    secrets._tries.clear()


def refused(act: Any, kind: type[BladewrightError] = BadInput) -> BladewrightError:
    with pytest.raises(kind) as caught:
        act()
    return caught.value


@pytest.fixture(name="empty")
def _empty(tmp_path: Path) -> None:
    create_book(tmp_path / "book", shop="Fennmark Rotor Shop", zone="Europe/London", at=BEGUN)


@pytest.mark.usefixtures("empty")
def test_the_first_start_makes_one_administrator_in_one_act() -> None:
    assert not secrets.anybody_has_secret()
    assert secrets.begin_with(Act("Una First", BEGUN), "Una First", GOOD).added
    assert models.Event.objects.count() == 2  # the book begun, and this
    (line,) = all_people(BEGUN.date())
    assert line.scopes == (Scope.ADMINISTER,)
    assert secrets.prove("Una First", GOOD)
    assert secrets.given_by("Una First") == ""


@pytest.mark.usefixtures("empty")
def test_a_first_start_that_is_refused_leaves_nothing() -> None:
    wrong = refused(lambda: secrets.begin_with(Act("Una First", BEGUN), "Una First", "short"))
    assert wrong.field == "secret"
    assert wrong.value is None
    assert refused(lambda: secrets.begin_with(Act("Una First", BEGUN), "Dora", GOOD), NotAuthorised).field == "by"
    assert models.Person.objects.count() == 0
    assert not secrets.anybody_has_secret()


@pytest.mark.usefixtures("book")
@pytest.mark.parametrize("who", everybody_but(OFFICE))
def test_in_a_book_with_people_only_its_administrator_begins(who: str) -> None:
    assert refused(lambda: secrets.begin_with(by(who), who, GOOD), NotAuthorised).field == "by"
    assert not secrets.begin_with(by(OFFICE), OFFICE, GOOD).added
    assert secrets.prove(OFFICE, GOOD)


@pytest.mark.usefixtures("book")
def test_once_somebody_can_enter_nobody_else_begins() -> None:
    secrets.set_secret(by(MAKER), MAKER, GOOD)
    wrong = refused(lambda: secrets.begin_with(by(OFFICE), OFFICE, GOOD), NotAuthorised)
    assert (wrong.field, wrong.value) == ("name", OFFICE)


@pytest.mark.usefixtures("book")
@pytest.mark.parametrize("who", everybody_but(OFFICE, MAKER))
def test_only_oneself_or_the_administrator_sets_a_secret(who: str) -> None:
    assert refused(lambda: secrets.set_secret(by(who), MAKER, GOOD), NotAuthorised).value == who
    assert refused(lambda: secrets.take_secret(by(who), MAKER), NotAuthorised).value == who
    assert not secrets.has_secret(MAKER)
    assert not secrets.prove(MAKER, GOOD)


@pytest.mark.usefixtures("book")
def test_setting_a_secret_does_not_tell_others_what_it_was() -> None:
    secrets.set_secret(by(MAKER), MAKER, GOOD)
    assert refused(lambda: secrets.set_secret(by(INSPECTOR), MAKER, GOOD), NotAuthorised).field == "by"
    assert secrets.set_secret(by(OFFICE), MAKER, GOOD).given


@pytest.mark.usefixtures("book")
def test_a_secret_somebody_else_chose_enters_but_does_not_sign() -> None:
    assert secrets.set_secret(by(OFFICE), MAKER, GOOD).given
    assert secrets.given_by(MAKER) == OFFICE
    secrets.enter(MAKER, GOOD, 0.0)
    wrong = refused(lambda: secrets.prove_to_sign(MAKER, GOOD, 1.0), NotAuthorised)
    assert (wrong.field, wrong.value, wrong.allowed) == ("secret", None, "a secret only you know")
    assert OFFICE in wrong.what
    assert refused(lambda: secrets.set_secret(by(MAKER), MAKER, GOOD)).allowed == "another than before"
    assert not secrets.set_secret(by(MAKER), MAKER, OTHER).given
    secrets.prove_to_sign(MAKER, OTHER, 2.0)


@pytest.mark.usefixtures("book")
def test_the_newest_secret_holds_and_the_mark_changes_with_it() -> None:
    marks = {secrets.secret_mark(MAKER)}
    for secret in (GOOD, OTHER):
        secrets.set_secret(by(MAKER), MAKER, secret)
        marks.add(secrets.secret_mark(MAKER))
    assert len(marks) == 3
    assert (secrets.prove(MAKER, GOOD), secrets.prove(MAKER, OTHER)) == (False, True)


@pytest.mark.usefixtures("book")
def test_who_lost_their_secret_can_no_longer_enter() -> None:
    secrets.set_secret(by(MAKER), MAKER, GOOD)
    assert secrets.take_secret(by(OFFICE), MAKER)
    assert not secrets.take_secret(by(OFFICE), MAKER)
    assert (secrets.has_secret(MAKER), secrets.secret_mark(MAKER)) == (False, "")
    assert not any(secrets.prove(MAKER, tried) for tried in (GOOD, ""))
    secrets.set_secret(by(OFFICE), OFFICE, GOOD)
    assert refused(lambda: secrets.take_secret(by(OFFICE), OFFICE)).field == "person"


@pytest.mark.usefixtures("book")
@pytest.mark.parametrize(
    "weak",
    [
        *("", "geese", "aaaaaaaaaaaa", "abababababab", "x" * 201, "grey\x00geese fly"),
        *("Password123", "qwertyuiop", "1q2w3e4r5t6y", "Mott Bench 7", "fennmark rotor shop", "bladewright1"),
    ],
)
def test_a_secret_others_would_guess_is_refused_and_not_repeated(weak: str) -> None:
    wrong = refused(lambda: secrets.set_secret(by(MAKER), MAKER, weak))
    assert (wrong.field, wrong.value) == ("secret", None)
    assert not weak or weak not in str(wrong)
    assert "10 to 200 letters" in str(wrong.allowed)
    assert not secrets.has_secret(MAKER)


@pytest.mark.usefixtures("book")
def test_nobody_sets_a_secret_for_who_is_not_in_the_book() -> None:
    wrong = refused(lambda: secrets.set_secret(by(OFFICE), STRANGER, GOOD), MissingInput)
    assert (wrong.field, wrong.value) == ("person", STRANGER)


@pytest.mark.usefixtures("book")
def test_the_same_letters_from_another_keyboard_are_the_same_secret() -> None:
    secrets.set_secret(by(MAKER), MAKER, "sept oies grisées")
    assert secrets.prove(MAKER, "sept oies grisées")


@pytest.mark.usefixtures("book")
def test_the_book_never_holds_the_secret_itself() -> None:
    secrets.set_secret(by(MAKER), MAKER, GOOD)
    bodies = "".join(models.Event.objects.values_list("body", flat=True))
    assert '"table":"secret"' in bodies
    assert "geese" not in bodies


@pytest.mark.usefixtures("book")
def test_without_a_special_setting_the_hash_is_a_slow_one(settings: Any) -> None:
    del settings.PASSWORD_HASHERS
    settings.PASSWORD_HASHERS = __import__("bladewright.settings").settings.PASSWORD_HASHERS
    secrets.set_secret(by(MAKER), MAKER, GOOD)
    assert models.Secret.objects.get().hash.startswith("scrypt$")
    assert secrets.prove(MAKER, GOOD)


@pytest.mark.usefixtures("book")
def test_wrong_secrets_in_a_row_wait_longer_and_longer() -> None:
    secrets.set_secret(by(INSPECTOR), INSPECTOR, GOOD)
    for second in range(secrets.FREE):
        assert "do not go together" in refused(
            lambda second=second: secrets.enter(INSPECTOR, OTHER, second), NotAuthorised  # type: ignore[misc]
        ).what  # fmt: skip
    last = secrets.FREE - 1.0
    early = refused(lambda: secrets.enter(INSPECTOR, GOOD, last + 0.5), NotAuthorised)
    assert (early.field, early.allowed) == ("secret", "the next try in 1 s")
    assert early.what == f"{secrets.FREE} wrong secrets in a row for this name"
    secrets.enter(INSPECTOR, GOOD, last + 1.0)
    assert secrets.wait_left(secrets._tries.get(INSPECTOR), last + 1.0) == 0.0


@pytest.mark.parametrize(("wrong", "wait"), [(0, 0), (3, 0), (4, 1), (5, 2), (6, 4), (9, 32), (10, 60), (500, 60)])
def test_the_wait_doubles_to_an_end(wrong: int, wait: float) -> None:
    """One second after the fourth, then twice as long each time; a minute at most. Our own choice, worked by hand."""
    tried = secrets.Tried(wrong, last=100.0, known=True)
    assert secrets.wait_left(tried, 100.0) == wait
    assert secrets.wait_left(tried, 100.0 + wait) == 0.0
    assert secrets.wait_left(tried, -1e9) <= secrets.LONGEST_WAIT  # a clock set back locks nobody out


@pytest.mark.usefixtures("book")
def test_made_up_names_are_slowed_too_and_do_not_push_out_real_ones(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(secrets, "_MOST_STRANGERS", 20)
    secrets.set_secret(by(INSPECTOR), INSPECTOR, GOOD)
    for _ in range(secrets.FREE):
        refused(lambda: secrets.enter(INSPECTOR, OTHER, 0.0), NotAuthorised)
    for number in range(100):
        refused(lambda number=number: secrets.enter(f"Made Up {number}", OTHER, 0.0), NotAuthorised)  # type: ignore[misc]
    assert len(secrets._tries) <= 21
    assert "in a row" in refused(lambda: secrets.enter(INSPECTOR, GOOD, 0.5), NotAuthorised).what
