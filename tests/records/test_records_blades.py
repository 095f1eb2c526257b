"""Starting a serial and building lots in."""

import datetime
from pathlib import Path

import pytest

from bladewright.errors import BadInput, MissingInput, NotAuthorised
from bladewright.records.blades import about, all_blades, start_blade, use_lot
from bladewright.records.drawings import approve_drawing, file_drawing
from bladewright.records.lots import receive_lot
from tests.records.cast import APPROVER, AT, DRAUGHTSMAN, MAKER, RECEIVER, by, everybody_but

pytestmark = [pytest.mark.book, pytest.mark.usefixtures("shop")]


def test_a_started_blade_is_known_with_its_lots() -> None:
    receive_lot(by(RECEIVER), "R-1", "film-epoxy")
    assert not start_blade(by(MAKER), "B-0101", "FM-31", "A").already
    assert not use_lot(by(MAKER), "B-0101", "adhesive", "R-1").already
    known = about("B-0101")
    assert (known.line.drawing, known.line.revision, known.line.word) == ("FM-31", "A", "")
    assert [(use.part, use.lot) for use in known.lots] == [("adhesive", "R-1")]
    assert [(event.kind, event.by, event.at) for event in known.history] == [
        ("blade started", MAKER, AT),
        ("lot used", MAKER, AT),
    ]


@pytest.mark.parametrize("who", everybody_but(MAKER))
def test_only_who_makes_starts_and_builds_in(who: str) -> None:
    receive_lot(by(RECEIVER), "R-1", "film-epoxy")
    start_blade(by(MAKER), "B-0101", "FM-31", "A")
    with pytest.raises(NotAuthorised):
        start_blade(by(who), "B-0102", "FM-31", "A")
    with pytest.raises(NotAuthorised):
        use_lot(by(who), "B-0101", "adhesive", "R-1")
    assert [line.serial for line in all_blades()] == ["B-0101"]
    assert about("B-0101").lots == ()


def test_twice_is_once() -> None:
    receive_lot(by(RECEIVER), "R-1", "film-epoxy")
    assert [start_blade(by(MAKER), "B-0101", "FM-31", "A").already for _ in range(2)] == [False, True]
    assert [use_lot(by(MAKER), "B-0101", "adhesive", "R-1").already for _ in range(2)] == [False, True]
    assert not use_lot(by(MAKER), "B-0101", "seam", "R-1").already


def test_no_blade_is_started_to_a_drawing_nobody_approved(wide_drawing: Path) -> None:
    wide_drawing.write_text(wide_drawing.read_text(encoding="utf-8") + "# B\n", encoding="utf-8")
    file_drawing(by(DRAUGHTSMAN), wide_drawing, "B")
    with pytest.raises(MissingInput) as caught:
        start_blade(by(MAKER), "B-0101", "FM-31", "B")
    assert (caught.value.field, caught.value.value) == ("drawing", "FM-31 revision B")
    approve_drawing(by(APPROVER), "FM-31", "B")
    start_blade(by(MAKER), "B-0101", "FM-31", "B")
    with pytest.raises(BadInput) as other:
        start_blade(by(MAKER), "B-0101", "FM-31", "A")
    assert other.value.field == "serial"


def test_an_expired_lot_is_not_built_in_and_its_last_day_counts() -> None:
    start_blade(by(MAKER), "B-0101", "FM-31", "A")
    receive_lot(by(RECEIVER), "R-1", "film-epoxy", expires_on=AT.date())
    receive_lot(by(RECEIVER), "R-0", "film-epoxy", expires_on=AT.date() - datetime.timedelta(days=1))
    use_lot(by(MAKER), "B-0101", "adhesive", "R-1")
    with pytest.raises(BadInput) as caught:
        use_lot(by(MAKER), "B-0101", "adhesive", "R-0")
    assert (caught.value.field, caught.value.value) == ("lot", "R-0")


def test_what_is_not_in_the_book_is_named() -> None:
    start_blade(by(MAKER), "B-0101", "FM-31", "A")
    for call, field in (
        (lambda: use_lot(by(MAKER), "B-0101", "adhesive", "R-9"), "lot"),
        (lambda: use_lot(by(MAKER), "B-0199", "adhesive", "R-9"), "serial"),
        (lambda: about("B-0199"), "serial"),
    ):
        with pytest.raises(MissingInput) as caught:
            call()
        assert caught.value.field == field
    with pytest.raises(BadInput) as blank:
        start_blade(by(MAKER), " ", "FM-31", "A")
    assert blank.value.field == "serial"
