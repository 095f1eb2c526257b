"""Letting people in at the desk: who administers the book may, everybody else looks; each entry says what is wrong."""

import re
from typing import Any
from urllib.parse import quote

import pytest
from django.test import Client

from bladewright.records import secrets
from bladewright.records.acts import Scope
from bladewright.records.people import all_people
from bladewright.records.ready import models
from bladewright.records.staffing import about_person
from bladewright.records.tokens import all_tokens, token_holder
from tests.records.cast import AT, INSPECTOR, MAKER, MAY, OFFICE, by
from tests.web.conftest import SECRET, Enter, sent

DAY = AT.date()
NEW = "Tess New"
FIRST = "seven grey geese"
pytestmark = pytest.mark.usefixtures("shop_desk")


def to(action: str, name: str) -> str:
    """Where a form about a person is sent."""
    return f"/people/{action}/{quote(name)}/"


#: every address of these pages that writes, with what is sent there
WRITES: dict[str, dict[str, str]] = {
    "/people/add/": {"name": NEW},
    to("authorise", MAKER): {"scope": "inspect", "from_": "2026-05-04", "secret": SECRET},
    to("withdraw", MAKER): {"scope": "cure", "secret": SECRET},
    to("secret", MAKER): {"first_secret": FIRST, "secret": SECRET},
    to("take-secret", MAKER): {"secret": SECRET},
    to("key", MAKER): {"name": "scale", "may": "read", "last": "2026-06-30", "secret": SECRET},
}


def page_of(name: str) -> str:
    return f"/people/of/{name}/"


def may(name: str) -> tuple[Scope, ...]:
    return next(line.scopes for line in all_people(DAY) if line.name == name)


@pytest.mark.parametrize("who", [*MAY, OFFICE])
def test_everybody_signed_in_may_look(who: str, enter: Enter) -> None:
    client = enter(who)
    for address in ("/people/", page_of(INSPECTOR), page_of(OFFICE)):
        text = client.get(address).content.decode()
        assert INSPECTOR in text or OFFICE in text
        assert ("Enter them in the book" in text or "Authorise</button>" in text) == (who == OFFICE)


@pytest.mark.parametrize("address", ["/people/", page_of(MAKER), "/own/"])
def test_nobody_else_may_look(address: str) -> None:
    assert Client().get(address).status_code == 401


@pytest.mark.parametrize("address", WRITES)
def test_only_who_administers_the_book_writes(address: str, enter: Enter) -> None:
    before = models.Event.objects.count()
    for who in MAY:
        assert enter(who).post(address, {"once": "form-1"} | WRITES[address]).status_code == 403
    assert Client().post(address, {"once": "form-1"} | WRITES[address]).status_code == 401
    assert enter(OFFICE).get(address).status_code == 405
    assert models.Event.objects.count() == before


@pytest.mark.parametrize("address", WRITES)
def test_who_administers_the_book_does(address: str, enter: Enter) -> None:
    page = "/people/" if address == "/people/add/" else page_of(MAKER)
    before = models.Event.objects.count()
    answer = sent(enter(OFFICE), page, address, **WRITES[address])
    assert answer.status_code in (200, 303), answer.content.decode()
    assert models.Event.objects.count() == before + 1
    assert models.Event.objects.latest("number").by == OFFICE


@pytest.mark.parametrize("address", [address for address, entries in WRITES.items() if "secret" in entries])
def test_what_is_signed_asks_the_secret_again(address: str, enter: Enter) -> None:
    client = enter(OFFICE)
    before = models.Event.objects.count()
    for wrong, status in (("not the one at all", 403), ("", 422)):
        answer = sent(client, page_of(MAKER), address, **WRITES[address] | {"secret": wrong})
        assert answer.status_code == status
        assert "not the one at all" not in answer.content.decode()
    assert models.Event.objects.count() == before


