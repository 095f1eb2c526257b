"""Receiving a lot: who may, twice, under a name that is taken, with its certificate."""

import datetime
from pathlib import Path

import pytest

from bladewright.errors import BadInput, NotAuthorised
from bladewright.figures import digest
from bladewright.records.keeping import path_of
from bladewright.records.lots import all_lots, receive_lot
from tests.records.cast import RECEIVER, by, everybody_but

pytestmark = [pytest.mark.book, pytest.mark.usefixtures("book")]


def test_a_lot_is_received_with_its_certificate(tmp_path: Path) -> None:
    certificate = tmp_path / "certificate.pdf"
    certificate.write_bytes(b"certificate of an invented mill")
    line = receive_lot(
        by(RECEIVER), "S-041", "skin-sheet", maker="Aldrowick", maker_lot="AS-1", certificate=certificate
    )
    assert not line.already
    assert line.certificate_sha256 == digest(certificate.read_bytes())
    assert path_of(line.certificate_sha256).read_bytes() == certificate.read_bytes()
    assert [lot.lot for lot in all_lots()] == ["S-041"]


@pytest.mark.parametrize("who", everybody_but(RECEIVER))
def test_only_who_receives_may(who: str) -> None:
    with pytest.raises(NotAuthorised) as caught:
        receive_lot(by(who), "S-041", "skin-sheet")
    assert caught.value.value == who
    assert all_lots() == ()


def test_the_same_lot_twice_is_received_once() -> None:
    for already in (False, True):
        assert receive_lot(by(RECEIVER), "S-041", "skin-sheet", maker_lot="AS-1").already is already
    assert len(all_lots()) == 1


@pytest.mark.parametrize(
    "other",
    [{"maker_lot": "AS-2"}, {"maker": "another"}, {"expires_on": datetime.date(2026, 9, 1)}],
)
def test_a_taken_name_with_other_particulars_is_refused(other: dict[str, object]) -> None:
    receive_lot(by(RECEIVER), "S-041", "skin-sheet", maker_lot="AS-1")
    with pytest.raises(BadInput) as caught:
        receive_lot(by(RECEIVER), "S-041", "skin-sheet", **({"maker_lot": "AS-1"} | other))  # type: ignore[arg-type]
    assert (caught.value.field, caught.value.value) == ("lot", "S-041")


def test_a_lot_needs_a_name_and_a_material() -> None:
    for field, lot, material in (("lot", " ", "skin-sheet"), ("material", "S-1", "")):
        with pytest.raises(BadInput) as caught:
            receive_lot(by(RECEIVER), lot, material)
        assert caught.value.field == field


def test_a_certificate_that_is_not_there_receives_nothing(tmp_path: Path) -> None:
    with pytest.raises(BadInput) as caught:
        receive_lot(by(RECEIVER), "S-1", "skin-sheet", certificate=tmp_path / "gone.pdf")
    assert caught.value.file == "gone.pdf"
    assert all_lots() == ()
