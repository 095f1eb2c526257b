"""The whole job of one serial in order: what is done, by whom, what the verdict says of it, and the one next action."""

import datetime
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from enum import StrEnum
from typing import Final

from bladewright.figures import WORST_FIRST, Finding, Outcome, worst_of
from bladewright.proof.records import Verdict, Word
from bladewright.proof.signed import CLOSED
from bladewright.records.acts import Scope
from bladewright.records.hands import may_sign


class Way(StrEnum):
    """How a step of the job is taken at the desk."""

    START = "start"
    BUILD_IN = "build in"
    FILE = "file"
    MAP = "map"
    SIGN = "sign"
    JUDGE = "judge"
    DECIDE = "decide"
    MATCH = "match"
    RELEASE = "release"
    INSTALL = "install"
    CLOSE = "close"
    NOTHING = "nothing"


@dataclass(frozen=True, slots=True)
class Done:
    """One entry that speaks for a step."""

    what: str
    by: str
    at: datetime.datetime
    sha256: str = ""  # of its file, where there is one


@dataclass(frozen=True, slots=True)
class Step:
    """One step: what was entered for it, and what the newest verdict found in it (None: not judged)."""

    name: str
    way: Way
    needs: tuple[Scope, ...]
    done: tuple[Done, ...] = ()
    outcome: Outcome | None = None
    required: bool = True

    @property
    def is_open(self) -> bool:
        """Whether it still has to be done."""
        return self.required and not self.done

    @property
    def before(self) -> int:
        """How many entries there are besides the newest."""
        return len(self.done) - 1


@dataclass(frozen=True, slots=True)
class NextAction:
    """The one thing to do next, why, and what somebody must be authorised for to do it."""

    told: str
    why: str
    way: Way
    needs: tuple[Scope, ...]
    about: str = ""  # the proof, the rule or the set it is about


@dataclass(frozen=True, slots=True)
class Standing:
    """Where a serial stands, as the book has it: what ``steps_of`` and ``next_action`` look at."""

    proofs: Sequence[str]  # required by the drawing, in its order
    done: Mapping[str, tuple[Done, ...]]  # by proof
    started: Done
    lots: tuple[Done, ...] = ()
    judged: Done | None = None
    verdict: Verdict | None = None
    since: tuple[str, ...] = ()  # what was entered since the verdict
    set_name: str = ""
    matched: Done | None = None
    signed_out: Done | None = None
    installed: Done | None = None


#: proofs that come from files; the others are signed
_FILED: Final[dict[str, tuple[Way, tuple[Scope, ...]]]] = {
    "cure": (Way.FILE, (Scope.CURE,)),
    "coupon": (Way.FILE, (Scope.INSPECT,)),
    "dimensions": (Way.FILE, (Scope.INSPECT,)),
    "weighing": (Way.FILE, (Scope.INSPECT, Scope.MAKE)),
    "void map": (Way.MAP, (Scope.INSPECT,)),
}
JUDGED, MATCHED, SIGNED_OUT, INSTALLED = "judged", "matched into a set", "signed out", "on an aircraft"


def steps_of(stands: Standing) -> tuple[Step, ...]:
    """Every step in order."""
    steps = [
        Step("started", Way.START, (Scope.MAKE,), (stands.started,)),
        Step("lots built in", Way.BUILD_IN, (Scope.MAKE,), stands.lots, required=False),
    ]
    for proof in (*stands.proofs, *(other for other in stands.done if other not in stands.proofs)):
        way, needs = _FILED.get(proof, (Way.SIGN, may_sign(proof)))
        done = stands.done.get(proof, ())
        steps.append(Step(proof, way, needs, done, _found(stands.verdict, proof), proof in stands.proofs))
    judged = () if stands.judged is None or stands.since else (stands.judged,)
    steps += [
        Step(JUDGED, Way.JUDGE, (Scope.INSPECT,), judged),
        Step(MATCHED, Way.MATCH, (Scope.MATCH,), _one(stands.matched)),
        Step(SIGNED_OUT, Way.RELEASE, (Scope.RELEASE,), _one(stands.signed_out)),
        Step(INSTALLED, Way.INSTALL, (Scope.RELEASE,), _one(stands.installed), required=False),
    ]
    return tuple(steps)


