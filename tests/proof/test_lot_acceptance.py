"""Acceptance tests of an adhesive lot judged by hand-worked tables; what is asked of one is entered by each shop.

Shear 28, 30, 31, 29, 32 MPa: sum 150, mean 30, lowest 28. Peel 6, 7, 5, 6, 6 N/mm: sum 30, mean 6, lowest 5.
"""

import dataclasses
import datetime

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from bladewright.drawing.acceptance_limits import AcceptanceLimits
from bladewright.drawing.counting_rule import CountingRule
from bladewright.evidence.acceptance_test import AcceptanceTest, TestPiece
from bladewright.evidence.freezer_log import Roll
from bladewright.figures import Finding, Outcome, worst_of
from bladewright.proof.adhesive import judge_roll, stock
from bladewright.proof.adhesive_answer import may_be_used
from bladewright.proof.kitting import NotToBeUsed, kitted
from bladewright.proof.lot_acceptance import (
    ADHESION,
    DATED,
    LOWEST,
    MEAN,
    PIECES,
    SIGNED,
    TESTED,
    VOID,
    acceptance_said,
    judge_lot,
)

PASS, REFER, FAIL, MISSING = Outcome.PASS, Outcome.REFER, Outcome.FAIL, Outcome.MISSING
NOW = datetime.datetime(2026, 6, 20, 8, 0, tzinfo=datetime.UTC)
RECEIVED = datetime.datetime(2026, 6, 1, 8, 0, tzinfo=datetime.UTC)
DAY = datetime.date(2026, 6, 4)
LIMITS = AcceptanceLimits.model_validate(
    {
        "coupons_least": 5, "shear_mean_least": "29 MPa", "shear_single_least": "27 MPa", "void_greatest": "5 %",
        "source": "process sheet, invented",
    }
)  # fmt: skip
WITH_PEEL = LIMITS.model_copy(update={"peel_mean_least": 5500.0, "peel_single_least": 4500.0})
RULE = CountingRule.model_validate(
    {"maker_limit": "240 h", "maker_warmest": "24 degC", "warm_up_least": "4 h", "source": "film sheet, invented"}
)


def pieces(*values: float, adhesion: float | None = 0.0, void: float | None = 0.0) -> tuple[TestPiece, ...]:
    return tuple(TestPiece(value, adhesion, void) for value in values)


SHEAR = pieces(28e6, 30e6, 31e6, 29e6, 32e6)
PEEL = pieces(6e3, 7e3, 5e3, 6e3, 6e3)
GOOD = AcceptanceTest("L-900", DAY, SHEAR, PEEL, "R. Vane")


def a_roll(*tests: AcceptanceTest, first_used: datetime.date | None = None) -> Roll:
    expires = datetime.date(2026, 12, 1)
    return Roll("F-70", "L-900", RECEIVED, expires=expires, first_used=first_used, acceptance=tests)


def but(**other: object) -> AcceptanceTest:
    return dataclasses.replace(GOOD, **other)  # type: ignore[arg-type]


def found(test: AcceptanceTest, limits: AcceptanceLimits = LIMITS, **other: object) -> dict[str, Finding]:
    """The first finding of each rule."""
    findings = judge_lot(a_roll(test), limits.model_copy(update=other), NOW)
    return {finding.rule: finding for finding in reversed(findings)}


def test_a_good_table_passes_every_rule_with_its_mean_and_lowest() -> None:
    judged = judge_lot(a_roll(GOOD), WITH_PEEL, NOW)
    assert {finding.outcome for finding in judged} == {PASS}
    values = {
        (one.worst.name, one.worst.unit): one.worst.value for one in judged if one.worst and one.rule in (MEAN, LOWEST)
    }
    assert values["mean shear", "MPa"] == pytest.approx(30.0)
    assert values["lowest shear", "MPa"] == pytest.approx(28.0)
    # 1 lbf/in is 4.4482216152605 N on 25.4 mm
    per_inch = 4.4482216152605 / 0.0254
    assert values["mean peel", "lbf/in"] == pytest.approx(6000.0 / per_inch)
    assert values["lowest peel", "lbf/in"] == pytest.approx(5000.0 / per_inch)


