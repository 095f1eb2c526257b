"""Every word a blade can be given, and that no more evidence against it ever reads better."""

import dataclasses
import datetime

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from bladewright.errors import BadInput
from bladewright.figures import Finding, Outcome
from bladewright.proof.records import BladeEvidence, Deviation, Verdict, Word
from bladewright.proof.verdict import covers, hash_of, judge_blade, missing_proofs, word_of
from tests.proof.invented_blade import (
    DRAWING,
    SERIAL,
    SIGNED,
    a_coupon,
    a_curve,
    a_sheet,
    a_weighing,
    changed,
    everything,
    good_cure,
    measured,
    signed,
)

HALE = "R. Hale"
REFLEX = "dimensions: reflex.angle"


def judged(evidence: BladeEvidence, *deviations: Deviation) -> Verdict:
    return judge_blade(DRAWING, "a" * 64, SERIAL, evidence, deviations, "0.1.0")


def with_reflex(text: str) -> BladeEvidence:
    return dataclasses.replace(everything(), sheets=(a_sheet(measured("reflex.angle", text, "angle", "0.05 deg")),))


def deviation(rule: str, serial: str = SERIAL, by: str = HALE, only_with: tuple[str, ...] = ()) -> Deviation:
    return Deviation("D-3", serial, rule, by, datetime.date(2026, 3, 5), "both blades of the batch alike", only_with)


def lost_zone() -> BladeEvidence:
    """Mould sensor 4 opens 40 min into the dwell."""
    cure = changed(good_cure(), "M4", lambda minutes, readings: np.where(minutes >= 98.0, np.nan, readings))
    return dataclasses.replace(everything(), cures=(cure,))


def test_a_whole_good_blade_is_accepted() -> None:
    verdict = judged(everything())
    assert verdict.word is Word.ACCEPTED
    assert all(finding.outcome is Outcome.PASS for finding in verdict.findings)
    assert verdict.missing_proofs == ()
    assert len(verdict.evidence) == 5 + len(SIGNED)
    assert {finding.proof for finding in verdict.findings} >= set(DRAWING.required_proofs)


@pytest.mark.parametrize("proof", DRAWING.required_proofs)
def test_without_any_one_proof_the_blade_is_incomplete(proof: str) -> None:
    whole = everything()
    emptied = {
        "cure": {"cures": ()},
        "coupon": {"coupons": ()},
        "dimensions": {"sheets": ()},
        "weighing": {"weighings": ()},
    }.get(proof, {"signed": tuple(record for record in whole.signed if record.proof != proof)})
    verdict = judged(dataclasses.replace(whole, **emptied))  # type: ignore[arg-type]
    assert verdict.word is Word.INCOMPLETE
    assert verdict.missing_proofs == (proof,)
    assert proof in verdict.first_reason


@pytest.mark.parametrize("proof", ["cure", "coupon", "dimensions", "weighing"])
def test_a_signature_does_not_stand_in_for_a_measurement(proof: str) -> None:
    assert missing_proofs((proof,), BladeEvidence(signed=(signed(proof),))) == (proof,)


def test_a_coupon_without_its_pull_curve_is_no_proof() -> None:
    verdict = judged(dataclasses.replace(everything(), coupons=((a_coupon(), None),)))
    assert verdict.word is Word.INCOMPLETE
    assert verdict.missing_proofs == ("coupon",)


def test_a_zone_lost_in_the_dwell_holds_the_blade() -> None:
    verdict = judged(lost_zone())
    assert verdict.word is Word.HELD
    outcomes = {finding.rule: finding for finding in verdict.findings}
    dwell = outcomes["cure: dwell"]
    assert dwell.outcome is Outcome.REFER
    assert dwell.worst is not None
    assert 38.0 <= dwell.worst.value <= 41.0  # min, proven until the sensor died
    assert outcomes["cure: mould sensors"].where[0].channel == "M4"
    assert dwell.would_change
    assert "H4 read 258 to 262 degF" in outcomes["cure: mould sensors"].sentence  # not the cool-down


def test_a_dimension_outside_rejects_and_says_what_it_does_in_flight() -> None:
    verdict = judged(with_reflex("2.31 deg"))
    assert verdict.word is Word.REJECTED
    (finding,) = [finding for finding in verdict.findings if finding.outcome is Outcome.FAIL]
    assert finding.rule == REFLEX
    assert "+0.31 deg" in finding.sentence
    assert "+/-0.2 " in finding.sentence
    assert "lbf" in finding.sentence
    assert verdict.first_reason == finding.sentence


