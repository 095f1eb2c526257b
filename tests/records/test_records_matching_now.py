"""Looking at whom the finished blades fly with, and trying a set: what is shown and kept; nothing is written."""

from collections.abc import Callable
from pathlib import Path

import pytest
from django.db import connection
from django.test.utils import CaptureQueriesContext

from bladewright.errors import BadInput, MissingInput, Outdated
from bladewright.figures import Outcome
from bladewright.records.evidence import file_weighing, sign
from bladewright.records.free_blades import free_blades, the_drawing
from bladewright.records.judging import judge
from bladewright.records.matching_now import matching_now, shortened, try_set, work_out_one
from bladewright.records.opening import Book
from bladewright.records.ready import models
from bladewright.records.sets import all_sets, form_set, propose_sets
from bladewright.records.trying import tried
from examples.fennmark.evidence import Evidence
from tests.records.cast import INSPECTOR, MAKER, MATCHER, by
from tests.records.conftest import Judged, weighed_again
from tests.records.finished import FOUR, ONE, THREE, TWO, UNWEIGHED, finish

WHY = "differences looked at one by one"


@pytest.fixture(name="finished", autouse=True)
def _finished(shop: Book, files: Evidence, findings_are: Judged) -> Book:
    findings_are(("cure: dwell", Outcome.PASS))
    finish(files)
    return shop


def test_every_free_blade_is_in_the_table_or_held_back_with_its_reason() -> None:
    now = matching_now()
    assert now.blades == (ONE, TWO, THREE)
    assert [row.serial for row in now.rows] == [ONE, TWO, THREE]
    assert [(left.serial, left.reason) for left in now.held_back] == [(UNWEIGHED, "may not be matched: never weighed")]
    assert now.matching is not None
    assert now.matching.sets == propose_sets().sets
    assert (now.size, now.choice and now.choice.drawing) == (2, "FM-31")


def test_looking_and_trying_write_nothing() -> None:
    before = models.Event.objects.count()
    matching_now()
    try_set([ONE, TWO])
    assert models.Event.objects.count() == before
    assert all_sets() == ()


@pytest.mark.book
def test_what_is_tried_is_what_forming_it_finds() -> None:
    found = try_set([TWO, ONE])
    assert found.beside.tried == form_set(by(MATCHER, WHY), "S-1", [ONE, TWO], shown=found.mark).match
    assert found.name == "0107+0112"


@pytest.mark.book
def test_a_set_that_comes_to_something_else_than_was_shown_is_not_formed(tmp_path: Path) -> None:
    shown = try_set([ONE, TWO]).mark
    file_weighing(by(MAKER), weighed_again(tmp_path, ONE, 0.020, 0.04))
    judge(by(INSPECTOR), ONE)
    with pytest.raises(Outdated) as caught:
        form_set(by(MATCHER, WHY), "S-1", [ONE, TWO], shown=shown)
    assert caught.value.field == "serials"
    assert all_sets() == ()
    form_set(by(MATCHER, WHY), "S-1", [ONE, TWO], shown=try_set([ONE, TWO]).mark)


def test_evidence_its_verdict_does_not_know_holds_a_blade_back(signed_file: Callable[..., Path]) -> None:
    sign(by(INSPECTOR), signed_file(ONE))
    now = matching_now()
    assert ONE not in now.blades
    reasons = {left.serial: left.reason for left in now.held_back}
    assert "evidence was filed since the verdict" in reasons[ONE]
    judge(by(INSPECTOR), ONE)
    assert ONE in matching_now().blades


def test_a_blade_that_is_in_a_set_is_not_tried() -> None:
    form_set(by(MATCHER, WHY), "S-1", [ONE, TWO])
    with pytest.raises(BadInput) as caught:
        try_set([ONE, THREE])
    assert (caught.value.field, caught.value.value) == ("serial", ONE)
    assert "S-1" in caught.value.what


