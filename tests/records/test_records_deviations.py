"""Accepting a finding: design authority, not the maker, one rule of one blade, never what may not be accepted."""

from collections.abc import Callable
from pathlib import Path

import pytest

from bladewright.errors import BadInput, MissingInput, NotAuthorised
from bladewright.figures import Outcome
from bladewright.proof.records import Word
from bladewright.records.acts import Scope
from bladewright.records.deviations import accept_deviation
from bladewright.records.evidence import file_cure, sign
from bladewright.records.judging import judge
from bladewright.records.people import authorise
from bladewright.records.ready import models
from examples.fennmark.evidence import Evidence
from tests.records.cast import AT, ENGINEER, INSPECTOR, MAKER, OFFICE, by, everybody_but
from tests.records.conftest import Judged

SERIAL, MATE = "B-0101", "B-0102"
RULE = "cure: dwell"
pytestmark = [pytest.mark.book, pytest.mark.usefixtures("batch")]


@pytest.fixture(autouse=True)
def _one_failed(findings_are: Judged) -> None:
    findings_are((RULE, Outcome.FAIL), ("coupon: adhesion", Outcome.FAIL, False), ("cure: ramp", Outcome.PASS))


def test_a_deviation_covers_its_rule_and_leaves_the_finding_as_it_is(findings_are: Judged) -> None:
    findings_are((RULE, Outcome.FAIL))
    assert judge(by(INSPECTOR), SERIAL).verdict.word is Word.REJECTED
    accepted = accept_deviation(by(ENGINEER, "coupons from this run tested sound"), SERIAL, RULE, [MATE])
    deviation = accepted.deviation
    assert (deviation.number, deviation.accepted_by, deviation.only_with) == ("D-1", ENGINEER, (MATE,))
    again = judge(by(INSPECTOR), SERIAL).verdict
    assert again.word is Word.ACCEPTED_UNDER_DEVIATION
    assert again.findings[0].outcome is Outcome.FAIL
    assert again.may_fly_only_with == (MATE,)


@pytest.mark.parametrize("who", everybody_but(ENGINEER))
def test_only_design_authority_accepts(who: str) -> None:
    judge(by(INSPECTOR), SERIAL)
    with pytest.raises(NotAuthorised) as caught:
        accept_deviation(by(who, "it will do"), SERIAL, RULE)
    assert Scope.DESIGN in str(caught.value.allowed)
    assert models.Deviation.objects.count() == 0


def _opened_the_serial(files: Evidence, signed_file: Callable[..., Path]) -> str:  # noqa: ARG001
    return MAKER


def _filed_the_cure(files: Evidence, signed_file: Callable[..., Path]) -> str:  # noqa: ARG001
    authorise(by(OFFICE), ENGINEER, Scope.CURE, AT.date())
    file_cure(by(ENGINEER), [SERIAL], files.blades[0].cure, files.logger)
    return ENGINEER


def _laid_it_up(files: Evidence, signed_file: Callable[..., Path]) -> str:  # noqa: ARG001
    authorise(by(OFFICE), ENGINEER, Scope.BOND, AT.date())
    sign(by(ENGINEER), signed_file(SERIAL, signed_by=ENGINEER, proof="lay-up"))
    return ENGINEER


@pytest.mark.parametrize("made", [_opened_the_serial, _filed_the_cure, _laid_it_up])
def test_nobody_accepts_what_they_made(
    made: Callable[..., str], files: Evidence, signed_file: Callable[..., Path]
) -> None:
    maker = made(files, signed_file)
    authorise(by(OFFICE), maker, Scope.DESIGN, AT.date())
    judge(by(INSPECTOR), SERIAL)
    with pytest.raises(NotAuthorised) as caught:
        accept_deviation(by(maker, "it will do"), SERIAL, RULE)
    assert (caught.value.field, caught.value.value) == ("by", maker)
    assert models.Deviation.objects.count() == 0


