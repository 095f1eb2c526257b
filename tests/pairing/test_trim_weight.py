"""Trim weight: only for what is resolved, only where the drawing has a pocket. Worked by hand."""

import dataclasses

import pytest

from bladewright.figures import Outcome
from bladewright.pairing.judging import judged
from bladewright.pairing.records import BladeSet, Candidate
from bladewright.pairing.terms import Places
from bladewright.pairing.trim import STEP
from tests.pairing.invented_blades import BALANCE, PLACES, POCKETS, blade, finding, outcomes, terms

TIP = 3.5  # [m] both pockets


def pair(first: Candidate, second: Candidate, places: Places = PLACES) -> BladeSet:
    return judged((first, second), terms(places))


def test_what_is_not_resolved_gets_no_weight() -> None:
    one = pair(blade("A", span_moment=0.0028), blade("B"))  # U is 0.00283
    assert one.trim == ()
    assert one.after_trim == one.differences


def test_a_resolved_difference_is_closed_in_the_light_blade() -> None:
    one = pair(blade("A", span_moment=0.021), blade("B"))
    assert {weight.serial for weight in one.trim} == {"B"}
    # 0.021 kg m at 3.5 m is 6 g; split so that the centre stays: 26 mm forward and 34 mm aft
    mass = {weight.pocket: weight.mass for weight in one.trim}
    assert sum(mass.values()) == pytest.approx(0.006, abs=2 * STEP)
    assert mass["tip forward"] / mass["tip aft"] == pytest.approx(34.0 / 26.0, rel=0.06)
    before, after = (next(f for f in row if f.name == "span moment") for row in (one.differences, one.after_trim))
    assert before.value == pytest.approx(0.021)
    assert after.value == pytest.approx(0.021 - TIP * sum(mass.values()), abs=1e-12)
    assert after.value <= 2 * STEP * TIP
    assert after.uncertainty is not None
    assert before.uncertainty is not None
    assert after.uncertainty >= before.uncertainty


def test_a_difference_outside_the_limit_passes_only_with_its_weight() -> None:
    heavy, light = blade("A", span_moment=0.030), blade("B")
    assert outcomes(pair(heavy, light, Places()))["mates: span moment"] is Outcome.FAIL
    assert outcomes(pair(heavy, light))["mates: span moment"] is Outcome.PASS


def test_no_pocket_holds_more_than_it_may() -> None:
    small = tuple(pocket.model_copy(update={"greatest": 0.002}) for pocket in POCKETS)
    one = pair(blade("A", span_moment=0.030), blade("B"), Places(small, BALANCE))
    assert all(weight.mass <= 0.002 for weight in one.trim)
    assert outcomes(one)["mates: span moment"] is Outcome.FAIL  # 0.030 - 0.014 is still 0.016


def test_a_weighted_blade_stays_within_its_own_limit_against_the_master() -> None:
    # B may go from 0.045 to 0.060 kg m and no further
    one = pair(blade("A", span_moment=0.090), blade("B", span_moment=0.045))
    assert sum(weight.mass for weight in one.trim) * TIP <= 0.015
    assert outcomes(one)["mates: span moment"] is Outcome.FAIL


def test_a_resolved_chordwise_difference_is_closed_from_both_sides() -> None:
    one = pair(blade("A", chordwise_centre=0.8e-4), blade("B"))  # U is 0.07 mm
    assert {(weight.serial, weight.pocket) for weight in one.trim} == {("A", "tip forward"), ("B", "tip aft")}
    after = next(f for f in one.after_trim if f.name == "chordwise centre")
    assert after.value == pytest.approx(0.0, abs=0.002)  # [mm] a tenth of a gram moves it 0.0003 mm


def test_without_the_blades_mass_the_chordwise_centre_is_missing_after_a_weight() -> None:
    one = pair(blade("A", span_moment=0.021), blade("B"), Places(POCKETS))
    found = finding(one, "mates: chordwise centre")
    assert found.outcome is Outcome.MISSING
    assert "mass" in found.sentence
    assert "chordwise centre" not in {figure.name for figure in one.after_trim}


def test_no_weight_when_how_well_it_is_known_was_never_said() -> None:
    bare = dataclasses.replace(blade("A", chordwise_centre=3e-4), chordwise_uncertainty=None)
    assert pair(bare, blade("B")).trim == ()


def test_of_three_only_the_one_that_is_told_apart_gets_weight() -> None:
    three = (blade("A", span_moment=0.021), blade("B", span_moment=0.020), blade("C"))
    one = judged(three, terms())
    assert {weight.serial for weight in one.trim} == {"C"}
    assert sum(weight.mass for weight in one.trim) == pytest.approx(0.006, abs=2 * STEP)
