"""Was the freezer watched while a roll lay in it: its own log against what the shop entered about storage."""

import datetime
import itertools
from collections.abc import Sequence
from dataclasses import dataclass

from bladewright.drawing.counting_rule import CountingRule
from bladewright.evidence.freezer_log import Roll, Unlogged
from bladewright.evidence.records import CureLog
from bladewright.figures import Finding, Outcome, Where, clock_text, counted
from bladewright.proof.adhesive import PROOF
from bladewright.proof.freezer import freezer_excursions
from bladewright.proof.mould import HOLE
from bladewright.proof.out_time import HOUR
from bladewright.proof.wording import fahrenheit, ruled

WATCHED = "adhesive: freezer watched"
NOT_ASKED = "The film's file does not say how cold the freezer must be, so its own log is not asked."


@dataclass(frozen=True, slots=True)
class FreezerWatch:
    """What the freezer's own logs tell, all of them together."""

    logged: tuple[tuple[datetime.datetime, datetime.datetime], ...]  # from when to when, in order, joined
    excursions: tuple[Unlogged, ...]  # what they cannot vouch for

    @property
    def until(self) -> datetime.datetime | None:
        """Where the newest log ends."""
        return self.logged[-1][1] if self.logged else None


def freezer_watch(logs: Sequence[CureLog], rule: CountingRule) -> FreezerWatch:
    """The logs of one freezer as one; what lies between two of them was watched by nobody."""
    if rule.storage_warmest is None or rule.storage_interval is None:
        return FreezerWatch((), ())
    found = [one for log in logs for one in freezer_excursions(log, rule.storage_warmest, rule.storage_interval)]
    logged = _joined([_span(log) for log in logs], HOLE * rule.storage_interval)
    found += [
        Unlogged(before[1], after[0], "the freezer's log has a hole") for before, after in itertools.pairwise(logged)
    ]
    return FreezerWatch(tuple(logged), tuple(sorted(found, key=lambda one: one.start)))


def freezer_watched(roll: Roll, rule: CountingRule, watch: FreezerWatch, now: datetime.datetime) -> Finding | None:
    """From the roll's coming to now, as far as logs are read that often; None where nothing is asked."""
    if rule.storage_warmest is None or rule.storage_read_every is None:
        return None
    limit = f"at most {fahrenheit(rule.storage_warmest):.4g} degF, filed every {rule.storage_read_every / HOUR:.4g} h"
    warm = [one for one in watch.excursions if one.end > roll.received and one.start < now]
    if watch.until is None or watch.logged[0][0] > roll.received + datetime.timedelta(seconds=rule.storage_read_every):
        outcome, said = Outcome.MISSING, "The freezer's own log is not on file from the day the roll came."
    elif (now - watch.until).total_seconds() > rule.storage_read_every:
        outcome, said = (
            Outcome.MISSING,
            f"The freezer's own log ends at {clock_text(watch.until.astimezone(now.tzinfo))}.",
        )
    else:
        outcome = Outcome.PASS
        said = f"The freezer's own log vouches for it to {clock_text(watch.until.astimezone(now.tzinfo))}"
        said += (
            f", but for {counted(len(warm), 'stretch')} that count{'s' if len(warm) == 1 else ''} as out."
            if warm
            else "."
        )
    return ruled(
        WATCHED, outcome, said, proof=PROOF, limit=limit, limit_source=rule.source,
        where=tuple(Where("freezer log", one.why, None, one.start.isoformat(), one.end.isoformat()) for one in warm),
        deviable=False, next_step="Take the log from the freezer's logger and file it.",
        would_change="the freezer's log of those days",
    )  # fmt: skip


def _span(log: CureLog) -> tuple[datetime.datetime, datetime.datetime]:
    assert log.start is not None  # a log that only counts seconds was refused before
    return log.start, log.start + datetime.timedelta(seconds=float(log.seconds[-1]))


def _joined(
    spans: Sequence[tuple[datetime.datetime, datetime.datetime]], apart: float
) -> list[tuple[datetime.datetime, datetime.datetime]]:
    """Stretches that touch, or lie no further apart than that [s], as one."""
    found: list[tuple[datetime.datetime, datetime.datetime]] = []
    for start, end in sorted(spans):
        if found and (start - found[-1][1]).total_seconds() <= apart * (1.0 + 1e-9):
            found[-1] = (found[-1][0], max(found[-1][1], end))
        else:
            found.append((start, end))
    return found
