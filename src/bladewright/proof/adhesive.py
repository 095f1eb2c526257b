"""May this roll be used: hours left, shelf life, its lot accepted, warmed before opening, surface above dew point."""

import datetime
from collections.abc import Sequence
from dataclasses import dataclass

from bladewright.drawing.counting_rule import CountingRule
from bladewright.engine.metrology.moist_air import dew_point
from bladewright.evidence.freezer_log import Roll
from bladewright.figures import Figure, Finding, Outcome, Where, counted
from bladewright.proof.comparing import held_to
from bladewright.proof.lot_acceptance import judge_lot
from bladewright.proof.out_time import HOUR, OutTime, out_time
from bladewright.proof.wording import fahrenheit, fahrenheit_steps, ruled

PROOF = "adhesive out-time"
OUT, SHELF, WARM, ROOM, DEW = (
    "adhesive: out-time", "adhesive: shelf life", "adhesive: warmed through", "adhesive: room while out",
    "lay-up: dew point",
)  # fmt: skip
#: what the surface must be warmer than the dew point by (common practice, no source)
DEW_MARGIN = 3.0  # [K]


def judge_roll(
    roll: Roll, rule: CountingRule, now: datetime.datetime, needed: float = 0.0, opened: datetime.datetime | None = None
) -> tuple[Finding, ...]:
    """Every rule on one roll; ``needed`` is what it still takes until the mould is hot [s]."""
    counted_out = out_time(roll, rule, now)
    return (
        out_time_left(roll, rule, counted_out, needed),
        within_shelf_life(roll, rule, now),
        room_was_cool(roll, rule),
        *judge_lot(roll, rule.acceptance, now),
        warmed_through(roll, rule, counted_out, opened or now),
    )


def out_time_left(roll: Roll, rule: CountingRule, counted_out: OutTime, needed: float = 0.0) -> Finding:
    """Hours out, unlogged ones included, and those still needed [s], against the stricter limit."""
    if rule.limit is None:
        return _not_entered(OUT, roll, "the maker's out-time limit")
    if roll.before_receipt is None:
        return _missing(OUT, roll, "Nobody knows how long the roll was out before it came.", "Ask maker and carrier.")
    total = counted_out.counted + needed
    left = rule.limit - counted_out.counted
    outcome = held_to(total, greatest=rule.limit)
    gaps = [trip for trip in counted_out.trips if not trip.logged]
    said = f"Roll {roll.number} was out for {counted_out.logged / HOUR:.1f} h on record"
    said += f" and {counted_out.unlogged / HOUR:.1f} h nobody logged, which count in full" if gaps else ""
    said += f": {counted_out.counted / HOUR:.1f} of {rule.limit / HOUR:.5g} h, "
    said += f"{left / HOUR:.1f} h left" if left >= 0.0 else f"{-left / HOUR:.1f} h over"
    said += f"; {needed / HOUR:.1f} h are still needed." if needed else "."
    if gaps and outcome is Outcome.FAIL and counted_out.logged + needed <= rule.limit:
        said += " Only the hours nobody logged put it over; only a record can take them off."
    return ruled(
        OUT,
        outcome,
        said,
        proof=PROOF,
        worst=Figure(
            "out-time", total / HOUR, "h", method="missing entries counted from the entry before to the entry after",
            source=f"freezer log of roll {roll.number}", validated=bool(rule.source),
        ),
        limit=f"at most {rule.limit / HOUR:.5g} h",
        limit_source=rule.source,
        where=tuple(
            Where(f"freezer log of roll {roll.number}", trip.why, None, trip.start.isoformat(), trip.end.isoformat())
            for trip in gaps
        ),
        deviable=False,
        next_step="Do not use it: expired adhesive is beyond deviation. Take another roll.",
        would_change="a record of where the roll was in the hours nobody logged" if gaps else "",
    )  # fmt: skip