@pytest.mark.parametrize(
    ("mean_least", "uncertainty", "outcome"),
    [(30e6, None, PASS), (30.1e6, None, FAIL), (29e6, 0.03, PASS), (29.2e6, 0.03, REFER), (30.1e6, 0.03, FAIL)],
)
def test_the_mean_inside_by_less_than_its_uncertainty_is_for_a_person(
    mean_least: float, uncertainty: float | None, outcome: Outcome
) -> None:
    # 3 % of 30 MPa is 0.9 MPa: 29 MPa leaves 1.0, 29.2 MPa leaves 0.8
    assert found(GOOD, shear_mean_least=mean_least, uncertainty=uncertainty)[MEAN].outcome is outcome


def test_one_weak_coupon_is_not_saved_by_the_mean() -> None:
    weak = found(but(shear=pieces(26e6, 33e6, 33e6, 33e6, 33e6)))
    assert (weak[MEAN].outcome, weak[LOWEST].outcome) == (PASS, FAIL)


@pytest.mark.parametrize(
    ("shear", "rule", "outcome"),
    [
        (SHEAR[:4], PIECES, MISSING),
        ((), PIECES, MISSING),
        (pieces(30e6, 30e6, 30e6, 30e6, 30e6, adhesion=0.01), ADHESION, FAIL),
        (pieces(30e6, 30e6, 30e6, 30e6, 30e6, adhesion=None), ADHESION, MISSING),
        (pieces(30e6, 30e6, 30e6, 30e6, 30e6, void=0.06), VOID, FAIL),
        (pieces(30e6, 30e6, 30e6, 30e6, 30e6, void=0.05), VOID, PASS),
        ((*SHEAR[:4], TestPiece(32e6, 0.5, 0.0), TestPiece(30e6, None, None)), ADHESION, FAIL),
    ],
)
def test_coupons_and_how_they_broke(shear: tuple[TestPiece, ...], rule: str, outcome: Outcome) -> None:
    assert found(but(shear=shear))[rule].outcome is outcome


def test_adhesion_failure_within_a_limit_above_nothing_is_still_for_a_person() -> None:
    one = but(shear=(*SHEAR[:4], TestPiece(32e6, 0.01, 0.0)))
    assert found(one, adhesion_greatest=0.02)[ADHESION].outcome is REFER


def test_adhesion_failure_of_a_peel_nobody_asked_for_is_seen() -> None:
    assert found(but(peel=pieces(6e3, adhesion=0.2)))[ADHESION].outcome is FAIL


def test_peel_that_is_asked_and_not_torn_is_missing() -> None:
    judged = judge_lot(a_roll(but(peel=())), WITH_PEEL, NOW)
    assert [finding.outcome for finding in judged if finding.rule == PIECES] == [PASS, MISSING]


@pytest.mark.parametrize(
    ("first_used", "outcome"),
    [
        (None, PASS),
        (DAY + datetime.timedelta(days=1), PASS),
        (DAY, REFER),
        (DAY - datetime.timedelta(days=1), FAIL),
    ],
)
def test_the_test_comes_before_the_first_use(first_used: datetime.date | None, outcome: Outcome) -> None:
    (dated,) = (one for one in judge_lot(a_roll(GOOD, first_used=first_used), LIMITS, NOW) if one.rule == DATED)
    assert dated.outcome is outcome


def test_a_test_still_to_come_and_one_nobody_signed_are_missing() -> None:
    assert found(but(date=datetime.date(2026, 6, 21)))[DATED].outcome is MISSING
    assert found(but(signed_by=""))[SIGNED].outcome is MISSING


def test_the_test_of_another_lot_does_not_speak_for_this_one() -> None:
    (only,) = judge_lot(a_roll(but(lot="L-901")), LIMITS, NOW)
    assert (only.rule, only.outcome, only.deviable) == (TESTED, MISSING, False)
    assert "L-901" in only.sentence


