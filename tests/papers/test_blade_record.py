"""The blade record says what the verdict says, whatever people typed, however much or little is on file."""

import dataclasses
import datetime
import io
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from pypdf import PdfReader

from bladewright.errors import BadInput
from bladewright.figures import Figure, Finding, Outcome
from bladewright.papers.blade import blade_record
from bladewright.papers.records import BladeRecordPaper, DrawingRevision, Signer
from bladewright.papers.wording import CAUTIONS, STANDING
from bladewright.proof.records import Word
from tests.papers.invented_papers import FINDINGS, HEAD, SHA, bare, judged

TYPED = (
    "#let x = 1; $E=mc^2$ *bold* ]] } \\ \"quoted\" 'single' <label> @ref // `raw` "
    "Ærø Łódź Ωμέγα 日本 😀 \u202e\x07\ud800"
)


def pages(pdf: bytes) -> list[str]:
    return [" ".join(page.extract_text().split()) for page in PdfReader(io.BytesIO(pdf)).pages]


def whole(pdf: bytes) -> str:
    return " ".join(pages(pdf))


def rejected(**more: Any) -> BladeRecordPaper:
    return bare(verdict=judged(word=Word.REJECTED, deviations=(), **more))


def test_the_first_page_answers_which_verdict_why_what_next_and_on_what_conditions(
    full: BladeRecordPaper, full_pdf: bytes
) -> None:
    first = pages(full_pdf)[0]
    for said in (full.serial, "FM-31 revision C", full.verdict.first_reason, full.verdict.next_step):
        assert said in first
    assert "ACCEPTED UNDER DEVIATION D-3, D-4" in first
    assert "re-weigh after paint" in first
    assert "may fly only with FM31-0008" in first


def test_a_deviation_is_boxed_and_its_finding_stays_a_fail(full_pdf: bytes) -> None:
    first, second = pages(full_pdf)[:2]
    assert "Accepted under deviation D-3: finding “dimensions: reflex angle” stays fail." in first
    assert "R. Hale (identity not proven) on 2026-03-03" in first
    assert "accepted under deviation D-3: finding stays fail" in second


def test_a_deviation_signed_by_proof_of_identity_is_not_marked(full: BladeRecordPaper) -> None:
    signed = Signer("deviation D-3", "R. Hale", datetime.date(2026, 3, 3), proven=True)
    first = pages(blade_record(dataclasses.replace(full, signers=(*full.signers, signed))))[0]
    assert "Accepted by R. Hale on 2026-03-03" in first  # D-3
    assert "Accepted by R. Hale (identity not proven) on 2026-03-03" in first  # D-4


def test_every_page_says_what_it_is_not_and_carries_the_whole_chain_head(full_pdf: bytes) -> None:
    found = pages(full_pdf)
    for number, page in enumerate(found, start=1):
        assert STANDING in page
        assert HEAD in page
        assert "INVENTED DATA" in page
        assert f"page {number} of {len(found)}" in page


def test_cautions_marks_and_unproven_names_are_printed(full_pdf: bytes) -> None:
    text = whole(full_pdf)
    for caution in CAUTIONS:
        assert caution in text
    assert "uncertainty not quantified" in text
    assert "unvalidated data" in text
    assert "K. Moss identity not proven" in text
    assert "J. Wren identity not proven" not in text


def test_a_finding_is_printed_with_value_uncertainty_limit_source_and_place(full_pdf: bytes) -> None:
    text = whole(full_pdf)
    for said in ("2.300 ± 0.050°", "1.80 to 2.20 °", "Fennmark drawing FM-31, invented", "dims-0007.csv", "row 14"):
        assert said in text


def test_hashes_of_drawing_verdict_and_evidence_are_printed_whole(full: BladeRecordPaper, full_pdf: bytes) -> None:
    text = "".join(whole(full_pdf).split())
    for sha256 in (SHA, full.inputs_sha256, full.verdict_sha256, *(sha for _, sha in full.verdict.evidence)):
        assert sha256 in text
    assert text.count(full.evidence[0].sha256) == 2  # with its file, and among the hashes


def test_what_is_not_on_file_is_said_to_be_missing_not_left_out() -> None:
    text = whole(blade_record(rejected(missing_proofs=("cure", "retained coupon"))))
    for said in ("no cure log on file", "no pull curve on file", "no lots on file", "no evidence on file"):
        assert said in text
    assert "retained coupon" in text
    assert "REJECTED" in text
    assert "not given" in text  # the verdict's hash


def test_only_a_demo_says_invented_data(full: BladeRecordPaper) -> None:
    earnest = dataclasses.replace(rejected(), shop=dataclasses.replace(full.shop, demo=False))
    assert "INVENTED DATA" not in whole(blade_record(earnest))


def test_the_paper_is_dated_with_the_verdict_and_never_with_the_clock(full_pdf: bytes) -> None:
    reader = PdfReader(io.BytesIO(full_pdf))
    assert reader.metadata is not None
    verdict = datetime.datetime(2026, 3, 4, 14, 20, tzinfo=datetime.UTC)  # 15:20 an hour east of Greenwich
    assert reader.metadata.creation_date == verdict
    assert reader.metadata.modification_date == verdict