def within_shelf_life(roll: Roll, rule: CountingRule, now: datetime.datetime) -> Finding:
    """The last day the roll may be used, by the date where ``now`` was read."""
    if roll.expires is None:
        return _not_entered(SHELF, roll, "the roll's last day of use")
    days = (roll.expires - now.date()).days
    return ruled(
        SHELF,
        Outcome.PASS if days >= 0 else Outcome.FAIL,
        f"Roll {roll.number} may be used to {roll.expires.isoformat()}: "
        + (f"{counted(days, 'day')} from now." if days >= 0 else f"that was {counted(-days, 'day')} ago."),
        proof=PROOF,
        limit=f"to {roll.expires.isoformat()}",
        limit_source=rule.source,
        where=(Where(f"lot {roll.lot}"),),
        deviable=False,
        next_step="Do not use it: expired adhesive is beyond deviation.",
        would_change="a longer life in writing from the maker, for this lot",
    )


def room_was_cool(roll: Roll, rule: CountingRule) -> Finding:
    """The maker's hours hold for a room up to a temperature; warmer hours are worth more than they count."""
    if rule.maker_warmest is None:
        return _not_entered(ROOM, roll, "the room temperature the maker's limit holds for")
    returns = [entry for entry in roll.entries if entry.move == "in"]
    unknown = sum(entry.warmest is None for entry in returns)
    warm = [entry for entry in returns if entry.warmest is not None and entry.warmest > rule.maker_warmest]
    limit = f"at most {fahrenheit(rule.maker_warmest):.4g} degF"
    if not warm and not unknown:
        outcome, said = Outcome.PASS, f"The room stayed within {fahrenheit(rule.maker_warmest):.4g} degF."
    elif warm:
        warmest = max(entry.warmest or 0.0 for entry in warm)
        outcome = Outcome.REFER
        said = f"{counted(len(warm), 'trip')} in a room of up to {fahrenheit(warmest):.1f} degF: "
        said += "an hour there costs more life than an hour, and the maker's limit does not cover it."
    else:
        outcome, said = Outcome.REFER, f"The room's temperature is not on record for {counted(unknown, 'trip')}."
    return ruled(
        ROOM,
        outcome,
        said,
        proof=PROOF,
        limit=limit,
        limit_source=rule.source,
        where=tuple(
            Where(f"freezer log of roll {roll.number}", "", None, entry.at.isoformat())
            for entry in (warm or [entry for entry in returns if entry.warmest is None])
        ),
        next_step="Ask the maker what those hours cost, or take another roll.",
        would_change="the maker's figure for hours at that temperature, or a record of the room",
    )


def warmed_through(roll: Roll, rule: CountingRule, counted_out: OutTime, opened: datetime.datetime) -> Finding:
    """Sealed at room temperature long enough before the bag was opened: a cold film draws water."""
    if rule.warm_up_least is None:
        return _not_entered(WARM, roll, "the time to warm through before opening")
    least = f"at least {rule.warm_up_least / HOUR:.4g} h"
    if counted_out.since is None:
        return ruled(
            WARM, Outcome.FAIL, f"Roll {roll.number} is in the freezer by its log; it is not warmed through.",
            proof=PROOF, limit=least, limit_source=rule.source, deviable=False,
            where=(Where(f"freezer log of roll {roll.number}"),),
            next_step=f"Take it out sealed and wait {rule.warm_up_least / HOUR:.4g} h.",
            would_change="a log that shows it out for so long",
        )  # fmt: skip
    seconds = (opened - counted_out.since).total_seconds()
    outcome = held_to(seconds, least=rule.warm_up_least)
    wait = (rule.warm_up_least - seconds) / HOUR
    return ruled(
        WARM,
        outcome,
        f"Out and sealed for {seconds / HOUR:.1f} h before opening; {least} are asked.",
        proof=PROOF,
        limit=least,
        limit_source=rule.source,
        where=(Where(f"freezer log of roll {roll.number}", "", None, counted_out.since.isoformat()),),
        deviable=False,
        next_step=f"Leave it sealed for another {wait:.1f} h. Once opened cold, the film may be wet: do not use it.",
        would_change="the time it went out, if the log has it wrong",
    )