def next_action(stands: Standing, steps: Sequence[Step]) -> NextAction:
    """What stops the blade first: a verdict against it, a proof that is missing, a judgement that is due, a mate."""
    if CLOSED in stands.done:
        why = "The blade was mutilated before a witness, who signed that its serial is closed."
        return NextAction("Nothing is left to do: its serial is closed.", why, Way.NOTHING, ())
    if stands.signed_out:
        return _after_release(stands)
    verdict, current = stands.verdict, stands.verdict is not None and not stands.since
    if current and verdict is not None and verdict.word in (Word.REJECTED, Word.HELD):
        return _decide(verdict)
    proofs = [step for step in steps if step.way in (Way.FILE, Way.MAP, Way.SIGN) and step.is_open]
    if proofs:
        return _get(proofs)
    if not current or verdict is None:
        why = f"Entered since the verdict: {', '.join(stands.since)}." if verdict else "Every proof is on file."
        return NextAction("Judge the blade.", why, Way.JUDGE, (Scope.INSPECT,))
    if verdict.word is Word.INCOMPLETE:
        return _decide(verdict)
    if not stands.set_name:
        return NextAction(verdict.next_step, verdict.first_reason, Way.MATCH, (Scope.MATCH,))
    why = f"It is in set {stands.set_name}, which is not released yet."
    return NextAction("Sign the set out.", why, Way.RELEASE, (Scope.RELEASE,), stands.set_name)


def _after_release(stands: Standing) -> NextAction:
    if stands.installed:
        why = f"{stands.installed.what}."
        return NextAction("Nothing in the shop.", why, Way.NOTHING, (), stands.set_name)
    told = "Enter which aircraft the set goes on."
    why = "It is signed out and on no aircraft: where it flies is what a recall asks."
    return NextAction(told, why, Way.INSTALL, (Scope.RELEASE,), stands.set_name)


def _get(proofs: Sequence[Step]) -> NextAction:
    """The first proof that is missing; the last look comes when all else is there."""
    first = proofs[0]
    others = [step.name for step in proofs[1:]]
    why = f"Not on file yet: {first.name}" + (f", then {', '.join(others)}." if others else ", and nothing else.")
    verb = {Way.SIGN: "Sign the", Way.MAP: "Enter the", Way.FILE: "File the"}[first.way]
    return NextAction(f"{verb} {first.name}.", why, first.way, first.needs, first.name)


def _decide(verdict: Verdict) -> NextAction:
    """What the verdict asks for: a decision where somebody may accept the finding, an inspector's work where not."""
    finding = _first(verdict)
    may_be_accepted = finding is not None and finding.deviable and finding.outcome is not Outcome.MISSING
    needs = (Scope.DESIGN,) if may_be_accepted else (Scope.INSPECT,)
    rule = finding.rule if finding else ""
    way = Way.DECIDE if may_be_accepted or verdict.word is not Word.REJECTED else Way.CLOSE
    return NextAction(verdict.next_step, verdict.first_reason, way, needs, rule)


def _first(verdict: Verdict) -> Finding | None:
    """The finding the verdict's first reason comes from."""
    covered = {deviation.rule for deviation in verdict.deviations}
    open_ = [f for f in verdict.findings if f.outcome is not Outcome.PASS and f.rule not in covered]
    return min(open_, key=lambda finding: WORST_FIRST.index(finding.outcome), default=None)


def _found(verdict: Verdict | None, proof: str) -> Outcome | None:
    found: list[Finding] = [f for f in verdict.findings if f.proof == proof] if verdict else []
    return worst_of(found) if found else None


def _one(done: Done | None) -> tuple[Done, ...]:
    return () if done is None else (replace(done),)
