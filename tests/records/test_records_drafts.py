"""A tried change filed as a draft: on the newest revision only, its other lines untouched, approved by another."""

import difflib
from pathlib import Path

import pytest

from bladewright.errors import BadInput, MissingInput, NotAuthorised, Outdated, SeveralBadInputs
from bladewright.records.blades import start_blade
from bladewright.records.drawings import all_drawings, approve_drawing, file_draft, file_drawing
from bladewright.records.revisions import DRAFT, LEFT, RELEASED, SUPERSEDED, revision_of, revisions
from tests.records.cast import APPROVER, DRAUGHTSMAN, MAKER, by, everybody_but

pytestmark = pytest.mark.usefixtures("shop")
CHANGE = {"reflex.angle": "2.3 deg", "tip_weight.mass": "0.95 kg"}


def draft(base: str, revision: str, who: str = DRAUGHTSMAN, reason: str = "") -> None:
    file_draft(by(who, reason), "FM-31", base, {"reflex.angle": f"2.{ord(revision) % 10} deg"}, revision)


@pytest.mark.book
def test_a_draft_is_its_base_with_the_typed_lines_and_no_others() -> None:
    line = file_draft(by(DRAUGHTSMAN), "FM-31", "A", CHANGE, "B")
    assert (line.revision, line.approved_by, line.already) == ("B", "", False)
    texts = [revision_of("FM-31", name).data.decode().splitlines() for name in "AB"]
    changed = [row for row in difflib.ndiff(*texts) if row[:2] in ("- ", "+ ")]
    assert [row[2:].split("=")[0].strip() for row in changed] == ["angle", "angle", "mass", "mass"]
    assert revision_of("FM-31", "B").drawing.tip_weight.mass == 0.95  # type: ignore[union-attr]


@pytest.mark.parametrize("who", everybody_but(DRAUGHTSMAN))
def test_only_who_draws_files_a_draft(who: str) -> None:
    with pytest.raises(NotAuthorised):
        draft("A", "B", who)
    assert len(all_drawings()) == 1


@pytest.mark.book
def test_a_draft_on_a_revision_that_is_no_longer_the_newest_is_refused() -> None:
    draft("A", "B")
    with pytest.raises(Outdated) as caught:
        draft("A", "C")
    assert (caught.value.field, caught.value.value) == ("base", "A")
    assert DRAUGHTSMAN in caught.value.what
    draft("B", "C")
    assert [line.revision for line in revisions("FM-31")] == ["C", "B", "A"]


def test_what_cannot_be_read_files_nothing_and_is_named() -> None:
    with pytest.raises(SeveralBadInputs) as caught:
        file_draft(by(DRAUGHTSMAN), "FM-31", "A", {"reflex.angle": "2.3"}, "B")
    assert caught.value.errors[0].field == "reflex.angle"
    with pytest.raises(BadInput):
        file_draft(by(DRAUGHTSMAN), "FM-31", "A", {"reflex.bend": "2.3 deg"}, "B")
    assert len(all_drawings()) == 1


def test_no_change_is_no_revision() -> None:
    with pytest.raises(BadInput) as caught:
        file_draft(by(DRAUGHTSMAN), "FM-31", "A", {}, "B")
    assert caught.value.field == "revision"


def test_an_older_draft_is_not_approved_over_a_newer_revision() -> None:
    draft("A", "B")
    draft("B", "C")
    approve_drawing(by(APPROVER), "FM-31", "C")
    with pytest.raises(BadInput) as caught:
        approve_drawing(by(APPROVER), "FM-31", "B")
    assert (caught.value.field, caught.value.value) == ("revision", "B")
    assert approve_drawing(by(APPROVER), "FM-31", "A").already


def test_each_revision_is_told_where_it_stands_by_whom_and_why(wide_drawing: Path) -> None:
    draft("A", "B", reason="lighter on the hand")
    draft("B", "C")
    approve_drawing(by(APPROVER), "FM-31", "C")
    draft("C", "D")
    assert {line.revision: line.standing for line in revisions()} == {
        "A": SUPERSEDED, "B": LEFT, "C": RELEASED, "D": DRAFT,
    }  # fmt: skip
    second = revision_of("FM-31", "B")
    assert (second.line.why, second.newest, second.released, second.is_newest) == (
        "lighter on the hand",
        "D",
        "C",
        False,
    )
    wide_drawing.write_text(wide_drawing.read_text("utf-8").replace('name = "FM-31"', 'name = "FM-32"'), "utf-8")
    file_drawing(by(DRAUGHTSMAN), wide_drawing, "A")
    assert [line.name for line in revisions()] == [*["FM-31"] * 4, "FM-32"]
    assert revision_of("FM-32", "A").released == ""


def test_blades_made_to_each_are_counted() -> None:
    for number in range(6):
        start_blade(by(MAKER), f"B-010{number}", "FM-31", "A")
    draft("A", "B")
    assert {line.revision: line.blades for line in revisions()} == {"B": 0, "A": 6}


def test_a_revision_nobody_filed_is_missing() -> None:
    with pytest.raises(MissingInput):
        revision_of("FM-31", "Z")