def test_a_time_without_a_zone_is_refused() -> None:
    with pytest.raises(BadInput) as caught:
        blade_record(bare(verdict_time=datetime.datetime(2026, 3, 4, 15, 20)))  # noqa: DTZ001
    assert caught.value.field == "verdict_time"


@pytest.mark.parametrize(
    ("change", "field", "value"),
    [
        ({"word": "accepted"}, "word", "accepted"),
        ({"word": "accepted under deviation D-9"}, "word", "accepted under deviation D-9"),
        ({"serial": "FM31-0009"}, "serial", "FM31-0009"),
        ({"drawing": DrawingRevision("FM-31", "B", "0" * 64)}, "drawing.sha256", "0" * 64),
    ],
)
def test_a_paper_that_says_something_else_than_its_verdict_is_refused(
    change: dict[str, Any], field: str, value: str
) -> None:
    with pytest.raises(BadInput) as caught:
        blade_record(bare(**change))
    assert (caught.value.field, caught.value.value) == (field, value)


def test_a_rejected_blade_cannot_be_printed_as_signed_out() -> None:
    with pytest.raises(BadInput) as caught:
        blade_record(dataclasses.replace(rejected(), word="signed out"))
    assert caught.value.allowed == "rejected"


@pytest.mark.parametrize(
    "change",
    [
        {"word": Word.ACCEPTED},  # a fail, and the plain word
        {"deviations": ()},  # nothing covers the fail
        {"missing_proofs": ("weighing",)},
        {"findings": (*FINDINGS, Finding("coupon: adhesion", Outcome.FAIL, "", "coupon", deviable=False))},
        {"findings": (*FINDINGS, Finding("weighing: chordwise centre", Outcome.MISSING, "", "weighing"))},
    ],
)
def test_a_verdict_better_than_its_findings_is_refused(change: dict[str, Any]) -> None:
    with pytest.raises(BadInput) as caught:
        blade_record(bare(verdict=judged(**change)))
    assert caught.value.field == "verdict.word"


def test_a_deviation_does_not_cover_a_finding_that_may_not_be_deviated() -> None:
    hard = tuple(dataclasses.replace(finding, deviable=False) for finding in FINDINGS)
    with pytest.raises(BadInput) as caught:
        blade_record(bare(verdict=judged(findings=hard)))
    assert caught.value.fix is not None
    assert "dimensions: reflex angle" in caught.value.fix


def test_typed_text_is_shown_as_typed_and_unshowable_letters_as_numbers(full: BladeRecordPaper) -> None:
    verdict = judged(serial=TYPED[:60], word=Word.REJECTED, deviations=(), first_reason=TYPED, next_step=TYPED)
    odd = dataclasses.replace(
        bare(verdict=verdict),
        shop=dataclasses.replace(full.shop, name=TYPED),
        conditions=(TYPED,),
        properties=(Figure(TYPED, 1.0, TYPED, None, TYPED, source=TYPED),),
        signers=(Signer(TYPED, TYPED),),
    )
    text = whole(blade_record(odd))
    assert "#let x = 1; $E=mc^2$ *bold* ]] } \\ \"quoted\" 'single' <label> @ref // `raw` Ærø Łódź Ωμέγα" in text
    for code in ("<U+65E5>", "<U+1F600>", "<U+202E>", "<U+0007>", "<U+D800>"):
        assert code in text


@given(st.text(max_size=60))
@settings(max_examples=15, deadline=None)
def test_no_text_stops_a_paper(text: str) -> None:
    verdict = judged(serial=text, word=Word.HELD, deviations=(), first_reason=text, missing_proofs=(text,))
    assert blade_record(bare(verdict=verdict, conditions=(text,))).startswith(b"%PDF-1.7")


def test_a_long_record_breaks_over_pages_with_its_heads_repeated() -> None:
    many = tuple(
        Finding(f"rule {number}", Outcome.FAIL if number % 7 == 0 else Outcome.PASS, f"finding number {number}", "cure")
        for number in range(300)
    )
    found = pages(blade_record(rejected(findings=many)))
    text = " ".join(found)
    for number in range(300):
        assert f"finding number {number}" in text
    heads = [page for page in found if "Rule and what was found" in page]
    assert len(heads) > 5
    assert "and 38 more in the table of all findings" in found[0]  # 43 fails, five on the first page
    assert text.index("rule 294") < text.index("finding number 1 ")  # the worst first


def test_a_long_word_breaks_inside_its_column(full: BladeRecordPaper) -> None:
    long = "x" * 400
    reader = PdfReader(io.BytesIO(blade_record(dataclasses.replace(full, conditions=(long,)))))
    shown = "".join(reader.pages[0].extract_text().split())
    assert long in shown
    assert not any("x" * 60 in line for line in reader.pages[0].extract_text().splitlines())