def test_a_deviation_accepts_and_the_finding_stays_a_fail() -> None:
    verdict = judged(with_reflex("2.31 deg"), deviation(REFLEX, only_with=("FM31-0008",)))
    assert verdict.word is Word.ACCEPTED_UNDER_DEVIATION
    assert [finding.outcome for finding in verdict.findings if finding.rule == REFLEX] == [Outcome.FAIL]
    assert verdict.may_fly_only_with == ("FM31-0008",)


@pytest.mark.parametrize(
    "other", [deviation(REFLEX, serial="FM31-0008"), deviation("dimensions: planform.chord at 2.000 m")]
)
def test_a_deviation_of_another_rule_or_serial_covers_nothing(other: Deviation) -> None:
    verdict = judged(with_reflex("2.31 deg"), other)
    assert verdict.word is Word.REJECTED
    assert verdict.deviations == ()


def test_whoever_made_the_part_does_not_accept_its_faults() -> None:
    verdict = judged(with_reflex("2.31 deg"), deviation(REFLEX, by=" r. vane "))
    assert verdict.word is Word.REJECTED
    assert "D-3 does not count" in verdict.first_reason


@pytest.mark.parametrize("by", ["R. Vane", " r. vane "])
def test_a_last_look_by_who_made_the_part_does_not_count(by: str) -> None:
    kept = tuple(record for record in everything().signed if record.proof != "final inspection")
    own = signed("final inspection", by=by)
    verdict = judged(dataclasses.replace(everything(), signed=(*kept, own)))
    assert (verdict.word, verdict.missing_proofs) == (Word.INCOMPLETE, ("final inspection",))
    assert verdict.first_reason.endswith("signed the final inspection and made the part, so it does not count.")
    assert verdict.next_step == "Another person signs the final inspection."
    second = dataclasses.replace(signed("final inspection"), source=dataclasses.replace(own.source, file="second.toml"))
    assert judged(dataclasses.replace(everything(), signed=(*kept, own, second))).word is Word.ACCEPTED


def test_a_last_look_that_finds_something_counts_whoever_looked() -> None:
    kept = tuple(record for record in everything().signed if record.proof != "final inspection")
    own = signed("final inspection", "does not conform", by="R. Vane")
    assert judged(dataclasses.replace(everything(), signed=(*kept, own))).word is Word.REJECTED


def test_adhesion_failure_is_beyond_any_deviation() -> None:
    evidence = dataclasses.replace(everything(), coupons=((a_coupon(AF=3.0), a_curve()),))
    verdict = judged(evidence, deviation("tip coupon: adhesion failure"))
    assert verdict.word is Word.REJECTED
    assert verdict.deviations == ()
    assert "D-3 does not count" in verdict.first_reason


@pytest.mark.parametrize("proof", ["adhesive out-time", "surface treatment"])
def test_expired_adhesive_and_a_failed_treatment_are_beyond_any_deviation(proof: str) -> None:
    kept = tuple(record for record in everything().signed if record.proof != proof)
    evidence = dataclasses.replace(everything(), signed=(*kept, signed(proof, "does not conform")))
    assert judged(evidence, deviation(f"signed record: {proof}")).word is Word.REJECTED


def test_a_later_good_record_does_not_undo_an_earlier_bad_one() -> None:
    evidence = dataclasses.replace(everything(), signed=(*everything().signed, signed("void map", "does not conform")))
    verdict = judged(evidence, deviation("signed record: void map"))
    assert verdict.word is Word.REJECTED  # two findings of one rule carry their files' names; neither is covered


def test_two_cures_are_both_judged_and_told_apart() -> None:
    short = changed(good_cure(), "M2", lambda minutes, readings: readings - 8.0 * (minutes > 90.0))
    short = dataclasses.replace(short, source=dataclasses.replace(short.source, file="second.csv"))
    verdict = judged(dataclasses.replace(everything(), cures=(good_cure(), short)), deviation("cure: dwell"))
    assert verdict.word is Word.REJECTED
    assert {"cure: dwell (cure.csv)", "cure: dwell (second.csv)"} <= {finding.rule for finding in verdict.findings}


def test_evidence_of_another_blade_is_refused() -> None:
    other = dataclasses.replace(a_weighing(), serial="FM31-0008")
    with pytest.raises(BadInput) as caught:
        judged(dataclasses.replace(everything(), weighings=(other,)))
    assert caught.value.field == "serial"
    assert caught.value.value == "FM31-0008"
    assert caught.value.allowed == SERIAL


def test_a_limit_left_out_of_the_drawing_is_no_pass() -> None:
    limits = DRAWING.limits.model_copy(update={"peel": None})
    drawing = DRAWING.model_copy(update={"limits": limits})
    verdict = judge_blade(drawing, "a" * 64, SERIAL, everything(), (), "0.1.0")
    assert verdict.word is Word.INCOMPLETE
    assert any("limits.peel" in finding.sentence for finding in verdict.findings)