def test_a_later_good_test_takes_no_bad_one_back() -> None:
    bad = but(shear=pieces(20e6, 30e6, 31e6, 29e6, 32e6))
    assert worst_of(judge_lot(a_roll(bad, but(date=datetime.date(2026, 6, 10))), LIMITS, NOW)) is FAIL


BAD = [
    ((), "Not while this is missing.", MISSING),
    ((but(signed_by=""),), "Not while this is missing.", MISSING),
    ((but(shear=SHEAR[:3]),), "Not while this is missing.", MISSING),
    ((but(shear=pieces(20e6, 30e6, 31e6, 29e6, 32e6)),), "No.", FAIL),
    ((but(shear=pieces(30e6, 30e6, 30e6, 30e6, 30e6, adhesion=0.01)),), "No.", FAIL),
]


@pytest.mark.parametrize(("tests", "begins", "outcome"), BAD)
def test_no_roll_of_a_lot_without_a_good_test_is_used_or_labelled(
    tests: tuple[AcceptanceTest, ...], begins: str, outcome: Outcome
) -> None:
    roll, rule = a_roll(*tests), RULE.model_copy(update={"acceptance": LIMITS})
    answer = may_be_used(roll, rule, NOW)
    assert answer.told.startswith(begins)
    assert bool(answer.missing) == (outcome is MISSING)
    assert [one.number for one, _ in stock([roll], rule, NOW, 30).unusable] == ["F-70"]
    with pytest.raises(NotToBeUsed) as caught:
        kitted(roll, rule, judge_roll(roll, rule, NOW), NOW)
    assert (caught.value.field, caught.value.value) == ("roll", "F-70")
    assert acceptance_said(roll, LIMITS, NOW) == f"NOT ACCEPTED ({outcome.value})"


def test_findings_left_out_earn_no_label() -> None:
    with pytest.raises(NotToBeUsed):
        kitted(a_roll(), RULE.model_copy(update={"acceptance": LIMITS}), (), NOW)


def test_a_lot_that_passed_is_named_in_the_answer_and_on_the_label() -> None:
    roll, rule = a_roll(GOOD), RULE.model_copy(update={"acceptance": LIMITS})
    assert (
        "The acceptance test of lot L-900 passed on 2026-06-04, signed by R. Vane." in may_be_used(roll, rule, NOW).told
    )
    label = kitted(roll, rule, judge_roll(roll, rule, NOW), NOW)
    assert label.acceptance == "passed on 2026-06-04, signed by R. Vane"


def test_where_none_is_asked_it_is_said() -> None:
    assert judge_lot(a_roll(), None, NOW) == ()
    assert "asks for no acceptance test" in may_be_used(a_roll(), RULE, NOW).told
    assert kitted(a_roll(), RULE, judge_roll(a_roll(), RULE, NOW), NOW).acceptance == "no test asked"


@settings(max_examples=60, deadline=None)
@given(
    kilopascals=st.lists(st.integers(20_000, 40_000), min_size=1, max_size=8),
    weaker=st.integers(0, 7),
    by=st.integers(0, 20_000),
)
def test_a_weaker_coupon_never_makes_a_lot_pass(kilopascals: list[int], weaker: int, by: int) -> None:
    def passes(shear: list[int]) -> bool:
        torn = pieces(*(1e3 * value for value in shear))
        return worst_of(judge_lot(a_roll(but(shear=torn)), LIMITS, NOW)) is PASS

    at = weaker % len(kilopascals)
    weakened = [*kilopascals[:at], kilopascals[at] - by, *kilopascals[at + 1 :]]
    assert passes(kilopascals) or not passes(weakened)
    number, total = len(kilopascals), sum(kilopascals)
    assert passes(kilopascals) == (number >= 5 and min(kilopascals) >= 27_000 and total >= 29_000 * number)
