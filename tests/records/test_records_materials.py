"""The stores by the page, a lot with its certificate, ovens and gauges on file, and serials by the page."""

import datetime
from pathlib import Path
from typing import Any

import pytest

from bladewright.errors import BadInput, MissingInput, NotAuthorised
from bladewright.figures import Outcome
from bladewright.records import blade_list, materials
from bladewright.records.acts import Act
from bladewright.records.blade_list import blades_page
from bladewright.records.blades import start_blade, use_lot
from bladewright.records.gauges import keep_calibrated
from bladewright.records.lots import receive_lot
from bladewright.records.materials import about_lot, lots_page, materials_known, shelf_bytes
from bladewright.records.opening import Book
from bladewright.records.oven_on_file import gauges_on_file, oven_on_file
from bladewright.records.shop_files import keep_shop_file
from bladewright.records.shop_kinds import CALIBRATION, OVEN
from tests.records.cast import AT, INSPECTOR, MAKER, RECEIVER, by, everybody_but
from tests.records.conftest import SERIALS

pytestmark = pytest.mark.book

FENNMARK = Path(__file__).parents[2] / "examples" / "fennmark"


@pytest.fixture(name="small_pages")
def _small_pages(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(materials, "PAGE", 2)
    monkeypatch.setattr(blade_list, "PAGE", 2)


@pytest.mark.usefixtures("small_pages")
def test_lots_come_by_the_page_the_newest_first(book: Book, django_assert_num_queries: Any) -> None:  # noqa: ARG001
    for number in range(5):
        receive_lot(by(RECEIVER), f"S-{number}", "skin-sheet", maker="Mill", maker_lot=f"M-{number}")
    first = lots_page(AT)
    assert [one.lot for one in first.lots] == ["S-4", "S-3"]
    second = lots_page(AT, before=first.before)
    assert [one.lot for one in second.lots] == ["S-2", "S-1"]
    with django_assert_num_queries(2):
        last = lots_page(AT, before=second.before)
    assert ([one.lot for one in last.lots], last.before) == (["S-0"], 0)
    assert [one.lot for one in lots_page(AT, search="m-3").lots] == ["S-3"]
    assert lots_page(AT, search="brass").lots == ()


def test_a_lot_says_what_came_with_it_and_what_it_went_into(batch: Book, tmp_path: Path) -> None:  # noqa: ARG001
    paper = tmp_path / "certificate.txt"
    paper.write_text("invented")
    receive_lot(by(RECEIVER), "P-1", "primer", expires_on=datetime.date(2026, 5, 10), certificate=paper)
    for serial in SERIALS[:2]:
        use_lot(by(MAKER), serial, "skins", "P-1")
    use_lot(by(MAKER), SERIALS[0], "spar", "P-1")
    about = about_lot("P-1", AT)
    assert (about.lot.certificate, about.lot.blades, about.lot.expired, about.by) == (paper.name, 2, False, RECEIVER)
    assert about.uses == ((SERIALS[0], "skins"), (SERIALS[0], "spar"), (SERIALS[1], "skins"))
    assert about_lot("P-1", AT + datetime.timedelta(days=7)).lot.expired
    assert shelf_bytes(about.lot.certificate_sha256) == (paper.name, b"invented")
    assert materials_known() == ("primer",)
    with pytest.raises(MissingInput, match="is not in the book"):
        about_lot("P-2", AT)


def test_only_certificates_and_shop_files_are_handed_out(batch: Book) -> None:
    drawing = next(batch.folder.glob("files/*/*"))
    with pytest.raises(MissingInput):
        shelf_bytes(drawing.name)
    with pytest.raises(MissingInput):
        shelf_bytes("../book.toml")


@pytest.mark.usefixtures("small_pages")
def test_serials_come_by_the_page_in_order(batch: Book, django_assert_num_queries: Any) -> None:  # noqa: ARG001
    first = blades_page()
    assert ([one.serial for one in first.blades], first.after) == (list(SERIALS[:2]), SERIALS[1])
    with django_assert_num_queries(1):
        rest = blades_page(after=SERIALS[3])
    assert ([one.serial for one in rest.blades], rest.after) == (list(SERIALS[4:]), "")
    assert [one.serial for one in blades_page(search="0105").blades] == [SERIALS[4]]
    start_blade(by(MAKER), "C-1", "FM-31", "A")
    assert [one.serial for one in blades_page(search="c-").blades] == ["C-1"]


def test_only_open_serials_where_that_is_asked(signed_out_set: Any) -> None:
    signed_out_set("S-1", *SERIALS[:2])
    assert [one.serial for one in blades_page(only_open=True).blades] == list(SERIALS[2:])
    assert [one.word for one in blades_page().blades][:3] == ["signed out", "signed out", ""]


def _calibrated(folder: Path, zone: int, due: str) -> Path:
    path = folder / f"TC-{zone}-{due}.toml"
    path.write_text(
        f'format = 1\nsensor = "TC-{zone}"\nchannel = "Mould {zone}"\ncalibrated_on = 2026-01-19\ndue = {due}\n'
        f'uncertainty = "0.8 degF"\ncalibrated_by = "{INSPECTOR}"\n'
        '[[points]]\nreading = "250 degF"\ntrue = "250 degF"\n'
    )
    return path


def test_an_oven_is_ready_once_everything_on_file_holds(book: Book, tmp_path: Path) -> None:  # noqa: ARG001
    keep_shop_file(by(INSPECTOR), OVEN, FENNMARK / "oven.toml", FENNMARK / "logger.toml")
    march = datetime.datetime(2026, 4, 1, 8, tzinfo=datetime.UTC)
    (oven,) = oven_on_file(march)
    assert oven.outcome is Outcome.MISSING  # no sensor is calibrated
    for zone in range(1, 7):
        keep_shop_file(by(INSPECTOR), CALIBRATION, _calibrated(tmp_path, zone, "2026-09-19"))
    (oven,) = oven_on_file(march)
    assert oven.outcome is Outcome.PASS
    assert len(oven.dues) == 1 + 6 + 6
    (oven,) = oven_on_file(AT)  # the checks ran out in April
    assert oven.outcome is Outcome.FAIL
    keep_shop_file(by(INSPECTOR), CALIBRATION, _calibrated(tmp_path, 4, "2026-02-19"))
    (oven,) = oven_on_file(march)  # each calibration speaks for its own days: the longer one still holds
    assert oven.outcome is Outcome.PASS


def test_a_calibration_is_entered_by_hand(book: Book) -> None:  # noqa: ARG001
    done, due = datetime.date(2026, 5, 1), datetime.date(2027, 5, 1)
    line = keep_calibrated(by(RECEIVER), "caliper C/9", "chord", done, due, "outside its limits")
    (one,) = gauges_on_file(AT)
    assert one.due is not None
    assert (line.file, one.gauge.name, one.gauge.calibrated_by) == ("caliper C-9.toml", "caliper C/9", RECEIVER)
    assert (one.due.state, one.due.blocks) == ("found outside its limits", True)
    keep_calibrated(by(RECEIVER), "caliper C/9", "chord", done, due, "outside its limits", set_aside=True)
    assert gauges_on_file(AT)[0].due is None
    with pytest.raises(BadInput, match="lies in the future"):
        keep_calibrated(by(RECEIVER), "C-1", "chord", due, due, "within its limits")


@pytest.mark.parametrize("who", everybody_but(INSPECTOR, RECEIVER))
def test_only_who_may_enters_a_calibration(book: Book, who: str) -> None:  # noqa: ARG001
    done = datetime.date(2026, 5, 1)
    with pytest.raises(NotAuthorised):
        keep_calibrated(Act(who, AT), "C-9", "chord", done, done, "within its limits")
