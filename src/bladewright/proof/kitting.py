"""What a kitted roll's label says, and whether it may have one: a roll that may not be used gets none."""

import datetime
from collections.abc import Sequence
from dataclasses import dataclass, replace

from bladewright.drawing.blade import Adhesive
from bladewright.drawing.counting_rule import CountingRule
from bladewright.errors import BadInput, BladewrightError
from bladewright.evidence.freezer_log import Roll, Unlogged
from bladewright.figures import Figure, Finding, Outcome
from bladewright.proof.adhesive import OUT, ROOM, SHELF, Stock
from bladewright.proof.lot_acceptance import NEEDS, acceptance_said, judge_lot
from bladewright.proof.out_time import HOUR, OutTime, out_time

#: what a roll must pass before it is kitted; whether it is warm is asked when the bag is opened
ASKED = (OUT, SHELF, ROOM, *NEEDS)
NOT_USED = "NOT TO BE USED"


class NotToBeUsed(BladewrightError):
    """The roll may not be used, so it gets no label."""

    exit_code = 1


@dataclass(frozen=True, slots=True)
class Kitted:
    """One roll as it is handed to the lay-up."""

    roll: str
    lot: str
    film: str
    as_of: datetime.datetime
    counted: float  # out of the freezer so far [s]
    left: float  # [s]
    hot_by: datetime.datetime | None  # when the mould must be hot at the latest; None: the roll is in the freezer
    expires: datetime.date
    acceptance: str  # of its lot, like "passed 2026-04-08, by whom", or that no test is asked


def rule_for(rule: CountingRule, adhesive: Adhesive | None) -> CountingRule:
    """The counting rule with the drawing's own limit beside the shop's: the stricter of all stands."""
    hours = None if adhesive is None else adhesive.out_time_limit_hours
    if hours is None:
        return rule
    limit = hours * HOUR if rule.shop_limit is None else min(rule.shop_limit, hours * HOUR)
    return rule.model_copy(update={"shop_limit": limit})


def with_freezer(roll: Roll, excursions: Sequence[Unlogged], now: datetime.datetime) -> Roll:
    """The roll with what the freezer's own log cannot vouch for, from when the roll came until now."""
    found = [
        Unlogged(max(one.start, roll.received), min(one.end, now), one.why)
        for one in excursions
        if max(one.start, roll.received) < min(one.end, now)
    ]
    return replace(roll, unlogged=(*roll.unlogged, *found))


def counted_in(roll: Roll, rule: CountingRule, now: datetime.datetime, file: str) -> OutTime:
    """The out-time of one roll among several; a log that cannot be counted says whose it is."""
    try:
        return out_time(roll, rule, now)
    except BadInput as error:
        error.file = file
        raise


def kitted(roll: Roll, rule: CountingRule, findings: Sequence[Finding], now: datetime.datetime) -> Kitted:
    """The label's content; ``NotToBeUsed`` where one of the rules on the roll's life does not pass."""
    # the lot is judged here anew: a caller who leaves its findings out earns no label by it
    judged = {(one.rule, one.sentence): one for one in (*findings, *judge_lot(roll, rule.acceptance, now))}
    against = [one for one in judged.values() if one.rule in ASKED and one.outcome is not Outcome.PASS]
    if against or roll.expires is None or rule.limit is None:
        raise NotToBeUsed(
            f"roll {roll.number} gets no label", field="roll", value=roll.number,
            allowed=f"a roll that passes {OUT}, {SHELF}, {ROOM} and the acceptance test of its lot",
            fix=" ".join(one.sentence for one in against) or "enter its last day of use and the maker's limit",
        )  # fmt: skip
    counted_out = out_time(roll, rule, now)
    left = rule.limit - counted_out.counted
    hot_by = now + datetime.timedelta(seconds=left) if counted_out.out_now else None
    accepted = acceptance_said(roll, rule.acceptance, now)
    return Kitted(roll.number, roll.lot, rule.film, now, counted_out.counted, left, hot_by, roll.expires, accepted)


@dataclass(frozen=True, slots=True)
class StockLine:
    """One roll and what may be done with it."""

    roll: str
    lot: str
    state: str  # "usable", "usable, not for long", "NOT TO BE USED"
    left: Figure | None
    expires: datetime.date | None
    why: str


def stock_lines(found: Stock, rule: CountingRule) -> tuple[StockLine, ...]:
    """The rolls of a stock, the first to be used up on top, those not to be used last."""
    soon = {id(roll): why for roll, why in found.expiring}
    lines = [
        StockLine(
            roll.number, roll.lot, "usable, not for long" if id(roll) in soon else "usable",
            Figure("out-time left", left / HOUR, "h", method="hours nobody logged counted in full",
                   source=f"freezer log of roll {roll.number}", validated=bool(rule.source)),
            roll.expires, soon.get(id(roll), ""),
        )
        for roll, left in found.usable
    ]  # fmt: skip
    return (*lines, *(StockLine(one.number, one.lot, NOT_USED, None, one.expires, why) for one, why in found.unusable))
