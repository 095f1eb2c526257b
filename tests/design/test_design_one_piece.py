"""The whole is never better than its worst part, and every margin of it is told."""

import pytest

from bladewright.design.one_piece import WORDS, OnePiece, Part
from bladewright.figures import Figure, Finding, Missing, Outcome

PASS, REFER, FAIL, MISSING = Outcome.PASS, Outcome.REFER, Outcome.FAIL, Outcome.MISSING


def finding(outcome: Outcome, rule: str = "margin") -> Finding:
    return Finding(rule, outcome, f"It is a {outcome.value}.", "dimensions", Figure(rule, 0.1, "1"))


def part(*outcomes: Outcome, missing: tuple[Missing, ...] = ()) -> Part:
    found = tuple(finding(outcome, f"margin {number}") for number, outcome in enumerate(outcomes))
    return Part("Strength", "Does it bear its loads?", found, (), missing)


GAP = (Missing("life", ("flight_profile",)),)


@pytest.mark.parametrize(
    ("of", "worst"),
    [
        (part(PASS, PASS), PASS),
        (part(PASS, REFER), REFER),
        (part(PASS, FAIL, REFER), FAIL),
        (part(PASS, PASS, missing=GAP), MISSING),
        (part(REFER, missing=GAP), MISSING),
        (part(FAIL, missing=GAP), FAIL),
        (part(), MISSING),
    ],
)
def test_a_part_is_its_worst_and_what_is_missing_is_never_a_pass(of: Part, worst: Outcome) -> None:
    assert of.outcome is worst
    whole = OnePiece("Does it stay in one piece?", (part(PASS), of), ())
    assert whole.outcome is worst
    assert whole.word == WORDS[worst]


def test_nothing_at_all_is_missing() -> None:
    assert OnePiece("?", (), ()).outcome is MISSING


def test_what_governs_is_the_first_of_the_worst_and_how_many_there_are_is_told() -> None:
    of = part(PASS, REFER, REFER, missing=GAP)
    assert of.governing == of.findings[1]
    assert of.told.startswith("Margin 1: It is a refer. Of 3 rules: 2 refer, 1 pass.")
    assert of.told.endswith("1 answer not known: life.")


def test_every_finding_of_every_part_is_in_the_whole_and_each_gap_once() -> None:
    whole = OnePiece("?", (part(PASS, missing=GAP), part(REFER, REFER, missing=GAP)), ())
    assert len(whole.findings) == 3
    assert whole.missing == GAP
    assert [answer.question for answer in whole.answers] == ["Does it bear its loads?"] * 2
