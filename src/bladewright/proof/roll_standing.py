"""How one roll of film stands: may it be used, how many hours are left, what ends it first, and when."""

import datetime
from collections.abc import Sequence
from dataclasses import dataclass, replace

from bladewright.drawing.counting_rule import CountingRule
from bladewright.errors import BladewrightError
from bladewright.evidence.freezer_log import Roll
from bladewright.figures import WORST_FIRST, Answered, Figure, Finding, Missing, Outcome
from bladewright.proof.adhesive import WARM, judge_roll
from bladewright.proof.adhesive_answer import may_be_used
from bladewright.proof.dues import AHEAD
from bladewright.proof.freezer_watch import FreezerWatch, freezer_watched
from bladewright.proof.kitting import NOT_USED, with_freezer
from bladewright.proof.out_time import HOUR, OutTime, out_time

USABLE, NOT_FOR_LONG, USED_UP = "usable", "usable, not for long", "used up"
NO_RULE = "No counting rule of this film is on file, so nobody can say how many hours it may be out."
BY_HOURS, BY_DATE = "out-time", "shelf life"


@dataclass(frozen=True, slots=True)
class RollStanding:
    """One roll at one moment."""

    roll: str
    lot: str
    state: str  # one of the four words above
    why: str
    counted: Figure | None  # out of the freezer so far; None where it cannot be counted
    left: Figure | None
    limit: Figure | None
    out_since: datetime.datetime | None  # None: in the freezer, by its log
    ends: datetime.datetime | None  # None: not known, or over
    ended_by: str  # "out-time" or "shelf life"; "" where nobody knows
    findings: tuple[Finding, ...]
    answer: Answered | None

    @property
    def against(self) -> tuple[Finding, ...]:
        """The findings that do not pass, the worst on top."""
        found = [one for one in self.findings if one.outcome is not Outcome.PASS]
        return tuple(sorted(found, key=lambda one: WORST_FIRST.index(one.outcome)))

    @property
    def passed(self) -> tuple[Finding, ...]:
        """The findings that pass."""
        return tuple(one for one in self.findings if one.outcome is Outcome.PASS)

    @property
    def usable(self) -> bool:
        """Whether a person may take it, as far as its records tell."""
        return self.state in (USABLE, NOT_FOR_LONG)


def roll_standing(
    roll: Roll, rule: CountingRule | None, watch: FreezerWatch, now: datetime.datetime, days: int = AHEAD
) -> RollStanding:
    """Every rule on one roll at ``now`` by the shop's clock; what cannot be counted may not be used."""
    if roll.used_up is not None and roll.used_up <= now.date():
        why = f"Used up on {roll.used_up.isoformat()}."
        return replace(not_to_be_used(roll.number, roll.lot, why), state=USED_UP)
    if rule is None:
        return not_to_be_used(roll.number, roll.lot, NO_RULE)
    try:
        whole = with_freezer(roll, watch.excursions, now)
        counted = out_time(whole, rule, now)
        answer = may_be_used(whole, rule, now)
        findings = judge_roll(whole, rule, now)
    except BladewrightError as error:
        why = f"Its log cannot be counted: {error.field or 'log'} {error.what}."
        return not_to_be_used(roll.number, roll.lot, why)
    watched = freezer_watched(roll, rule, watch, now)
    findings = (*findings, *((watched,) if watched else ()))
    against = [one for one in findings if one.rule != WARM and one.outcome is not Outcome.PASS]
    left = None if rule.limit is None else rule.limit - counted.counted
    ends, ended_by = _end(roll, counted, left, now)
    if watched is not None and watched.outcome is not Outcome.PASS and answer.told.startswith("Yes"):
        answer = Answered(
            answer.question, f"Not while this is missing. {watched.sentence} {watched.next_step}", answer.figures,
            (*answer.missing, Missing(watched.rule, ("freezer log",))),
        )  # fmt: skip
    soon = ends is not None and ends <= now + datetime.timedelta(days=days)
    why = " ".join(one.sentence for one in against)
    return RollStanding(
        roll.number, roll.lot, NOT_USED if against else NOT_FOR_LONG if soon else USABLE, why,
        _hours("out of the freezer", counted.counted, roll, rule),
        None if left is None else _hours("out-time left", left, roll, rule),
        None if rule.limit is None else _hours("out-time limit", rule.limit, roll, rule),
        counted.since, None if against else ends, ended_by, findings, answer,
    )  # fmt: skip


def in_order_of_use(standings: Sequence[RollStanding]) -> tuple[RollStanding, ...]:
    """The roll to use up first on top, those not to be used last."""
    last = datetime.datetime.max.replace(tzinfo=datetime.UTC)
    words = (USABLE, NOT_FOR_LONG, NOT_USED, USED_UP)

    def place(one: RollStanding) -> tuple[int, datetime.datetime, str]:
        return (0 if one.usable else words.index(one.state), one.ends or last, one.roll)

    return tuple(sorted(standings, key=place))


def _end(
    roll: Roll, counted: OutTime, left: float | None, now: datetime.datetime
) -> tuple[datetime.datetime | None, str]:
    """What ends the roll first if nobody moves it: the clock of a roll that is out, else the calendar."""
    ends: list[tuple[datetime.datetime, str]] = []
    if roll.expires is not None:
        midnight = datetime.datetime.combine(roll.expires + datetime.timedelta(days=1), datetime.time())
        ends.append((midnight.replace(tzinfo=now.tzinfo), BY_DATE))
    if counted.out_now and left is not None:
        ends.append((now + datetime.timedelta(seconds=left), BY_HOURS))
    return min(ends, default=(None, ""), key=lambda end: end[0])


def _hours(name: str, seconds: float, roll: Roll, rule: CountingRule) -> Figure:
    return Figure(
        name, seconds / HOUR, "h", method="hours nobody logged counted in full",
        source=f"freezer log of roll {roll.number}", validated=bool(rule.source),
    )  # fmt: skip


def not_to_be_used(roll: str, lot: str, why: str) -> RollStanding:
    """A roll of which too little is known to count its hours."""
    return RollStanding(roll, lot, NOT_USED, why, None, None, None, None, None, "", (), None)
