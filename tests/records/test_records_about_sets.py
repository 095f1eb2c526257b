"""A formed set on its way: what it waits for at each step, weighing again, its papers, where it flies."""

import datetime
from pathlib import Path

import pypdf
import pytest

from bladewright.errors import BadInput, BookDamaged, MissingInput, Outdated
from bladewright.figures import Outcome
from bladewright.records.about_sets import LINES, about_set, set_page
from bladewright.records.judging import judge
from bladewright.records.opening import Book
from bladewright.records.ownership import add_aircraft, add_owner, install, remove
from bladewright.records.reweighing import weigh_again
from bladewright.records.set_papers import kept_paper_of_set
from bladewright.records.sets import form_set, sign_out
from examples.fennmark.evidence import Evidence
from tests.records.cast import AT, INSPECTOR, MAKER, MATCHER, RELEASER, by
from tests.records.conftest import Judged, weighed_again
from tests.records.finished import ONE, THREE, TWO, finish

WHY = "differences looked at one by one"


@pytest.fixture(name="formed", autouse=True)
def _formed(shop: Book, files: Evidence, findings_are: Judged) -> Book:
    findings_are(("cure: dwell", Outcome.PASS))
    finish(files)
    form_set(by(MATCHER, WHY), "S-1", [ONE, TWO])
    return shop


def trimmed(folder: Path, span: float = 0.012) -> None:
    for serial in (ONE, TWO):
        weigh_again(by(MAKER), "S-1", weighed_again(folder, serial, span if serial == TWO else 0.012, 0.04))
        judge(by(INSPECTOR), serial)


@pytest.mark.book
def test_a_set_waits_for_its_trim_weight_then_to_be_judged_then_to_be_signed_out(tmp_path: Path) -> None:
    about = about_set("S-1")
    (fitted,) = {weight.serial for weight in about.formed.trim}
    assert about.stops == (f"{fitted}: fit the weight and weigh it again",)
    assert about.last is None
    weigh_again(by(MAKER), "S-1", weighed_again(tmp_path, fitted, 0.012, 0.04))
    assert about_set("S-1").stops == (f"{fitted}: judge it again",)
    judge(by(INSPECTOR), fitted)
    about = about_set("S-1")
    assert about.stops == ()
    assert about.last is not None
    assert not about.last.trim
    assert about.now.cost < about.formed.cost
    sign_out(by(RELEASER), "S-1", shown=about.mark)
    assert "Enter its aircraft" in about_set("S-1").next_step


def test_weight_that_did_not_do_its_work_waits_for_more(tmp_path: Path) -> None:
    trimmed(tmp_path, span=-0.015)
    (stop,) = about_set("S-1").stops
    assert "more trim weight" in stop


def test_what_was_not_shown_is_not_signed_out(tmp_path: Path) -> None:
    trimmed(tmp_path)
    shown = about_set("S-1").mark
    weigh_again(by(MAKER), "S-1", weighed_again(tmp_path, ONE, 0.013, 0.04))
    judge(by(INSPECTOR), ONE)
    with pytest.raises(Outdated):
        sign_out(by(RELEASER), "S-1", shown=shown)
    assert about_set("S-1").signed_out_at is None


def test_another_blades_weighing_is_not_this_sets(tmp_path: Path) -> None:
    with pytest.raises(BadInput) as caught:
        weigh_again(by(MAKER), "S-1", weighed_again(tmp_path, THREE, 0.0, 0.0))
    assert (caught.value.field, caught.value.value) == ("file", THREE)
    assert caught.value.allowed == f"{ONE} or {TWO}"


def test_a_rejected_blade_stops_its_set(findings_are: Judged, tmp_path: Path) -> None:
    findings_are(("cure: dwell", Outcome.FAIL))
    trimmed(tmp_path)
    about = about_set("S-1")
    assert about.stops == (f"{ONE}: an accepting verdict", f"{TWO}: an accepting verdict")
    assert about.felt == ()


def test_where_a_set_flies_and_flew(tmp_path: Path) -> None:
    trimmed(tmp_path)
    sign_out(by(RELEASER), "S-1")
    add_owner(by(RELEASER), "Corvane Flying School", "hangar 2")
    add_aircraft(by(RELEASER), "X-AAAA", "Corvane Flying School")
    assert about_set("S-1").marks == ("X-AAAA",)
    day = AT.date()
    install(by(RELEASER), "S-1", "X-AAAA", day)
    about = about_set("S-1")
    assert (about.line.aircraft, about.flights[0].off, about.marks) == ("X-AAAA", None, ())
    remove(by(RELEASER), "S-1", day)
    about = about_set("S-1")
    assert (about.line.aircraft, about.flights[0].off) == ("", day)
    kinds = [event.kind for event in about.history]
    assert kinds == ["set formed", "set signed out", "set installed", "set removed"]


@pytest.mark.book
def test_a_paper_is_kept_and_made_anew_once_something_newer_is_known(formed: Book, tmp_path: Path) -> None:
    first = kept_paper_of_set("S-1")
    assert first.parent == formed.folder / "papers"
    made = first.stat().st_mtime_ns
    assert kept_paper_of_set("S-1") == first
    assert first.stat().st_mtime_ns == made
    trimmed(tmp_path)
    sign_out(by(RELEASER), "S-1")
    second = kept_paper_of_set("S-1")
    assert second != first
    assert first.is_file()
    text = "\n".join(page.extract_text() for page in pypdf.PdfReader(second).pages)
    assert RELEASER in text
    assert ONE in text


def test_no_paper_leaves_a_book_that_was_changed_behind_our_back(formed: Book) -> None:
    place = next(path for path in (formed.folder / "files").rglob("*") if path.is_file())
    place.write_bytes(place.read_bytes() + b" ")
    with pytest.raises(BookDamaged):
        kept_paper_of_set("S-1")
    assert not list((formed.folder / "papers").iterdir())


def test_sets_are_listed_the_newest_first() -> None:
    page = set_page()
    assert [line.name for line in page.lines] == ["S-1"]
    assert (page.first, page.sets, page.earlier, page.later) == (0, 1, None, None)
    assert set_page(first=LINES * 9).first == 0


def test_a_set_nobody_formed_has_no_page() -> None:
    for look in (about_set, kept_paper_of_set):
        with pytest.raises(MissingInput) as caught:
            look("S-9")
        assert caught.value.value == "S-9"


def test_a_day_ahead_is_no_day_to_fly(tmp_path: Path) -> None:
    trimmed(tmp_path)
    sign_out(by(RELEASER), "S-1")
    add_owner(by(RELEASER), "Corvane Flying School", "hangar 2")
    add_aircraft(by(RELEASER), "X-AAAA", "Corvane Flying School")
    with pytest.raises(BadInput):
        install(by(RELEASER), "S-1", "X-AAAA", AT.date() + datetime.timedelta(days=1))