@pytest.mark.parametrize("serials", [(), (ONE,), (ONE, ONE), (ONE, UNWEIGHED), (ONE, "FM31-9999")])
def test_what_is_no_set_of_free_blades_is_not_tried(serials: tuple[str, ...]) -> None:
    with pytest.raises((BadInput, MissingInput)) as caught:
        try_set(serials)
    assert caught.value.field in ("serials", "serial")


def test_a_set_that_fails_can_be_tried_and_says_why(tmp_path: Path) -> None:
    """The drawing allows 1 kg m between mates and 60 g m from the master; 2 kg m is more than any weight makes up."""
    file_weighing(by(MAKER), weighed_again(tmp_path, ONE, 2.0, 0.04))
    judge(by(INSPECTOR), ONE)
    found = try_set([ONE, TWO])
    assert "span moment" in found.forbidden[0]
    with pytest.raises(BadInput):
        form_set(by(MATCHER, WHY), "S-1", [ONE, TWO])


@pytest.mark.book
def test_a_blade_is_worked_out_once_and_kept_beside_the_book(finished: Book) -> None:
    row = the_drawing()
    assert free_blades(row, at_most=0).waiting == (ONE, TWO, THREE)
    assert work_out_one() == 2
    assert free_blades(row, at_most=0).waiting == (TWO, THREE)
    assert free_blades(row, at_most=0, first=[THREE]).waiting == (TWO, THREE)
    worked_out = free_blades(row)
    assert worked_out.waiting == ()
    assert free_blades(row, at_most=0) == worked_out
    kept = list(finished.folder.with_name(f"{finished.folder.name}.worked-out").rglob("*.json"))
    assert len(kept) == 3


def test_a_torn_answer_is_worked_out_again(finished: Book) -> None:
    whole = free_blades(the_drawing())
    for place in finished.folder.with_name(f"{finished.folder.name}.worked-out").rglob("*.json"):
        place.write_text(place.read_text(encoding="utf-8")[:-9], encoding="utf-8")
    assert free_blades(the_drawing()) == whole


def test_a_kept_answer_somebody_changed_forms_no_set(finished: Book) -> None:
    """It is looked at, and never decided on: forming works it out again from the evidence."""
    free_blades(the_drawing())
    for place in finished.folder.with_name(f"{finished.folder.name}.worked-out").rglob("*.json"):
        text = place.read_text(encoding="utf-8")
        assert '"span_moment":' in text
        place.write_text(text.replace('"span_moment":', '"span_moment":0.0,"was":'), encoding="utf-8")
    shown = try_set([ONE, TWO])
    blades = list(models.Blade.objects.filter(serial__in=(ONE, TWO)).order_by("serial"))
    assert tried(blades)[0] != shown.beside.tried
    with pytest.raises(Outdated):
        form_set(by(MATCHER, WHY), "S-1", [ONE, TWO], shown=shown.mark)


def test_more_blades_ask_no_more_queries(files: Evidence) -> None:
    def asked() -> int:
        with CaptureQueriesContext(
            connection,
        ) as found:
            matching_now(at_most=0)
        return len(found)

    free_blades(the_drawing())
    three = asked()
    finish(files, [FOUR])
    free_blades(the_drawing())
    assert asked() == three


def test_with_no_blade_free_there_is_nothing_to_match(files: Evidence) -> None:  # noqa: ARG001
    form_set(by(MATCHER, WHY), "S-1", [ONE, TWO])
    now = matching_now()
    assert now.blades == (THREE,)
    assert now.matching is not None
    assert now.matching.sets == ()
    assert "Too few" in now.matching.leftovers[0].reason


@pytest.mark.parametrize(
    ("serials", "short"),
    [
        (("FM31-0107", "FM31-0112"), ("0107", "0112")),
        (("A-1", "B-1"), ("A-1", "B-1")),
        (("0107", "0112"), ("0107", "0112")),
        (("FM31-1", "FM31-12"), ("1", "12")),
    ],
)
def test_names_leave_out_what_all_serials_begin_with(serials: tuple[str, ...], short: tuple[str, ...]) -> None:
    assert shortened(serials) == short
