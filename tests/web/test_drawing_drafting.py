"""Filing what was tried: who draws may, on the newest revision only, and twice sent is once filed."""

import pytest

from bladewright.records.drawings import file_draft
from bladewright.records.opening import Book
from bladewright.records.revisions import revision_of, revisions
from tests.records.cast import DRAUGHTSMAN, STRANGER, by, everybody_but
from tests.web.conftest import Enter, sent

TRIED = "/drawings/FM-31/A/?reflex.angle=2.3+deg&skin.top_thickness=0.027+in"
ACTION = "/drawings/FM-31/A/draft/"
pytestmark = pytest.mark.usefixtures("shop_desk")


def test_what_was_tried_is_filed_with_its_reason_and_waits_for_another(enter: Enter) -> None:
    client = enter(DRAUGHTSMAN)
    answer = sent(client, TRIED, ACTION, revision="B", reason="lighter on the hand")
    assert (answer.status_code, answer.headers["Location"]) == (303, "/drawings/FM-31/B/")
    found = revision_of("FM-31", "B")
    assert (found.line.why, found.line.standing, found.line.filed_by) == ("lighter on the hand", "draft", DRAUGHTSMAN)
    told = client.get("/drawings/FM-31/B/").content.decode()
    assert "somebody else who may approve" in told
    assert "0.027 in" in told


def test_any_other_entry_rides_along(enter: Enter) -> None:
    sent(enter(DRAUGHTSMAN), "/drawings/FM-31/A/?other=rotor.gross_mass&other_value=490+kg", ACTION, revision="B")
    rotor = revision_of("FM-31", "B").drawing.rotor
    assert rotor is not None
    assert rotor.gross_mass == 490.0


@pytest.mark.parametrize("who", everybody_but(DRAUGHTSMAN, STRANGER))
def test_who_may_not_draw_is_shown_no_form_and_is_refused(enter: Enter, who: str) -> None:
    client = enter(who)
    assert "File the draft" not in client.get(TRIED).content.decode()
    answer = client.post(ACTION, {"once": "a", "revision": "B", "reflex.angle": "2.3 deg"})
    assert answer.status_code == 403
    assert [line.revision for line in revisions()] == ["A"]


def test_twice_sent_is_once_filed(enter: Enter) -> None:
    client = enter(DRAUGHTSMAN)
    typed = {"once": "the token of one form", "revision": "B", "reflex.angle": "2.3 deg"}
    assert [client.post(ACTION, typed).status_code for _ in range(2)] == [303, 303]
    assert [line.revision for line in revisions()] == ["B", "A"]


def test_a_stale_base_cannot_overwrite_a_newer_one(enter: Enter) -> None:
    client = enter(DRAUGHTSMAN)
    client.get(TRIED)
    file_draft(by(DRAUGHTSMAN), "FM-31", "A", {"tip_weight.mass": "1 kg"}, "B")
    answer = client.post(ACTION, {"once": "a", "revision": "C", "reflex.angle": "2.3 deg"})
    assert answer.status_code == 409
    told = answer.content.decode()
    assert "revision B was filed since" in told
    assert [line.revision for line in revisions()] == ["B", "A"]
    assert "A draft is drawn on the newest revision" in client.get(TRIED).content.decode()


def test_what_is_wrong_stands_beside_its_entry_and_nothing_is_filed(enter: Enter) -> None:
    client = enter(DRAUGHTSMAN)
    for typed, said in (
        ({"revision": "A", "reflex.angle": "2.3 deg"}, "is another file already"),
        ({"revision": "", "reflex.angle": "2.3 deg"}, "required"),
        ({"revision": "B", "reflex.angle": "2.3"}, "has no unit"),
        ({"revision": "B"}, "is filed as FM-31 revision A"),
    ):
        answer = client.post(ACTION, {"once": "a", **typed})
        assert answer.status_code == 422
        assert said in answer.content.decode()
    assert [line.revision for line in revisions()] == ["A"]


def test_a_drawing_file_handed_in_becomes_a_draft(shop_desk: Book, enter: Enter) -> None:
    client, data = enter(DRAUGHTSMAN), revision_of("FM-31", "A").data
    place = shop_desk.folder.parent / "fm31.toml"
    place.write_bytes(data.replace(b'angle = "2.0 deg"              #', b'angle = "2.4 deg"              #'))
    with place.open("rb") as file:
        answer = sent(client, "/drawings/", "/drawings/file/", file=file, revision="B", reason="as measured")
    assert answer.status_code == 303
    assert revision_of("FM-31", "B").drawing.reflex.angle == pytest.approx(0.0418879)  # type: ignore[union-attr]
    place.write_text("format = 1\n", encoding="utf-8")
    with place.open("rb") as file:
        answer = sent(client, "/drawings/", "/drawings/file/", file=file, revision="C")
    assert answer.status_code == 422
    assert "is needed and not there" in answer.content.decode()
    assert [line.revision for line in revisions()] == ["B", "A"]
