"""The Data Matrix comes back from the printed page as it went in. The reader is another routine than the writer's."""

import dataclasses

import pypdfium2
import pytest
import zxingcpp
from hypothesis import given, settings
from hypothesis import strategies as st

from bladewright.errors import BadInput
from bladewright.papers.blade import blade_record
from bladewright.papers.matrix import LONGEST, SHORT, Mark, mark_text, read_mark
from bladewright.papers.records import BladeRecordPaper
from bladewright.papers.sets import set_record
from bladewright.proof.records import Word
from tests.papers.invented_papers import HEAD, SHA, a_set, bare, judged


def scanned(pdf: bytes, dots_per_inch: float) -> list[str]:
    page = pypdfium2.PdfDocument(pdf)[0].render(scale=dots_per_inch / 72.0).to_pil()
    return [code.text for code in zxingcpp.read_barcodes(page, formats=zxingcpp.BarcodeFormat.DataMatrix)]


@pytest.mark.parametrize("dots_per_inch", [200, 300])
def test_the_page_reads_back_as_the_blade_it_is_about(full: BladeRecordPaper, dots_per_inch: float) -> None:
    (text,) = scanned(blade_record(full), dots_per_inch)
    assert read_mark(text) == Mark("FM31-0007", SHA[:SHORT], "accepted under deviation D-3, D-4", HEAD[:SHORT])


def test_a_set_reads_back() -> None:
    (text,) = scanned(set_record(a_set()), 200)
    assert read_mark(text).name == "S-004"


def test_a_serial_of_odd_letters_reads_back() -> None:
    serial = 'Ø;31 % "x" 日本-0007' + "9" * 50
    verdict = judged(serial=serial, word=Word.REJECTED, deviations=())
    (text,) = scanned(blade_record(bare(verdict=verdict)), 200)
    assert read_mark(text).name == serial


@given(st.text(max_size=LONGEST), st.text(max_size=40))
@settings(max_examples=100, deadline=None)
def test_parts_come_back_from_the_text_and_the_text_is_plain_ascii(name: str, word: str) -> None:
    text = mark_text(Mark(name, SHA, word, HEAD))
    assert text.isascii()
    assert text.isprintable()
    assert read_mark(text) == Mark(name, SHA[:SHORT], word, HEAD[:SHORT])


def test_a_serial_too_long_for_the_mark_is_refused() -> None:
    with pytest.raises(BadInput) as caught:
        mark_text(Mark("9" * (LONGEST + 1), SHA, "held", HEAD))
    assert caught.value.field == "serial"


def test_something_else_scanned_is_not_taken_for_a_paper() -> None:
    with pytest.raises(BadInput) as caught:
        read_mark("some other label")
    assert caught.value.value == "some other label"


def test_the_mark_changes_with_the_verdict(full: BladeRecordPaper) -> None:
    (text,) = scanned(blade_record(dataclasses.replace(full, word="signed out")), 200)
    assert read_mark(text).word == "signed out"
