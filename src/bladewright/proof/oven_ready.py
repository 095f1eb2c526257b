"""May the oven be used today: zone survey, sensor checks and calibrations, none of them overdue, all of them good.

Borrowed practice, in the style of published pyrometry practice (SAE AMS 2750, from memory), not a claim to meet it:
what is due when, and how far apart sensors may read, are the shop's entries.
"""

import datetime
import zoneinfo
from collections.abc import Sequence

from bladewright.evidence.calibration import Calibration
from bladewright.evidence.oven_file import Oven, SensorCheck
from bladewright.evidence.records import CureLog
from bladewright.figures import Figure, Finding, Outcome, Where, counted
from bladewright.proof.comparing import held_to
from bladewright.proof.wording import fahrenheit_steps, ruled

PROOF = "oven"
SURVEY, CHECKED, AGREES, CALIBRATED = (
    "oven: zone survey", "oven: sensor checks", "oven: sensor beside check sensor", "oven: calibrations",
)  # fmt: skip
PRACTICE = "borrowed practice, in the style of published pyrometry practice (SAE AMS 2750, from memory)"


def oven_ready(
    oven: Oven, channels: Sequence[str], day: datetime.date, calibrations: Sequence[Calibration] = ()
) -> tuple[Finding, ...]:
    """Every rule on the oven for a day; ``channels`` are the mould sensors a cure will be judged by."""
    found = [survey_holds(oven, day), checks_hold(oven, channels, day), sensors_agree(oven, channels, day)]
    return (*found, calibrations_hold_on(channels, day, calibrations))


def oven_was_ready(log: CureLog, oven: Oven, calibrations: Sequence[Calibration] = ()) -> tuple[Finding, ...]:
    """Every rule on the oven for the day a run ended, by the shop's clock, and the mould sensors of its log."""
    channels = [log.channels[column].name for column in log.with_role("mould")]
    if log.start is None:
        said = "The log has no clock, so nothing can be shown to have held on its day."
        return (_due(SURVEY, log.source.file, Outcome.MISSING, said),)
    end = log.start + datetime.timedelta(seconds=float(log.seconds[-1]))
    return oven_ready(oven, channels, end.astimezone(zoneinfo.ZoneInfo(log.zone)).date(), calibrations)


def survey_holds(oven: Oven, day: datetime.date) -> Finding:
    """The newest zone survey before the day passed, and is not overdue."""
    known = sorted((one for one in oven.surveys if one.done_on <= day), key=lambda one: one.done_on)
    if not known:
        return _due(SURVEY, oven.source.file, Outcome.MISSING, "No zone survey of this oven is entered.")
    newest = known[-1]
    late = (day - newest.due).days
    if not newest.passed:
        said = f"The newest survey, of {newest.done_on.isoformat()}, did not pass."
        return _due(SURVEY, oven.source.file, Outcome.FAIL, said)
    said = f"Surveyed on {newest.done_on.isoformat()} by {newest.by}, "
    said += f"overdue by {counted(late, 'day')}." if late > 0 else f"due again by {newest.due.isoformat()}."
    return _due(SURVEY, oven.source.file, Outcome.FAIL if late > 0 else Outcome.PASS, said)


def checks_hold(oven: Oven, channels: Sequence[str], day: datetime.date) -> Finding:
    """Every mould sensor was checked, and no check is overdue."""
    newest = {channel: _newest(oven, channel, day) for channel in channels}
    never = [channel for channel, check in newest.items() if check is None]
    late = [channel for channel, check in newest.items() if check is not None and check.due < day]
    return _all_hold(CHECKED, oven.source.file, "checked", channels, never, late)


def sensors_agree(oven: Oven, channels: Sequence[str], day: datetime.date) -> Finding:
    """The newest check of each mould sensor: the furthest from the check sensor, against the entered limit."""
    checks = [check for channel in channels if (check := _newest(oven, channel, day)) is not None]
    if not checks:
        return _due(
            AGREES, oven.source.file, Outcome.MISSING, "No sensor check is entered, so nothing can be compared."
        )
    worst = max(checks, key=lambda check: abs(check.working - check.check))
    apart = worst.working - worst.check
    outcome = held_to(abs(apart), greatest=oven.check_greatest, uncertainty=oven.check_uncertainty)
    spread = None if oven.check_uncertainty is None else fahrenheit_steps(oven.check_uncertainty)
    return ruled(
        AGREES,
        outcome,
        f"{worst.channel} read {fahrenheit_steps(apart):+.1f} degF from the check sensor on "
        f"{worst.done_on.isoformat()}; {fahrenheit_steps(oven.check_greatest):.3g} degF are allowed.",
        proof=PROOF,
        worst=Figure(
            f"{worst.channel} less check sensor", fahrenheit_steps(apart), "degF", spread,
            method="two readings at one place and time", source=oven.source.file, validated=bool(oven.limits_source),
        ),
        limit=f"at most {fahrenheit_steps(oven.check_greatest):.3g} degF either way",
        limit_source=oven.limits_source or PRACTICE,
        where=(Where(oven.source.file, worst.channel),),
        deviable=False,
        next_step="Take the sensor out of use as it is, and review the runs since it was last good.",
        would_change="a check again, with the check sensor beside it",
    )  # fmt: skip


def calibrations_hold_on(channels: Sequence[str], day: datetime.date, calibrations: Sequence[Calibration]) -> Finding:
    """Every mould sensor has a calibration that holds on the day."""
    mine = {channel: [one for one in calibrations if one.channel == channel] for channel in channels}
    good = [channel for channel, some in mine.items() if any(one.holds_on(day) for one in some)]
    late = [channel for channel, some in mine.items() if channel not in good and any(one.due < day for one in some)]
    never = [channel for channel in channels if channel not in good and channel not in late]
    return _all_hold(CALIBRATED, "", "calibrated", channels, never, late)


def _newest(oven: Oven, channel: str, day: datetime.date) -> SensorCheck | None:
    mine = [one for one in oven.checks if one.channel == channel and one.done_on <= day]
    return max(mine, key=lambda one: one.done_on, default=None)


def _all_hold(
    rule: str, file: str, done: str, channels: Sequence[str], never: Sequence[str], late: Sequence[str]
) -> Finding:
    """One finding on all channels: one that is overdue fails, one that never was is missing."""
    said = []
    if late:
        said.append(f"Overdue: {', '.join(late)}.")
    if never:
        said.append(f"Never {done}, as far as is entered: {', '.join(never)}.")
    outcome = Outcome.FAIL if late else Outcome.MISSING if never or not channels else Outcome.PASS
    told = " ".join(said) or f"{counted(len(channels), 'mould sensor')} {done}, none overdue."
    return _due(rule, file, outcome, told, (*late, *never))


def _due(rule: str, file: str, outcome: Outcome, said: str, channels: Sequence[str] = ()) -> Finding:
    return ruled(
        rule, outcome, said, proof=PROOF, limit="done, good and not overdue on the day of use", limit_source=PRACTICE,
        where=tuple(Where(file, channel) for channel in channels) or (Where(file),), deviable=False,
        next_step="Do not cure in this oven until it is done and entered.", would_change="the record that it was done",
    )  # fmt: skip
