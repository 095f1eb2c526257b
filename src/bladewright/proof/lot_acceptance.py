"""May this lot of adhesive be used at all: its acceptance test against the limits the shop entered.

Every test of the lot on file is judged and the worst stands: a later good one takes no earlier bad one back.
A test speaks for the pieces torn, not for every metre of film and not for how long a bond lasts.
"""

import datetime
from collections.abc import Sequence

from bladewright import units
from bladewright.drawing.acceptance_limits import AcceptanceLimits
from bladewright.evidence.acceptance_test import AcceptanceTest, TestPiece
from bladewright.evidence.freezer_log import Roll
from bladewright.figures import Figure, Finding, Outcome, Where, counted, worst_of
from bladewright.proof.comparing import held_to
from bladewright.proof.wording import ruled

PROOF = "adhesive lot"
TESTED, DATED, SIGNED = "lot: acceptance test", "lot: tested before use", "lot: signed"
PIECES, MEAN, LOWEST = "lot: coupons", "lot: mean", "lot: lowest"
ADHESION, VOID = "lot: adhesion failure", "lot: void"
#: every rule of this page -> what it waits for, by the names it is entered under
NEEDS = {
    TESTED: ("acceptance",),
    DATED: ("acceptance.date",),
    SIGNED: ("acceptance.signed_by",),
    PIECES: ("acceptance.shear", "acceptance.peel"),
    MEAN: ("acceptance.shear", "acceptance.peel"),
    LOWEST: ("acceptance.shear", "acceptance.peel"),
    ADHESION: ("acceptance.shear.modes", "acceptance.peel.modes"),
    VOID: ("acceptance.shear.modes", "acceptance.peel.modes"),
}
NOT_ASKED = "The film's file asks for no acceptance test of its lots."
_NEXT = {
    Outcome.PASS: "",
    Outcome.REFER: "Keep the lot apart until a person with authority decides.",
    Outcome.MISSING: "Do not use the lot until that is on file.",
    Outcome.FAIL: "Do not use any roll of the lot; keep it apart and ask its maker.",
}
_UNITS = {"shear": ("MPa", "pressure"), "peel": ("lbf/in", "force per width")}


def judge_lot(roll: Roll, limits: AcceptanceLimits | None, now: datetime.datetime) -> tuple[Finding, ...]:
    """Every rule on every test of the roll's lot; nothing where no test is asked."""
    if limits is None:
        return ()
    tests = [test for test in roll.acceptance if test.lot == roll.lot]
    if not tests:
        others = sorted({test.lot for test in roll.acceptance})
        said = f"No acceptance test of lot {roll.lot} is on file"
        said += f"; that of lot {', '.join(others)} does not speak for it." if others else "."
        return (_ruled(TESTED, Outcome.MISSING, said, roll.lot, limits, change="the lot's own test"),)
    return tuple(finding for test in tests for finding in _judge(test, roll, limits, now))


def acceptance_said(roll: Roll, limits: AcceptanceLimits | None, now: datetime.datetime) -> str:
    """The lot's standing in a line, as the label prints it."""
    if limits is None:
        return "no test asked"
    outcome = worst_of(judge_lot(roll, limits, now))
    tests = [test for test in roll.acceptance if test.lot == roll.lot]
    if outcome is not Outcome.PASS:
        return f"NOT ACCEPTED ({outcome.value})"
    last = max(tests, key=lambda test: test.date)
    return f"passed on {last.date.isoformat()}, signed by {last.signed_by}"


def _judge(test: AcceptanceTest, roll: Roll, limits: AcceptanceLimits, now: datetime.datetime) -> tuple[Finding, ...]:
    findings = [_dated(test, roll, limits, now), _signed(test, limits)]
    asked = [("shear", test.shear, limits.shear_mean_least, limits.shear_single_least)]
    if limits.peel_mean_least is not None:
        asked.append(("peel", test.peel, limits.peel_mean_least, limits.peel_single_least or 0.0))
    for kind, pieces, mean, single in asked:
        findings.append(_enough(test, kind, pieces, limits))
        if pieces:
            values = [piece.value for piece in pieces]
            findings.append(_value(MEAN, "mean", test, kind, sum(values) / len(values), mean, limits))
        if pieces and single > 0.0:
            findings.append(_value(LOWEST, "lowest", test, kind, min(values), single, limits))
    torn = (*test.shear, *test.peel)  # a kind nobody asked for may still show a bond that let go
    if torn:
        findings.append(_share(ADHESION, test, [piece.adhesion for piece in torn], limits.adhesion_greatest, limits))
    if torn and limits.void_greatest is not None:
        findings.append(_share(VOID, test, [piece.void for piece in torn], limits.void_greatest, limits))
    return tuple(findings)


