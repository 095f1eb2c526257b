"""Approving a draft: another person, who proves themselves again, and sees field by field what changed."""

import pytest

from bladewright.records.acts import Scope
from bladewright.records.drawings import file_draft
from bladewright.records.people import authorise
from bladewright.records.revisions import revision_of
from tests.records.cast import APPROVER, AT, DRAUGHTSMAN, OFFICE, STRANGER, by, everybody_but
from tests.web.conftest import SECRET, Enter, sent

PAGE, ACTION = "/drawings/FM-31/B/", "/drawings/FM-31/B/approve/"


@pytest.fixture(autouse=True)
def _a_draft(shop_desk: object) -> None:
    changes = {"reflex.angle": "2.3 deg", "skin.top_thickness": "0.635 mm"}
    file_draft(by(DRAUGHTSMAN, "lighter on the hand"), "FM-31", "A", changes, "B")


def standing() -> str:
    return revision_of("FM-31", "B").line.standing


def test_another_person_sees_what_changed_and_approves(enter: Enter) -> None:
    client = enter(APPROVER)
    told = client.get(PAGE).content.decode()
    for words in ("lighter on the hand", "reflex of the finished blade", "2.0 deg", "2.3 deg", "the same size"):
        assert words in told
    answer = sent(client, PAGE, ACTION, secret=SECRET, reason="checked the band")
    assert answer.status_code == 303
    assert standing() == "released"
    assert revision_of("FM-31", "A").line.standing == "superseded"


def test_a_wrong_secret_signs_nothing(enter: Enter) -> None:
    answer = sent(enter(APPROVER), PAGE, ACTION, secret="not the one at all")
    assert answer.status_code in (403, 422)
    assert standing() == "draft"


def test_who_filed_it_does_not_approve_it_even_when_authorised(enter: Enter) -> None:
    authorise(by(OFFICE), DRAUGHTSMAN, Scope.APPROVE, AT.date())
    client = enter(DRAUGHTSMAN)
    assert "Approve this revision" not in client.get(PAGE).content.decode()
    answer = client.post(ACTION, {"once": "a", "secret": SECRET})
    assert answer.status_code == 403
    assert "somebody who did not file it" in answer.content.decode()
    assert standing() == "draft"


@pytest.mark.parametrize("who", everybody_but(APPROVER, STRANGER))
def test_who_may_not_approve_is_refused(enter: Enter, who: str) -> None:
    answer = enter(who).post(ACTION, {"once": "a", "secret": SECRET})
    assert answer.status_code == 403
    assert standing() == "draft"


def test_an_older_draft_is_not_approved_over_a_newer_one(enter: Enter) -> None:
    client = enter(APPROVER)
    file_draft(by(DRAUGHTSMAN), "FM-31", "B", {"reflex.angle": "2.5 deg"}, "C")
    assert sent(client, "/drawings/FM-31/C/", "/drawings/FM-31/C/approve/", secret=SECRET).status_code == 303
    answer = client.post(ACTION, {"once": "a", "secret": SECRET})
    assert answer.status_code == 422
    assert "is older than revision C" in answer.content.decode()