def test_a_new_person_is_entered_authorised_and_chooses_their_own_secret(enter: Enter) -> None:
    office = enter(OFFICE)
    assert sent(office, "/people/", "/people/add/", name=NEW).headers["Location"] == "/people/of/Tess%20New/"
    where = to("authorise", NEW)
    entries = {"scope": "cure", "from_": "2026-05-04", "until": "2026-12-31", "secret": SECRET}
    assert sent(office, page_of(NEW), where, **entries).status_code == 303
    where = to("secret", NEW)
    assert sent(office, page_of(NEW), where, first_secret=FIRST, secret=SECRET).status_code == 303
    assert may(NEW) == (Scope.CURE,)

    tess = Client()
    assert tess.post("/enter/", {"name": NEW, "secret": FIRST}).headers["Location"] == "/own/"
    assert f"{OFFICE} chose the one you have" in tess.get("/own/").content.decode()
    own = "a lathe in the rain"
    chosen = {"secret": FIRST, "new_secret": own, "new_secret_again": own}
    assert sent(tess, "/own/", "/own/secret/", **chosen).status_code == 303
    assert tess.get("/own/").status_code == 200  # this session goes on
    secrets.prove_to_sign(NEW, own, 0.0)


def test_an_entry_that_cannot_be_is_told_beside_it(enter: Enter) -> None:
    client = enter(OFFICE)
    where = to("authorise", MAKER)
    entries = {"scope": "inspect", "from_": "2026-05-04", "until": "2026-05-03", "secret": SECRET}
    answer = sent(client, page_of(MAKER), where, **entries)
    assert answer.status_code == 422
    said = re.search(r'id="authorise_form_until_error">(.*?)</div>', answer.content.decode(), re.S)
    assert said is not None
    assert "ends before it begins" in said.group(1)
    assert "2026-05-04 or later" in said.group(1)
    weak = to("secret", MAKER)
    text = sent(client, page_of(MAKER), weak, first_secret="Password123", secret=SECRET).content.decode()
    assert "one of the most used everywhere" in text
    alike = sent(client, "/people/", "/people/add/", name=MAKER.upper())
    assert alike.status_code == 422
    assert "can be taken for" in alike.content.decode()


def test_two_who_administer_do_not_write_over_each_other(enter: Enter) -> None:
    office = enter(OFFICE)
    sent(office, page_of(MAKER), to("authorise", MAKER),
         scope="administer book", from_="2026-05-04", secret=SECRET)  # fmt: skip
    maker = enter(MAKER)
    where = to("authorise", INSPECTOR)
    stale = _hidden(maker, page_of(INSPECTOR), where)
    assert sent(office, page_of(INSPECTOR), where, scope="match", from_="2026-05-04", secret=SECRET).status_code == 303
    answer = maker.post(where, stale | {"scope": "release", "from_": "2026-05-04", "secret": SECRET})
    assert answer.status_code == 409
    assert "person authorised, by Orla Desk" in answer.content.decode()
    assert Scope.RELEASE not in may(INSPECTOR)


def test_one_form_sent_twice_writes_once(enter: Enter) -> None:
    client = enter(OFFICE)
    hidden = _hidden(client, "/people/", "/people/add/")
    first = client.post("/people/add/", hidden | {"name": NEW})
    before = models.Event.objects.count()
    again = client.post("/people/add/", hidden | {"name": NEW})
    assert (first.status_code, again.status_code) == (303, 303)
    assert models.Event.objects.count() == before
    assert "Nothing was entered twice" in client.get("/people/").content.decode()


def test_the_last_who_administers_cannot_be_withdrawn(enter: Enter) -> None:
    where = to("withdraw", OFFICE)
    answer = sent(enter(OFFICE), page_of(OFFICE), where, scope="administer book", secret=SECRET)
    assert answer.status_code == 422
    assert "would leave nobody to administer the book" in answer.content.decode()
    assert may(OFFICE) == (Scope.ADMINISTER,)


def test_who_is_let_out_is_out_at_once(enter: Enter) -> None:
    maker = enter(MAKER)
    assert maker.get("/people/").status_code == 200
    where = to("take-secret", MAKER)
    assert sent(enter(OFFICE), page_of(MAKER), where, secret=SECRET, reason="left the shop").status_code == 303
    assert maker.get("/people/").status_code == 401
    assert about_person(MAKER, DAY).history[0].reason == "left the shop"


def test_somebody_who_is_not_in_the_book_has_no_page(enter: Enter) -> None:
    client = enter(OFFICE)
    for name in ("Nobody Known", "a/b", "x" * 150):
        assert client.get(page_of(name)).status_code == 404
    for name in ("x" * 500, "%20", "%E2%80%8B"):
        assert client.get(page_of(name)).status_code == 422
    assert client.get(page_of("a%00b")).status_code == 400


