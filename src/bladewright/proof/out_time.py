"""Hours a roll of film adhesive has been out of the freezer, by the least kind reading of its log.

What nobody logged counts as out. The shop's counting rule may be stricter than the maker's limit and never kinder.
Hours are kept in seconds; times are handed in and carry their offset from UTC.
"""

import datetime
import itertools
from collections.abc import Sequence
from dataclasses import dataclass

from bladewright.drawing.counting_rule import CountingRule
from bladewright.errors import BadInput
from bladewright.evidence.freezer_log import Roll, Unlogged

#: seconds in an hour
HOUR = 3600.0


@dataclass(frozen=True, slots=True)
class Trip:
    """One stretch that counts."""

    start: datetime.datetime
    end: datetime.datetime
    counted: float  # [s]
    logged: bool  # False: worst case, because an entry is missing
    why: str = ""


@dataclass(frozen=True, slots=True)
class OutTime:
    """What has been counted up to a moment."""

    trips: tuple[Trip, ...]
    before_receipt: float  # [s]
    out_now: bool
    since: datetime.datetime | None  # when the roll went out, if it is out

    @property
    def counted(self) -> float:
        """Everything that counts. [s]"""
        return self.before_receipt + sum(trip.counted for trip in self.trips)

    @property
    def logged(self) -> float:
        """What is on record both ends. [s]"""
        return self.before_receipt + sum(trip.counted for trip in self.trips if trip.logged)

    @property
    def unlogged(self) -> float:
        """What counts because nobody logged it. [s]"""
        return sum(trip.counted for trip in self.trips if not trip.logged)


def out_time(roll: Roll, rule: CountingRule, now: datetime.datetime) -> OutTime:
    """Out-time up to ``now``, a missing entry counted from the entry before to the entry after."""
    _in_order(roll, now)
    trips: list[Trip] = []
    inside_since: datetime.datetime | None = roll.received
    out_since: datetime.datetime | None = None
    for entry in roll.entries:
        if entry.move == "out":
            if out_since is not None:
                trips.append(_trip(out_since, entry.at, 0.0, "no return was logged"))
            out_since, inside_since = entry.at, None
        else:
            if out_since is not None:
                trips.append(_trip(out_since, entry.at, rule.free))
            elif inside_since is not None:
                trips.append(_trip(inside_since, entry.at, 0.0, "no leaving was logged"))
            out_since, inside_since = None, entry.at
    if out_since is not None and out_since < now:
        trips.append(_trip(out_since, now, rule.free))
    trips += _in_the_gaps(roll.unlogged, trips)
    known = roll.before_receipt or 0.0
    return OutTime(tuple(sorted(trips, key=lambda trip: trip.start)), known, out_since is not None, out_since)


def _trip(start: datetime.datetime, end: datetime.datetime, free: float, missing: str = "") -> Trip:
    seconds = (end - start).total_seconds()
    return Trip(start, end, max(0.0, seconds - free), not missing, missing)


def _in_the_gaps(unlogged: Sequence[Unlogged], trips: Sequence[Trip]) -> list[Trip]:
    """Unlogged stretches as trips, less what is counted already; two that overlap count once."""
    taken = [(trip.start, trip.end) for trip in trips]
    found = []
    for stretch in sorted(unlogged, key=lambda one: one.start):
        free = [(stretch.start, stretch.end)]
        for start, end in taken:
            free = [part for left, right in free for part in ((left, min(right, start)), (max(left, end), right))
                    if part[0] < part[1]]  # fmt: skip
        found += [_trip(left, right, 0.0, stretch.why) for left, right in free]
        taken += free
    return found


def _in_order(roll: Roll, now: datetime.datetime) -> None:
    """Times with a zone, each after the one before, none in the future: a log that is not cannot be counted."""
    times = [("received", roll.received), *((f"entries.{n}", e.at) for n, e in enumerate(roll.entries, 1))]
    times.append(("now", now))
    for field, moment in times:
        if moment.tzinfo is None:
            raise BadInput("has no zone", field=field, value=moment.isoformat(), allowed="a time with its offset")
    for (_, earlier), (field, later) in itertools.pairwise(times):
        if later < earlier:
            raise BadInput(
                "stands before the entry before it", field=field, value=later.isoformat(),
                allowed=f"at least {earlier.isoformat()}", fix="put the freezer log in order; do not guess a time",
            )  # fmt: skip
    for number, gap in enumerate(roll.unlogged, 1):
        if gap.start.tzinfo is None or gap.end.tzinfo is None or not gap.start < gap.end <= now:
            raise BadInput(
                "is not a stretch of time", field=f"unlogged.{number}",
                value=f"{gap.start.isoformat()} to {gap.end.isoformat()}",
                allowed="start before end, neither in the future",
            )  # fmt: skip