def surface_above_dew_point(
    air: float, humidity: float, surface: float, uncertainty: float | None = None, margin: float = DEW_MARGIN
) -> Finding:
    """The coldest surface [K] against the dew point of the air [K, share]; ``uncertainty`` of their difference [K]."""
    dew = dew_point(air, humidity)
    above = surface - dew
    return ruled(
        DEW,
        held_to(above, least=margin, uncertainty=uncertainty),
        f"The coldest surface is {fahrenheit_steps(above):.1f} degF above the dew point of {fahrenheit(dew):.1f} degF; "
        f"{fahrenheit_steps(margin):.3g} degF are asked.",
        proof="lay-up",
        worst=Figure(
            "surface above dew point", fahrenheit_steps(above), "degF",
            None if uncertainty is None else fahrenheit_steps(uncertainty),
            method="Magnus form over water", validity="air of -45 to 60 degC",
            source="WMO Guide to Instruments and Methods of Observation (from memory)",
        ),
        limit=f"at least {fahrenheit_steps(margin):.3g} degF above the dew point",
        limit_source="common practice, no source" if margin == DEW_MARGIN else "entered",
        next_step="Do not lay up: warm the parts or dry the air, and clean again what was wet.",
        would_change="warmer parts or drier air",
    )  # fmt: skip


@dataclass(frozen=True, slots=True)
class Stock:
    """Rolls parted by what may be done with them."""

    usable: tuple[tuple[Roll, float], ...]  # with what is left [s], the first to be used up on top
    expiring: tuple[tuple[Roll, str], ...]  # usable now, and why not for long
    unusable: tuple[tuple[Roll, str], ...]  # and why


def stock(rolls: Sequence[Roll], rule: CountingRule, now: datetime.datetime, days: int, needed: float = 0.0) -> Stock:
    """What is usable now for ``needed`` [s] more, and what expires within some days; missing records are not usable."""
    usable, expiring, unusable = [], [], []
    for roll in rolls:
        counted_out = out_time(roll, rule, now)
        if roll.used_up is not None:
            unusable.append((roll, f"Used up on {roll.used_up.isoformat()}."))
            continue
        against = [
            finding
            for finding in (out_time_left(roll, rule, counted_out, needed), within_shelf_life(roll, rule, now),
                            room_was_cool(roll, rule), *judge_lot(roll, rule.acceptance, now))
            if finding.outcome is not Outcome.PASS
        ]  # fmt: skip
        if against:
            unusable.append((roll, " ".join(finding.sentence for finding in against)))
            continue
        left = (rule.limit or 0.0) - counted_out.counted
        usable.append((roll, left))
        if why := _soon(roll, counted_out, left, now, days):
            expiring.append((roll, why))
    usable.sort(key=lambda one: (one[0].expires or datetime.date.max, one[1]))
    return Stock(tuple(usable), tuple(expiring), tuple(unusable))


def _soon(roll: Roll, counted_out: OutTime, left: float, now: datetime.datetime, days: int) -> str:
    """Why a roll will not be usable after so many days, if it will not."""
    end = now + datetime.timedelta(days=days)
    reasons = []
    if roll.expires is not None and roll.expires < end.date():
        reasons.append(f"shelf life ends {roll.expires.isoformat()}")
    if counted_out.out_now and left < days * 24.0 * HOUR:
        reasons.append(f"out of the freezer now with {left / HOUR:.1f} h left")
    return "; ".join(reasons)


def _not_entered(rule: str, roll: Roll, what: str) -> Finding:
    return _missing(rule, roll, f"Not judged: {what} is not entered.", f"Enter {what} with its source.")


def _missing(rule: str, roll: Roll, said: str, step: str) -> Finding:
    return ruled(
        rule, Outcome.MISSING, said, proof=PROOF, where=(Where(f"roll {roll.number}, lot {roll.lot}"),),
        deviable=False, next_step=step, would_change="the missing entry",
    )  # fmt: skip
