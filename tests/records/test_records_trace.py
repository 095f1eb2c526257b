"""A recall worked by hand: six blades, three rolls of two adhesive lots. Invented; every answer was counted
by hand from the table of what went where."""

from collections.abc import Callable
from pathlib import Path

import pytest
from django.db import connections

from bladewright.errors import MissingInput
from bladewright.records.blades import use_lot
from bladewright.records.evidence import file_cure
from bladewright.records.judging import judge
from bladewright.records.lots import receive_lot
from bladewright.records.opening import Book, open_book
from bladewright.records.ownership import add_aircraft, add_owner, install
from bladewright.records.trace import where_evidence, where_lot
from examples.fennmark.evidence import Evidence
from tests.records.cast import AT, INSPECTOR, MAKER, RECEIVER, RELEASER, by
from tests.records.conftest import SERIALS, copied

pytestmark = pytest.mark.book

#: serial -> skin sheet, spar bar, adhesive rolls
WENT_IN = {
    "B-0101": ("S-11", "X-3", "F-70"),
    "B-0102": ("S-11", "X-3", "F-70", "F-71"),
    "B-0103": ("S-12", "X-3", "F-71"),
    "B-0104": ("S-12", "X-4", "F-71"),
    "B-0105": ("S-12", "X-4", "F-72"),
    "B-0106": ("S-13", "X-4", "F-72"),
}
MAKERS_LOT = {"F-70": "L-900", "F-71": "L-900", "F-72": "L-901"}
PART = {"S": "skins", "X": "spar", "F": "adhesive"}


@pytest.fixture(scope="module", name="built_folder")
def _built_folder(batch_folder: Path, tmp_path_factory: pytest.TempPathFactory) -> Path:
    folder = tmp_path_factory.mktemp("built") / "book"
    open_book(copied(batch_folder, folder))
    for lot in sorted({lot for lots in WENT_IN.values() for lot in lots}):
        receive_lot(by(RECEIVER), lot, PART[lot[0]], maker_lot=MAKERS_LOT.get(lot, ""))
    for serial, lots in WENT_IN.items():
        for lot in lots:
            use_lot(by(MAKER), serial, PART[lot[0]], lot)
    connections.close_all()
    return folder


@pytest.fixture(name="batch")
def _batch(built_folder: Path, tmp_path: Path) -> Book:
    """The six blades with their lots built in."""
    return open_book(copied(built_folder, tmp_path / "book"))


@pytest.fixture(autouse=True)
def _open(batch: Book) -> None:
    """Every test here begins with that book."""


@pytest.mark.parametrize(
    ("lot", "serials"),
    [
        ("L-900", ("B-0101", "B-0102", "B-0103", "B-0104")),
        ("L-901", ("B-0105", "B-0106")),
        ("F-71", ("B-0102", "B-0103", "B-0104")),
        ("S-12", ("B-0103", "B-0104", "B-0105")),
        ("X-3", ("B-0101", "B-0102", "B-0103")),
    ],
)
def test_a_lot_is_traced_to_every_serial_once(lot: str, serials: tuple[str, ...]) -> None:
    assert where_lot(lot).serials == serials


def test_a_blade_with_two_rolls_of_one_makers_lot_is_one_serial_in_two_places() -> None:
    trace = where_lot("L-900")
    assert [(p.serial, p.lot) for p in trace.places if p.serial == "B-0102"] == [("B-0102", "F-70"), ("B-0102", "F-71")]
    assert trace.serials.count("B-0102") == 1


def test_an_oven_run_is_traced_by_its_files_name_or_hash(files: Evidence) -> None:
    run = files.blades[0].cure
    filed = file_cure(by(MAKER), ["B-0104", "B-0105"], run, files.logger)
    assert where_evidence(run.name).serials == ("B-0104", "B-0105")
    assert where_evidence(filed.sha256).serials == ("B-0104", "B-0105")


def test_owners_are_named_once_each_and_stock_has_none(signed_out_set: Callable[..., None]) -> None:
    signed_out_set("S-1", "B-0101", "B-0102")
    add_owner(by(RELEASER), "Corvane Flying School", "hangar 2")
    add_aircraft(by(RELEASER), "X-AAAA", "Corvane Flying School")
    install(by(RELEASER), "S-1", "X-AAAA", AT.date())
    trace = where_lot("L-900")
    assert trace.owners == (("Corvane Flying School", "hangar 2"),)
    assert [place.aircraft for place in trace.places] == ["X-AAAA", "X-AAAA", "X-AAAA", "", ""]


def test_the_newest_verdict_is_the_one_shown() -> None:
    judge(by(INSPECTOR), SERIALS[2], engine_version="1")
    judge(by(INSPECTOR), SERIALS[2], engine_version="2")
    assert [(place.serial, place.word) for place in where_lot("F-71").places] == [
        ("B-0102", ""),
        ("B-0103", "incomplete"),
        ("B-0104", ""),
    ]


def test_a_lot_received_and_never_used_is_nowhere() -> None:
    receive_lot(by(RECEIVER), "S-99", "skins")
    assert where_lot("S-99").places == ()


def test_a_lot_or_file_the_book_does_not_know_is_an_error_not_an_empty_answer(tmp_path: Path) -> None:
    with pytest.raises(MissingInput) as lot:
        where_lot("S-404")
    assert (lot.value.field, lot.value.value) == ("lot", "S-404")
    with pytest.raises(MissingInput) as file:
        where_evidence(str(tmp_path))
    assert file.value.field == "file"