def test_the_same_inputs_give_the_same_verdict() -> None:
    assert judged(lost_zone()) == judged(lost_zone())


RANK = [Word.ACCEPTED, Word.ACCEPTED_UNDER_DEVIATION, Word.HELD, Word.INCOMPLETE, Word.REJECTED]
RULES = st.sampled_from(["a", "b", "c"])
FINDINGS = st.builds(
    Finding, rule=RULES, outcome=st.sampled_from(Outcome), sentence=st.just(""), proof=st.just("cure"),
    deviable=st.booleans(),
)  # fmt: skip
DEVIATIONS = st.lists(RULES.map(deviation), max_size=3)


@settings(max_examples=150)
@given(st.lists(FINDINGS, max_size=5), FINDINGS, DEVIATIONS, st.booleans())
def test_one_more_finding_never_improves_a_verdict(
    findings: list[Finding], more: Finding, deviations: list[Deviation], missing: bool
) -> None:
    gone = ("lay-up",) if missing else ()
    before, after = word_of(findings, gone, deviations), word_of([*findings, more], gone, deviations)
    assert RANK.index(after) >= RANK.index(before)
    assert RANK.index(word_of(findings, ("lay-up",), deviations)) >= RANK.index(before)


@settings(max_examples=150)
@given(st.lists(FINDINGS, max_size=5), DEVIATIONS)
def test_accepted_only_if_every_finding_passes_or_is_covered(
    findings: list[Finding], deviations: list[Deviation]
) -> None:
    word = word_of(findings, (), deviations)
    bad = [finding for finding in findings if finding.outcome is not Outcome.PASS]
    assert (word is Word.ACCEPTED) == (not bad)
    if word is Word.ACCEPTED_UNDER_DEVIATION:
        assert all(finding.deviable and any(covers(d, finding) for d in deviations) for finding in bad)


ORDER = [Outcome.PASS, Outcome.REFER, Outcome.MISSING, Outcome.FAIL]


@settings(max_examples=80)
@given(st.lists(FINDINGS, min_size=1, max_size=5), st.data(), DEVIATIONS)
def test_a_worse_finding_never_improves_a_verdict(
    findings: list[Finding], data: st.DataObject, deviations: list[Deviation]
) -> None:
    at = data.draw(st.integers(0, len(findings) - 1))
    worse = data.draw(st.sampled_from(ORDER[ORDER.index(findings[at].outcome) :]))
    after = [*findings[:at], dataclasses.replace(findings[at], outcome=worse), *findings[at + 1 :]]
    assert RANK.index(word_of(after, (), deviations)) >= RANK.index(word_of(findings, (), deviations))


def read(evidence: BladeEvidence, rule: str) -> Deviation:
    """A deviation by a person who has read what the blade's evidence comes to."""
    findings = judged(evidence).findings
    seen = tuple(hash_of(finding) for finding in findings if finding.rule == rule)
    return dataclasses.replace(deviation(rule), seen=seen)


def test_a_deviation_does_not_cover_a_worse_finding_of_the_same_rule() -> None:
    accepted = read(with_reflex("2.31 deg"), REFLEX)
    assert judged(with_reflex("2.31 deg"), accepted).word is Word.ACCEPTED_UNDER_DEVIATION
    worse = judged(with_reflex("5.31 deg"), accepted)
    assert worse.word is Word.REJECTED
    assert worse.deviations == ()
    assert "D-3 does not count" in worse.first_reason


def test_a_weighing_after_the_deviation_is_not_covered_by_it() -> None:
    outside = dataclasses.replace(everything(), weighings=(a_weighing(0.5),))
    accepted = read(outside, "weighing: span moment")
    assert judged(outside, accepted).word is Word.ACCEPTED_UNDER_DEVIATION
    later = a_weighing(2.0, datetime.date(2026, 6, 1))
    heavier = dataclasses.replace(outside, weighings=(*outside.weighings, later))
    assert judged(heavier, accepted).word is Word.REJECTED


def test_files_of_one_name_are_told_apart() -> None:
    records = tuple(
        dataclasses.replace(signed("void map", "does not conform"), statement=said) for said in ("small", "large")
    )
    kept = tuple(record for record in everything().signed if record.proof != "void map")
    one, two = (dataclasses.replace(everything(), signed=(*kept, *records[:n])) for n in (1, 2))
    (rule,) = (finding.rule for finding in judged(one).findings if finding.proof == "void map")
    assert judged(one, read(one, rule)).word is Word.ACCEPTED_UNDER_DEVIATION
    first, second = (finding.rule for finding in judged(two).findings if finding.proof == "void map")
    assert first != second
    assert judged(two, read(two, first)).word is Word.REJECTED
