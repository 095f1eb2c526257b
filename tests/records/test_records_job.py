"""The job of one serial, told from where it stands: what is open, what comes next and who may do it. No book needed."""

import dataclasses
import datetime

import pytest

from bladewright.figures import Finding, Outcome
from bladewright.proof.records import Deviation, Verdict, Word
from bladewright.records.acts import Scope
from bladewright.records.job import Done, NextAction, Standing, Way, next_action, steps_of

pytestmark = pytest.mark.book

AT = datetime.datetime(2026, 5, 4, 8, tzinfo=datetime.UTC)
PROOFS = ("lay-up", "cure", "void map", "final inspection")


def done(what: str) -> Done:
    return Done(what, "R. Vane", AT)


def verdict(word: Word, *findings: Finding, deviations: tuple[Deviation, ...] = ()) -> Verdict:
    return Verdict("B-1", word, findings, (), deviations, "why", "do this", "0" * 64, (), "test")


def finding(rule: str, outcome: Outcome, proof: str = "cure", *, deviable: bool = True) -> Finding:
    return Finding(rule, outcome, f"{rule}: {outcome}", proof, deviable=deviable)


def standing(*there: str, **more: object) -> Standing:
    plain = Standing(PROOFS, {proof: (done(proof),) for proof in there}, done("started"))
    return dataclasses.replace(plain, **more)  # type: ignore[arg-type]


def after(stands: Standing) -> NextAction:
    return next_action(stands, steps_of(stands))


def judged(word: Word, *findings: Finding, **more: object) -> Standing:
    return standing(*PROOFS, judged=done(word.value), verdict=verdict(word, *findings), **more)


def test_the_drawing_order_is_the_order_of_the_job() -> None:
    assert [step.name for step in steps_of(standing())] == [
        *("started", "lots built in", *PROOFS),
        *("judged", "matched into a set", "signed out", "on an aircraft"),
    ]


@pytest.mark.parametrize(
    ("there", "way", "about", "needs"),
    [
        ((), Way.SIGN, "lay-up", (Scope.BOND,)),
        (("lay-up",), Way.FILE, "cure", (Scope.CURE,)),
        (("lay-up", "cure"), Way.MAP, "void map", (Scope.INSPECT,)),
        (("lay-up", "cure", "void map"), Way.SIGN, "final inspection", (Scope.LOOK_LAST,)),
        (PROOFS, Way.JUDGE, "", (Scope.INSPECT,)),
    ],
)
def test_the_first_thing_missing_is_next(there: tuple[str, ...], way: Way, about: str, needs: tuple[Scope]) -> None:
    found = after(standing(*there))
    assert (found.way, found.about, found.needs) == (way, about, needs)


def test_a_verdict_against_the_blade_comes_before_what_is_missing() -> None:
    bad = finding("cure: dwell", Outcome.FAIL)
    found = after(standing("cure", judged=done("rejected"), verdict=verdict(Word.REJECTED, bad)))
    assert (found.way, found.about, found.needs, found.told) == (Way.DECIDE, "cure: dwell", (Scope.DESIGN,), "do this")


def test_what_nobody_may_accept_is_not_put_to_design_authority() -> None:
    bad = finding("coupon: adhesion failure", Outcome.FAIL, deviable=False)
    found = after(judged(Word.REJECTED, bad))
    assert (found.way, found.needs) == (Way.CLOSE, (Scope.INSPECT,))


def test_nothing_is_left_once_the_serial_is_closed() -> None:
    bad = finding("coupon: adhesion failure", Outcome.FAIL, deviable=False)
    closed = dataclasses.replace(judged(Word.REJECTED, bad), done={"serial closed": (done("closed"),)})
    assert after(closed).way is Way.NOTHING


def test_a_verdict_that_is_out_of_date_is_no_ground() -> None:
    bad = finding("cure: dwell", Outcome.FAIL)
    found = after(judged(Word.REJECTED, bad, since=("weighing",)))
    assert found.way is Way.JUDGE
    assert "weighing" in found.why


def test_an_accepted_blade_waits_for_a_mate_then_its_release_then_an_aircraft() -> None:
    good = finding("cure: dwell", Outcome.PASS)
    assert after(judged(Word.ACCEPTED, good)).way is Way.MATCH
    matched = judged(Word.ACCEPTED, good, set_name="S-1", matched=done("set S-1"))
    assert (after(matched).way, after(matched).about) == (Way.RELEASE, "S-1")
    out = dataclasses.replace(matched, signed_out=done("set S-1"))
    assert after(out).way is Way.INSTALL
    flying = dataclasses.replace(out, installed=done("on X-AAAA"))
    assert (after(flying).way, after(flying).needs) == (Way.NOTHING, ())


def test_a_step_shows_the_worst_the_verdict_found_in_its_proof() -> None:
    stands = judged(
        Word.HELD, finding("a", Outcome.PASS), finding("b", Outcome.REFER), finding("c", Outcome.PASS, "void map")
    )
    found = {step.name: step.outcome for step in steps_of(stands)}
    assert (found["cure"], found["void map"], found["lay-up"]) == (Outcome.REFER, Outcome.PASS, None)


def test_a_proof_on_file_that_the_drawing_does_not_ask_for_is_shown() -> None:
    steps = {step.name: step for step in steps_of(standing("pressure"))}
    assert not steps["pressure"].required
    assert steps["pressure"].needs == (Scope.CURE,)


def test_a_finding_under_a_deviation_is_not_what_comes_first() -> None:
    one, two = finding("a", Outcome.FAIL), finding("b", Outcome.REFER)
    given = Deviation("D-1", "B-1", "a", "E. Margin", AT.date(), "why")
    stands = standing(*PROOFS, judged=done("held"), verdict=verdict(Word.HELD, one, two, deviations=(given,)))
    assert after(stands).about == "b"
