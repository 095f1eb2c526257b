"""The blade record says what the verdict says, whatever people typed, however much or little is on file."""

import io

from pypdf import PdfReader

from bladewright.papers.blade import blade_record
from bladewright.papers.records import BladeRecordPaper


def text_of(pdf: bytes) -> str:
    return "\n".join(page.extract_text() for page in PdfReader(io.BytesIO(pdf)).pages)


def test_the_first_page_answers_which_verdict_why_what_next_and_on_what_conditions(full: BladeRecordPaper) -> None:
    first = " ".join(PdfReader(io.BytesIO(blade_record(full))).pages[0].extract_text().split())
    for said in (
        full.serial,
        full.word.upper(),
        full.verdict.first_reason,
        full.verdict.next_step,
        "re-weigh after paint",
    ):
        assert said in first
    assert "may fly only with FM31-0008" in first
