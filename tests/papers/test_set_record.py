"""The set record: never better than its blades or its tests, and with what is left between the blades."""

import dataclasses
import io
from typing import Any

import pytest
from pypdf import PdfReader

from bladewright.errors import BadInput
from bladewright.figures import Finding, Outcome
from bladewright.papers.records import SetBlade
from bladewright.papers.sets import set_record
from tests.papers.invented_papers import WHEN, a_set


def pages(pdf: bytes) -> list[str]:
    return [" ".join(page.extract_text().split()) for page in PdfReader(io.BytesIO(pdf)).pages]


def with_match(**change: Any) -> bytes:
    paper = a_set()
    return set_record(dataclasses.replace(paper, match=dataclasses.replace(paper.match, **change)))


def test_the_first_page_says_which_blades_whether_they_may_fly_and_what_to_fit() -> None:
    first = pages(set_record(a_set()))[0]
    for said in (
        "PASSES THE TESTS OF A SET",
        "FM31-0007: accepted under deviation D-3, D-4",
        "FM31-0008: accepted under deviation D-5",
        "8.2 g in FM31-0008, pocket tip forward",
        "7.4 ± 6.0 N",
        "band -8.9 N (-2 lbf) to 22.2 N (5 lbf)",
        "FM31-0008: only with FM31-0007",
    ):
        assert said in first


@pytest.mark.parametrize(
    ("outcome", "said"),
    [
        (Outcome.FAIL, "FAILS THE TESTS OF A SET"),
        (Outcome.REFER, "REFER: A NAMED PERSON DECIDES"),
        (Outcome.MISSING, "CANNOT BE JUDGED YET"),
    ],
)
def test_the_worst_finding_is_the_sets_word(outcome: Outcome, said: str) -> None:
    worse = Finding("set: handle force at never-exceed speed", outcome, "worse", "matching", next_step="look at it")
    first = pages(with_match(findings=(*a_set().match.findings, worse)))[0]
    assert said in first
    assert "look at it" in first
    assert "sign out" not in first


def test_a_set_that_nobody_tested_does_not_pass() -> None:
    first = pages(with_match(findings=()))[0]
    assert "CANNOT BE JUDGED YET" in first
    assert "No rule was judged." in first


@pytest.mark.parametrize("word", ["held", "rejected", "incomplete", "acceptable"])
def test_a_blade_that_is_not_accepted_grounds_the_set(word: str) -> None:
    paper = a_set()
    grounded = dataclasses.replace(paper, blades=(paper.blades[0], SetBlade("FM31-0008", word, WHEN)))
    first = pages(set_record(grounded))[0]
    assert "MAY NOT FLY: FM31-0008 NOT ACCEPTED" in first
    assert f"FM31-0008 is {word}" in first
    assert "sign out" not in first


def test_blades_that_were_not_matched_are_refused() -> None:
    paper = a_set()
    with pytest.raises(BadInput) as caught:
        set_record(dataclasses.replace(paper, blades=paper.blades[:1]))
    assert (caught.value.field, caught.value.value) == ("blades", "FM31-0007")


def test_a_set_without_figures_still_prints() -> None:
    text = " ".join(pages(with_match(differences=(), after_trim=(), trim=(), handle_force=None)))
    assert "no differences given" in text
    assert "no trim weight" in text
    assert "not known" in text