def test_the_page_says_what_nobody_may(enter: Enter) -> None:
    text = enter(OFFICE).get("/people/").content.decode()
    assert "nobody</span>" not in text
    where = to("withdraw", MAKER)
    sent(enter(OFFICE), page_of(MAKER), where, scope="cure", secret=SECRET)
    text = enter(MAKER).get("/people/").content.decode()
    assert "Nobody may do &quot;cure&quot; today" in text
    assert "nobody</span>" in text
    assert f"withdrawn by {OFFICE} on 2026-05-04" in enter(MAKER).get(page_of(MAKER)).content.decode()


def test_a_key_is_shown_once_and_never_again(enter: Enter) -> None:
    maker = enter(MAKER)
    entries: dict[str, Any] = {
        "name": "oven logger", "may": ["read", "add evidence"], "last": "2026-06-30", "secret": SECRET,
    }  # fmt: skip
    answer = sent(maker, "/own/", "/own/key/", **entries)
    assert answer.status_code == 200
    found = re.search(r'id="key" readonly value="([^"]+)"', answer.content.decode())
    assert found is not None
    assert token_holder(found.group(1), AT).person == MAKER
    for text in (maker.get("/own/").content.decode(), enter(OFFICE).get(page_of(MAKER)).content.decode()):
        assert "oven logger" in text
        assert found.group(1) not in text
    assert found.group(1) not in str(maker.cookies)
    assert sent(maker, "/own/", "/own/end-key/", key="oven logger").status_code == 303
    assert all_tokens(MAKER)[0].withdrawn_by == MAKER


def test_a_key_that_adds_evidence_is_only_made_for_oneself(enter: Enter) -> None:
    office = enter(OFFICE)
    where = to("key", MAKER)
    answer = sent(office, page_of(MAKER), where, name="k", may="add evidence", last="2026-06-30", secret=SECRET)
    assert answer.status_code == 422
    assert all_tokens() == ()


def test_ones_own_secret_is_changed_with_the_old_one_only(enter: Enter) -> None:
    other, maker = enter(MAKER), enter(MAKER)
    new = "a lathe in the rain"
    for entries, said in (
        ({"secret": "not the one at all", "new_secret": new, "new_secret_again": new}, "do not go together"),
        ({"secret": SECRET, "new_secret": new, "new_secret_again": new + "s"}, "The two are not the same"),
        ({"secret": SECRET, "new_secret": "geese", "new_secret_again": "geese"}, "is 5 letters long"),
        ({"secret": SECRET, "new_secret": SECRET, "new_secret_again": SECRET}, "is the one you have"),
    ):
        answer = sent(maker, "/own/", "/own/secret/", **entries)
        assert answer.status_code in (403, 422)
        assert said in answer.content.decode()
        assert "lathe" not in answer.content.decode()
    entries = {"secret": SECRET, "new_secret": new, "new_secret_again": new}
    assert sent(maker, "/own/", "/own/secret/", **entries).status_code == 303
    assert (maker.get("/own/").status_code, other.get("/own/").status_code) == (200, 401)
    assert by(MAKER).by in maker.get("/own/").content.decode()


def test_a_new_secret_typed_after_the_session_ended_is_not_kept_in_the_page() -> None:
    new = "a lathe in the rain"
    entries = {"once": "form-1", "secret": SECRET, "new_secret": new, "new_secret_again": new}
    answer = Client().post("/own/secret/", entries)
    assert answer.status_code == 401
    kept = re.search(r'name="typed" value="([^"]+)"', answer.content.decode())
    assert kept is not None
    from django.core import signing

    assert signing.loads(kept.group(1), salt="typed before coming in")["entries"] == [["once", "form-1"]]


def _hidden(client: Client, page: str, action: str) -> dict[str, str]:
    text = client.get(page).content.decode()
    inside = next(
        held
        for where, held in re.findall(r'<form[^>]*action="([^"]*)"[^>]*>(.*?)</form>', text, re.S)
        if where == action
    )
    return dict(re.findall(r'<input type="hidden" name="([^"]+)" value="([^"]*)"', inside))
