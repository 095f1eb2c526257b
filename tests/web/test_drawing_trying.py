"""Trying a change: anybody signed in may; each value has its unit; what is wrong stands beside its entry."""

import html
import re
from collections.abc import Iterator

import pytest
from django.test import Client

from bladewright.design.drawn_answers import HEADLINES, answers_with
from bladewright.records.opening import Book
from bladewright.records.revisions import revision_of
from bladewright.web import drawing as view
from tests.records.cast import DRAUGHTSMAN, MAKER, MAY, OFFICE
from tests.web.conftest import Enter

PAGE = "/drawings/FM-31/A/"
HTMX = {"HTTP_HX_REQUEST": "true", "HTTP_HX_TARGET": "answers"}
pytestmark = pytest.mark.usefixtures("shop_desk")


@pytest.fixture(autouse=True)
def _patient(monkeypatch: pytest.MonkeyPatch) -> Iterator[None]:
    """A busy machine is waited for."""
    for name in ("AT_ONCE", "CHANGED", "WAITED_FOR"):
        monkeypatch.setattr(view, name, 120.0)
    return iter(())


def text_of(client: Client, address: str, **more: str) -> str:
    return html.unescape(client.get(address, **more).content.decode())  # type: ignore[arg-type]


@pytest.mark.parametrize("who", [*MAY, OFFICE])
def test_everybody_signed_in_may_look_and_try(enter: Enter, who: str) -> None:
    assert enter(who).get(PAGE).status_code == 200


def test_every_first_answer_stands_there_with_its_limit(enter: Enter) -> None:
    told = text_of(enter(MAKER), PAGE)
    for name in HEADLINES:
        assert name in told
    assert "unvalidated data" in told
    assert "estimates until flown" in told


def test_a_change_shows_old_new_and_difference_the_same_with_and_without_a_script(enter: Enter) -> None:
    client = enter(MAKER)
    asked = f"{PAGE}?tip_weight.mass=0.95+kg"
    whole, part = text_of(client, asked), text_of(client, asked, **HTMX)
    shown = revision_of("FM-31", "A")
    new = answers_with(shown.data, (("tip_weight.mass", "0.95 kg"),)).answers["span moment"]
    for told in (whole, part):
        assert f"{new.value:.3g} kg m" in told
        assert "With 1 change, against revision A, released" in told
    assert "<html" in whole
    assert "<html" not in part


def test_a_change_back_to_what_is_drawn_is_none(enter: Enter) -> None:
    assert "As drawn in revision A" in text_of(enter(MAKER), f"{PAGE}?tip_weight.mass=0.900+kg")


@pytest.mark.parametrize(
    ("entry", "typed", "said"),
    [
        ("reflex.angle", "2.3", "has no unit"),
        ("tip_weight.mass", "0.95 m", "is not a unit of mass"),
        ("skin.top_thickness", "thin", "is not a number with a unit"),
        ("tip_weight.chordwise", "60 %", "hollow"),
        ("skin.bottom_thickness", "-1 mm", "more than"),
    ],
)
def test_what_cannot_be_is_said_beside_its_entry(enter: Enter, entry: str, typed: str, said: str) -> None:
    told = text_of(enter(MAKER), PAGE, **HTMX, QUERY_STRING=f"{entry}={typed.replace(' ', '+').replace('%', '%25')}")
    beside = re.search(rf'id="wrong-{entry.replace(".", "-")}"[^>]*>(.*?)</div>', told, re.S)
    assert beside is not None
    assert said in beside[1]
    assert "figures wait until it is mended" in told
    assert "File the draft" not in told


def test_any_other_entry_may_be_tried_and_an_unknown_one_is_refused(enter: Enter) -> None:
    client = enter(DRAUGHTSMAN)
    told = text_of(client, f"{PAGE}?other=rotor.gross_mass&other_value=500+kg")
    assert "rotor.gross_mass = 500 kg" in told
    assert "is not a field of this drawing" in text_of(client, f"{PAGE}?other=rotor.gros_mass&other_value=500+kg")


def test_what_is_typed_never_becomes_markup(enter: Enter) -> None:
    answer = enter(MAKER).get(f'{PAGE}?reflex.angle="><script>alert(1)</script>&other=<b>&other_value=1')
    assert b"<script>alert" not in answer.content
    assert b"<b>&" not in answer.content


def test_inch_people_read_inches(enter: Enter) -> None:
    client = enter(MAKER)
    client.post("/preferences/", {"system": "inch", "theme": "", "back": "/"})
    told = text_of(client, PAGE)
    assert " lb in" in told
    assert " lbf" in told


def test_while_it_is_worked_out_no_figure_stands_there(enter: Enter, monkeypatch: pytest.MonkeyPatch) -> None:
    client = enter(MAKER)
    monkeypatch.setattr(view, "AT_ONCE", 0.0)
    monkeypatch.setattr(view, "WAITED_FOR", 0.0)
    told = text_of(client, f"{PAGE}?reflex.angle=1.37+deg")
    assert "Being worked out" in told
    assert "Look again" in told
    assert 'class="answered"' not in told


def test_a_drawing_nobody_filed_is_not_there(enter: Enter) -> None:
    assert enter(MAKER).get("/drawings/FM-31/Z/").status_code == 404


def test_service_and_sensitivities_follow_on_pages_of_their_own(enter: Enter) -> None:
    client = enter(MAKER)
    told = text_of(client, f"{PAGE}in-service/")
    for state in ("as drawn", "tip weight lost", "a second coat of paint", "water in the trailing-edge seam"):
        assert state in told
    assert "A calculated screening" in told


def test_the_file_comes_back_byte_for_byte(shop_desk: Book, enter: Enter) -> None:
    answer = enter(MAKER).get(f"{PAGE}file/")
    assert answer.content == revision_of("FM-31", "A").data
    assert "attachment" in answer.headers["Content-Disposition"]
