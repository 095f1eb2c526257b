"""The label of an adhesive roll comes back from its printed Data Matrix as it went in."""

import dataclasses
import datetime

import pypdfium2
import pytest
import zxingcpp
from hypothesis import given, settings
from hypothesis import strategies as st

from bladewright.errors import BadInput
from bladewright.papers.label import LabelMark, kitting_label, label_text, read_label
from bladewright.papers.matrix import LONGEST
from bladewright.proof.kitting import Kitted

EASTERN = datetime.timezone(datetime.timedelta(hours=-4))
AS_OF = datetime.datetime(2026, 6, 20, 8, 0, tzinfo=EASTERN)
LABEL = Kitted(
    "F-73", "L-900", "film, invented", AS_OF, 43.0 * 3600.0, 157.0 * 3600.0, AS_OF + datetime.timedelta(hours=157),
    datetime.date(2026, 12, 1), "passed 2026-06-02, R. Vane",
)  # fmt: skip


def scanned(pdf: bytes, dots_per_inch: float) -> list[str]:
    page = pypdfium2.PdfDocument(pdf)[0].render(scale=dots_per_inch / 72.0).to_pil()
    return [code.text for code in zxingcpp.read_barcodes(page, formats=zxingcpp.BarcodeFormat.DataMatrix)]


@pytest.mark.parametrize("dots_per_inch", [200, 300])
def test_the_label_reads_back_as_the_roll_it_is_on(dots_per_inch: float) -> None:
    (text,) = scanned(kitting_label(LABEL), dots_per_inch)
    # 08:00 at four hours behind UTC, and 157 h: six days and 13 h later
    assert read_label(text) == LabelMark("F-73", "L-900", "2026-06-27T01:00:00Z", "2026-12-01")


def test_it_is_one_small_page_and_the_same_every_time() -> None:
    label = kitting_label(LABEL)
    assert label == kitting_label(LABEL)
    document = pypdfium2.PdfDocument(label)
    assert len(document) == 1
    width, height = document[0].get_size()
    assert (width * 25.4 / 72.0, height * 25.4 / 72.0) == (pytest.approx(100.0, abs=0.1), pytest.approx(62.0, abs=0.1))


def test_a_roll_in_the_freezer_has_no_time_to_be_hot_by() -> None:
    (text,) = scanned(kitting_label(dataclasses.replace(LABEL, hot_by=None)), 300)
    assert read_label(text).hot_by == ""


@given(st.text(max_size=LONGEST), st.text(max_size=LONGEST))
@settings(max_examples=100, deadline=None)
def test_names_come_back_from_the_text_and_the_text_is_plain_ascii(roll: str, lot: str) -> None:
    text = label_text(dataclasses.replace(LABEL, roll=roll, lot=lot))
    assert text.isascii()
    assert text.isprintable()
    read = read_label(text)
    assert (read.roll, read.lot) == (roll, lot)


@pytest.mark.parametrize("field", ["roll", "lot"])
def test_a_name_too_long_for_the_mark_is_refused(field: str) -> None:
    with pytest.raises(BadInput) as caught:
        label_text(dataclasses.replace(LABEL, **{field: "9" * (LONGEST + 1)}))
    assert caught.value.field == field


def test_a_label_dated_without_a_zone_is_refused() -> None:
    with pytest.raises(BadInput) as caught:
        label_text(dataclasses.replace(LABEL, hot_by=datetime.datetime(2026, 6, 27)))  # noqa: DTZ001
    assert caught.value.field == "hot_by"


def test_another_mark_is_not_taken_for_a_label() -> None:
    with pytest.raises(BadInput):
        read_label("some other label")