def _dated(test: AcceptanceTest, roll: Roll, limits: AcceptanceLimits, now: datetime.datetime) -> Finding:
    """Before the lot's first use; within one day nothing says which came first."""
    day, used = test.date.isoformat(), roll.first_used
    if test.date > now.date():
        outcome, said = Outcome.MISSING, f"The test of lot {test.lot} is dated {day}, which is still to come."
    elif used is None:
        outcome, said = Outcome.PASS, f"Lot {test.lot} was tested on {day}; no use of it is on file."
    else:
        said = f"Lot {test.lot} was tested on {day} and first used on {used.isoformat()}"
        outcome = Outcome.PASS if test.date < used else Outcome.REFER if test.date == used else Outcome.FAIL
        said += ": nothing says which came first." if outcome is Outcome.REFER else "."
    return _ruled(
        DATED, outcome, said, test.lot, limits, limit="before the lot's first use",
        change="a record that shows the order" if outcome is Outcome.REFER else "the date, if the file has it wrong",
    )  # fmt: skip


def _signed(test: AcceptanceTest, limits: AcceptanceLimits) -> Finding:
    outcome = Outcome.PASS if test.signed_by else Outcome.MISSING
    said = f"Signed by {test.signed_by}." if test.signed_by else f"Nobody signed the test of lot {test.lot}."
    return _ruled(SIGNED, outcome, said, test.lot, limits, limit="a named person", change="the name of who tore it")


def _enough(test: AcceptanceTest, kind: str, pieces: Sequence[TestPiece], limits: AcceptanceLimits) -> Finding:
    """A coupon that is asked and was not torn is a missing record, whatever the others bore."""
    outcome = Outcome.PASS if len(pieces) >= limits.coupons_least else Outcome.MISSING
    return _ruled(
        PIECES, outcome,
        f"{counted(len(pieces), f'{kind} coupon')} of lot {test.lot} torn; {limits.coupons_least} are asked.",
        test.lot, limits, limit=f"at least {limits.coupons_least} of {kind}", change="the coupons not torn yet",
    )  # fmt: skip


def _value(
    rule: str, which: str, test: AcceptanceTest, kind: str, value: float, least: float, limits: AcceptanceLimits
) -> Finding:
    """A strength [Pa] or a peel [N/m] against the least that is asked."""
    unit, dimension = _UNITS[kind]
    spread = None if limits.uncertainty is None else limits.uncertainty * value
    shown, asked = (units.from_si(one, unit, dimension) for one in (value, least))
    outcome = held_to(value, least=least, uncertainty=spread)
    figure = Figure(
        f"{which} {kind}", shown, unit, None if spread is None else shown * (limits.uncertainty or 0.0),
        method="of the coupons of one test", source=f"acceptance test of lot {test.lot}, {test.date.isoformat()}",
        validated=bool(limits.source),
    )  # fmt: skip
    return _ruled(
        rule, outcome,
        f"The {which} {kind} of lot {test.lot} is {shown:.4g} {unit}; at least {asked:.4g} {unit} are asked.",
        test.lot, limits, limit=f"at least {asked:.4g} {unit}", worst=figure,
        change="values known more closely" if outcome is Outcome.REFER else "nothing: no later test undoes it",
    )  # fmt: skip


def _share(
    rule: str, test: AcceptanceTest, shares: Sequence[float | None], greatest: float, limits: AcceptanceLimits
) -> Finding:
    """The worst coupon's share; adhesion failure within a limit above nothing is still for a person."""
    known = [share for share in shares if share is not None]
    worst = max(known, default=0.0)
    outcome = held_to(worst, greatest=greatest)
    if rule == ADHESION and worst > 0.0 and outcome is Outcome.PASS:
        outcome = Outcome.REFER
    name = rule.removeprefix("lot: ")
    said = f"At most {100.0 * worst:.3g} % {name} on a coupon of lot {test.lot}; {100.0 * greatest:.3g} % is allowed."
    if rule == ADHESION and worst > 0.0:
        said += " Adhesion failure at any load stops the line."
    if unread := len(shares) - len(known):
        said += f" Nobody read how {counted(unread, 'coupon')} broke."
        outcome = Outcome.FAIL if outcome is Outcome.FAIL else Outcome.MISSING
    figure = Figure(
        name, 100.0 * worst, "%", method="the worst coupon of one test, its worse face",
        source=f"acceptance test of lot {test.lot}, {test.date.isoformat()}", validated=bool(limits.source),
    )  # fmt: skip
    return _ruled(
        rule, outcome, said, test.lot, limits, limit=f"at most {100.0 * greatest:.3g} %", worst=figure,
        change="a reading of every face" if outcome is Outcome.MISSING else "nothing: no later test undoes it",
    )  # fmt: skip


def _ruled(
    rule: str, outcome: Outcome, said: str, lot: str, limits: AcceptanceLimits, *, change: str, limit: str = "",
    worst: Figure | None = None,
) -> Finding:  # fmt: skip
    return ruled(
        rule, outcome, said, proof=PROOF, limit=limit, limit_source=limits.source, worst=worst,
        where=(Where(f"acceptance test, lot {lot}"),), deviable=False, next_step=_NEXT[outcome], would_change=change,
    )  # fmt: skip
