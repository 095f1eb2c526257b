"""Signing for a proof: the secret every time, only what a person may sign, never one's own work last."""

import re

import pytest

from bladewright.figures import Outcome
from bladewright.records.acts import Scope
from bladewright.records.blades import about
from bladewright.records.judging import judge, latest_verdict
from bladewright.records.opening import Book
from bladewright.records.people import authorise
from bladewright.records.signing import Signature, sign_here
from tests.records.cast import AT, ENGINEER, INSPECTOR, MAKER, OFFICE, by, everybody_but
from tests.records.conftest import Judged
from tests.web.conftest import SECRET, Enter, sent

SERIAL = "B-0101"
PAGE = f"/blades/{SERIAL}/"
SIGN, JUDGE, DEVIATE = f"{PAGE}sign/", f"{PAGE}judge/", f"{PAGE}deviation/"
LAY_UP = {
    "proof": "lay-up",
    "result": "conforms",
    "statement": "Film laid to sheet FP-6, backing counted off.",
    "signed_on": "2026-05-01",
    "details": "room: 20 degC\nbacking: 6 of 6",
    "secret": SECRET,
}


def test_who_bonds_signs_the_lay_up(shop_desk: Book, enter: Enter) -> None:
    assert sent(enter(MAKER), PAGE, SIGN, **LAY_UP).status_code == 303
    (filed,) = about(SERIAL).evidence
    assert (filed.kind, filed.about, filed.by) == ("signed record", "lay-up", MAKER)


def test_a_wrong_secret_signs_nothing_and_is_not_sent_back(shop_desk: Book, enter: Enter) -> None:
    answer = sent(enter(MAKER), PAGE, SIGN, **LAY_UP | {"secret": "not the one at all"})
    assert answer.status_code == 403
    text = answer.content.decode()
    assert "not the one at all" not in text
    assert "Film laid to sheet FP-6" in text, "what was typed stays"
    assert about(SERIAL).evidence == ()


@pytest.mark.parametrize("who", [name for name in everybody_but(MAKER) if name != "Nobody Known"])
def test_nobody_else_signs_for_bonding(shop_desk: Book, enter: Enter, who: str) -> None:
    answer = enter(who).post(SIGN, LAY_UP | {"once": "x"})
    assert answer.status_code == 403
    assert about(SERIAL).evidence == ()


def test_only_what_a_person_may_sign_is_offered(shop_desk: Book, enter: Enter) -> None:
    maker, inspector = (enter(who).get(PAGE).content.decode() for who in (MAKER, INSPECTOR))
    assert '<option value="lay-up"' in maker
    assert '<option value="final inspection"' not in maker
    assert '<option value="final inspection"' in inspector
    assert '<option value="cure"' not in maker + inspector, "what was measured is not signed for"


def test_whoever_made_it_does_not_look_at_it_last(shop_desk: Book, enter: Enter) -> None:
    authorise(by(OFFICE), MAKER, Scope.LOOK_LAST, AT.date())
    answer = sent(enter(MAKER), PAGE, SIGN, **LAY_UP | {"proof": "final inspection"})
    assert answer.status_code == 403
    assert "made this blade" in answer.content.decode()
    assert sent(enter(INSPECTOR), PAGE, SIGN, **LAY_UP | {"proof": "final inspection"}).status_code == 303


def test_a_day_to_come_and_a_particular_without_a_name_are_refused_beside_their_entries(
    shop_desk: Book,
    enter: Enter,
) -> None:
    client = enter(MAKER)
    late = sent(client, PAGE, SIGN, **LAY_UP | {"signed_on": "2027-05-01"})
    assert 'id="id_signed_on_error"' in late.content.decode()
    loose = sent(client, PAGE, SIGN, **LAY_UP | {"details": "just words"})
    assert 'id="id_details_error"' in loose.content.decode()
    assert about(SERIAL).evidence == ()


