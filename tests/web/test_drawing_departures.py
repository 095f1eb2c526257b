"""A batch whose reflex came out off: from the list of drawings in one step, with what is not known said."""

import html

import pytest

from bladewright.design.batch import off_batch
from bladewright.records.revisions import revision_of
from tests.records.cast import MAKER, MAY, OFFICE
from tests.web.conftest import Enter

BOX = "/drawings/FM-31/A/departure/"
pytestmark = pytest.mark.usefixtures("shop_desk")


@pytest.mark.parametrize("who", [*MAY, OFFICE])
def test_everybody_signed_in_may_ask(enter: Enter, who: str) -> None:
    assert enter(who).get(BOX, {"field": "reflex.angle", "off": "0.3 deg"}).status_code == 200


def test_the_list_of_drawings_has_the_question_on_top(enter: Enter) -> None:
    told = enter(MAKER).get("/drawings/").content.decode()
    assert f'action="{BOX}"' in told
    assert 'value="0.3 deg"' in told


def test_the_hand_the_mates_and_what_would_change_it(enter: Enter) -> None:
    asked = {"field": "reflex.angle", "off": "0.3 deg", "uncertainty": "0.05 deg"}
    told = html.unescape(enter(MAKER).get(BOX, asked).content.decode())
    drawing = revision_of("FM-31", "A").drawing
    change = off_batch(drawing, 0.005235987755982988).both[0].value  # 0.3 deg; the same door as the command's
    assert f"lighter by <b>{abs(change):.1f} N" in told
    for words in ("Which blades may fly together", "section moment", "What would change this", "estimate until flown"):
        assert words in told


def test_without_an_uncertainty_it_says_not_quantified(enter: Enter) -> None:
    told = enter(MAKER).get(BOX, {"field": "reflex.angle", "off": "0.3 deg"}).content.decode()
    assert "not quantified" in told
    assert "Say how well it was measured" in told


@pytest.mark.parametrize(
    ("asked", "said"),
    [
        ({"field": "reflex.angle", "off": "0.3"}, "has no unit"),
        ({"field": "reflex.angle"}, "one of the two"),
        ({"field": "planform.twist", "off": "0.1 deg"}, "is measured at a radius"),
        ({"field": "reflex.bend", "off": "0.1 deg"}, "is not a measured field"),
        ({"field": "planform.twist", "off": "0.1 deg", "station": "9 m"}, "0.25 m to 3.55 m"),
    ],
)
def test_what_cannot_be_asked_is_answered_with_what_is_allowed(enter: Enter, asked: dict[str, str], said: str) -> None:
    answer = enter(MAKER).get(BOX, asked)
    assert answer.status_code == 422
    assert said in html.unescape(answer.content.decode())
