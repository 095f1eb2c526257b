"""Filing and approving a drawing: two people, one file for each revision."""

from pathlib import Path

import pytest

from bladewright.errors import BadInput, MissingInput, NotAuthorised, SeveralBadInputs
from bladewright.figures import digest
from bladewright.records.acts import Scope
from bladewright.records.drawings import all_drawings, approve_drawing, drawing_named, file_drawing, read_filed
from bladewright.records.people import authorise
from tests.records.cast import APPROVER, AT, DRAUGHTSMAN, OFFICE, by, everybody_but

pytestmark = [pytest.mark.book, pytest.mark.usefixtures("book")]


def test_a_drawing_is_its_bytes(wide_drawing: Path) -> None:
    line = file_drawing(by(DRAUGHTSMAN), wide_drawing, "A")
    assert (line.name, line.revision, line.approved_by, line.already) == ("FM-31", "A", "", False)
    assert line.sha256 == digest(wide_drawing.read_bytes())
    assert read_filed(drawing_named("FM-31", "A")).name == "FM-31"


@pytest.mark.parametrize("who", everybody_but(DRAUGHTSMAN))
def test_only_who_draws_files(who: str, wide_drawing: Path) -> None:
    with pytest.raises(NotAuthorised):
        file_drawing(by(who), wide_drawing, "A")
    assert all_drawings() == ()


@pytest.mark.parametrize("who", everybody_but(APPROVER))
def test_only_who_approves_approves(who: str, wide_drawing: Path) -> None:
    file_drawing(by(DRAUGHTSMAN), wide_drawing, "A")
    with pytest.raises(NotAuthorised):
        approve_drawing(by(who), "FM-31", "A")
    assert all_drawings()[0].approved_by == ""


def test_nobody_approves_what_they_filed_even_with_both_authorisations(wide_drawing: Path) -> None:
    authorise(by(OFFICE), DRAUGHTSMAN, Scope.APPROVE, AT.date())
    file_drawing(by(DRAUGHTSMAN), wide_drawing, "A")
    with pytest.raises(NotAuthorised) as caught:
        approve_drawing(by(DRAUGHTSMAN), "FM-31", "A")
    assert (caught.value.field, caught.value.value) == ("by", DRAUGHTSMAN)


def test_twice_is_once(wide_drawing: Path) -> None:
    assert [file_drawing(by(DRAUGHTSMAN), wide_drawing, "A").already for _ in range(2)] == [False, True]
    assert [approve_drawing(by(APPROVER), "FM-31", "A").already for _ in range(2)] == [False, True]
    assert all_drawings()[0].approved_by == APPROVER


def test_a_revision_is_one_file_and_a_file_one_revision(wide_drawing: Path) -> None:
    file_drawing(by(DRAUGHTSMAN), wide_drawing, "A")
    with pytest.raises(BadInput) as renamed:
        file_drawing(by(DRAUGHTSMAN), wide_drawing, "B")
    assert renamed.value.field == "revision"
    wide_drawing.write_text(wide_drawing.read_text(encoding="utf-8") + "# changed\n", encoding="utf-8")
    with pytest.raises(BadInput) as changed:
        file_drawing(by(DRAUGHTSMAN), wide_drawing, "A")
    assert (changed.value.field, changed.value.value) == ("revision", "A")
    assert not file_drawing(by(DRAUGHTSMAN), wide_drawing, "B").already


def test_what_is_no_drawing_is_not_filed(tmp_path: Path) -> None:
    bad = tmp_path / "bad.toml"
    bad.write_text("format = 1\n", encoding="utf-8")
    with pytest.raises(SeveralBadInputs):
        file_drawing(by(DRAUGHTSMAN), bad, "A")
    assert all_drawings() == ()


def test_a_drawing_nobody_filed_cannot_be_approved() -> None:
    with pytest.raises(MissingInput) as caught:
        approve_drawing(by(APPROVER), "FM-31", "Z")
    assert (caught.value.field, caught.value.value) == ("drawing", "FM-31 revision Z")