def test_a_page_that_is_out_of_date_signs_nothing(shop_desk: Book, enter: Enter) -> None:
    client = enter(MAKER)
    old = client.get(PAGE).content.decode()
    sign_here(by(INSPECTOR), SERIAL, Signature("retained coupon", "conforms", "kept", AT.date()))
    seen = _hidden(old, SIGN)
    answer = client.post(SIGN, LAY_UP | seen)
    assert answer.status_code == 409
    assert "look at what is new" in answer.content.decode()
    assert [one.about for one in about(SERIAL).evidence] == ["retained coupon"]


def _hidden(text: str, action: str) -> dict[str, str]:
    form = re.search(rf'<form[^>]*action="{action}"[^>]*>(.*?)</form>', text, re.S)
    assert form is not None
    return dict(re.findall(r'<input type="hidden" name="([^"]+)" value="([^"]*)"', form.group(1)))


def test_an_inspector_judges_and_the_page_says_why(shop_desk: Book, enter: Enter) -> None:
    client = enter(INSPECTOR)
    assert sent(client, PAGE, JUDGE).status_code == 303
    text = client.get(PAGE).content.decode()
    assert "incomplete" in text
    assert "Not on file: material lots" in text


@pytest.mark.parametrize("who", [name for name in everybody_but(INSPECTOR) if name != "Nobody Known"])
def test_nobody_else_judges(shop_desk: Book, enter: Enter, who: str) -> None:
    assert enter(who).post(JUDGE, {"once": "x"}).status_code == 403
    assert latest_verdict(SERIAL) is None


REASON = {"rule": "cure: dwell", "reason": "The film's maker allows it.", "secret": SECRET}


@pytest.fixture(name="rejected")
def _rejected(shop_desk: Book, findings_are: Judged) -> None:
    findings_are(("cure: dwell", Outcome.FAIL))
    judge(by(INSPECTOR), SERIAL)


@pytest.mark.usefixtures("rejected")
def test_design_authority_accepts_a_finding_and_it_stays_a_fail(enter: Enter) -> None:
    client = enter(ENGINEER)
    done = sent(client, PAGE, DEVIATE, **REASON, only_with="B-0102, B-0103")
    assert done.status_code == 303
    judge(by(INSPECTOR), SERIAL)
    text = client.get(PAGE).content.decode()
    assert "accepted under deviation" in text
    assert "the finding stays" in text
    assert "Only with B-0102, B-0103." in text


@pytest.mark.usefixtures("rejected")
def test_a_rejected_blade_is_closed_by_a_signature(enter: Enter) -> None:
    client = enter(INSPECTOR)
    done = sent(client, PAGE, SIGN, **LAY_UP | {"proof": "serial closed", "statement": "Sawn in two before a witness."})
    assert done.status_code == 303
    assert "its serial is closed" in client.get(PAGE).content.decode()


@pytest.mark.usefixtures("rejected")
def test_a_deviation_needs_its_reason_and_the_secret(enter: Enter) -> None:
    client = enter(ENGINEER)
    assert 'id="id_reason_error"' in sent(client, PAGE, DEVIATE, **REASON | {"reason": ""}).content.decode()
    assert sent(client, PAGE, DEVIATE, **REASON | {"secret": "not the one at all"}).status_code == 403
    assert sent(client, PAGE, DEVIATE, **REASON | {"rule": "cure: ramp"}).status_code == 422


@pytest.mark.usefixtures("rejected")
@pytest.mark.parametrize("who", [name for name in everybody_but(ENGINEER) if name != "Nobody Known"])
def test_nobody_else_accepts_one(enter: Enter, who: str) -> None:
    assert enter(who).post(DEVIATE, REASON | {"once": "x"}).status_code == 403


@pytest.mark.usefixtures("rejected")
def test_evidence_filed_since_takes_the_form_away_until_it_is_judged_again(enter: Enter) -> None:
    client = enter(ENGINEER)
    sign_here(by(INSPECTOR), SERIAL, Signature("retained coupon", "conforms", "kept", AT.date()))
    text = client.get(PAGE).content.decode()
    assert "This verdict is out of date." in text
    assert f'action="{DEVIATE}"' not in text