def test_what_nobody_may_accept_stays_refused() -> None:
    judge(by(INSPECTOR), SERIAL)
    with pytest.raises(BadInput) as caught:
        accept_deviation(by(ENGINEER, "it will do"), SERIAL, "coupon: adhesion")
    assert (caught.value.field, caught.value.value, caught.value.allowed) == ("rule", "coupon: adhesion", RULE)


def test_a_missing_proof_is_not_accepted_away(findings_are: Judged) -> None:
    findings_are(("weighing", Outcome.MISSING))
    judge(by(INSPECTOR), SERIAL)
    with pytest.raises(BadInput) as caught:
        accept_deviation(by(ENGINEER, "it will do"), SERIAL, "weighing")
    assert caught.value.field == "rule"


@pytest.mark.parametrize("rule", ["cure: ramp", "no such rule"])
def test_only_an_open_finding_is_accepted(rule: str) -> None:
    judge(by(INSPECTOR), SERIAL)
    with pytest.raises(BadInput) as caught:
        accept_deviation(by(ENGINEER, "it will do"), SERIAL, rule)
    assert (caught.value.field, caught.value.value) == ("rule", rule)


def test_it_needs_a_reason_a_verdict_and_mates_that_are_there() -> None:
    with pytest.raises(MissingInput) as unjudged:
        accept_deviation(by(ENGINEER, "it will do"), SERIAL, RULE)
    assert unjudged.value.field == "serial"
    judge(by(INSPECTOR), SERIAL)
    with pytest.raises(MissingInput) as silent:
        accept_deviation(by(ENGINEER, " "), SERIAL, RULE)
    assert silent.value.field == "reason"
    with pytest.raises(MissingInput) as unknown:
        accept_deviation(by(ENGINEER, "it will do"), SERIAL, RULE, ["B-9999"])
    assert unknown.value.value == "B-9999"
    with pytest.raises(BadInput) as itself:
        accept_deviation(by(ENGINEER, "it will do"), SERIAL, RULE, [SERIAL])
    assert itself.value.field == "only_with"


def test_twice_is_once_and_another_reason_is_another_deviation() -> None:
    judge(by(INSPECTOR), SERIAL)
    first = accept_deviation(by(ENGINEER, "it will do"), SERIAL, RULE)
    again = accept_deviation(by(ENGINEER, "it will do"), SERIAL, RULE)
    other = accept_deviation(by(ENGINEER, "and was tested"), SERIAL, RULE)
    assert (first.already, again.already, other.already) == (False, True, False)
    assert (again.deviation.number, other.deviation.number) == ("D-1", "D-2")


def test_a_verdict_that_does_not_know_of_newer_evidence_is_no_ground(signed_file: Callable[..., Path]) -> None:
    judge(by(INSPECTOR), SERIAL)
    sign(by(INSPECTOR), signed_file(SERIAL))
    with pytest.raises(BadInput) as caught:
        accept_deviation(by(ENGINEER, "it will do"), SERIAL, RULE)
    assert (caught.value.field, caught.value.value) == ("serial", SERIAL)


def test_worse_evidence_filed_later_is_not_covered(findings_are: Judged, signed_file: Callable[..., Path]) -> None:
    findings_are((RULE, Outcome.REFER))
    judge(by(INSPECTOR), SERIAL)
    first = accept_deviation(by(ENGINEER, "it will do"), SERIAL, RULE)
    assert judge(by(INSPECTOR), SERIAL).verdict.word is Word.ACCEPTED_UNDER_DEVIATION
    findings_are((RULE, Outcome.FAIL))
    sign(by(INSPECTOR), signed_file(SERIAL))
    assert judge(by(INSPECTOR), SERIAL).verdict.word is Word.REJECTED
    second = accept_deviation(by(ENGINEER, "it will do"), SERIAL, RULE)  # what is found now, read and accepted
    assert (second.already, second.deviation.number) == (False, "D-2")
    assert second.deviation.seen != first.deviation.seen
    assert judge(by(INSPECTOR), SERIAL).verdict.word is Word.ACCEPTED_UNDER_DEVIATION
