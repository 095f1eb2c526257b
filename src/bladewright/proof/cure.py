"""A cure log against the process limits: the list of rules is the judgement. No clock, no files."""

from collections.abc import Callable

from bladewright.drawing.limits import CureLimits
from bladewright.evidence.records import CureLog
from bladewright.figures import Finding, Outcome, Where
from bladewright.proof.cure_dwell import dwell_long_enough, dwell_not_too_long, spread_within_limit
from bladewright.proof.cure_heaters import heater_lag_within_limit, heaters_not_too_hot
from bladewright.proof.cure_log_rules import clock_is_certain, log_has_no_holes, sensors_spoke, uncertainty_is_entered
from bladewright.proof.cure_pressure import log_covers_the_cure, pressure_not_too_high, pressure_stayed_on
from bladewright.proof.cure_temperature import cooling_within_limit, never_above, ramp_not_too_slow, ramp_within_limit
from bladewright.proof.mould import Mould, read_mould
from bladewright.proof.sensor_faults import sensors_can_be_trusted
from bladewright.proof.wording import ruled

Rule = Callable[[Mould, CureLimits], Finding]

RULES: tuple[Rule, ...] = (
    clock_is_certain,
    log_has_no_holes,
    log_covers_the_cure,
    dwell_long_enough,
    sensors_spoke,
    sensors_can_be_trusted,
    dwell_not_too_long,
    spread_within_limit,
    uncertainty_is_entered,
    ramp_within_limit,
    ramp_not_too_slow,
    never_above,
    cooling_within_limit,
    heaters_not_too_hot,
    heater_lag_within_limit,
    pressure_stayed_on,
    pressure_not_too_high,
)


def judge_cure(log: CureLog, limits: CureLimits) -> tuple[Finding, ...]:
    """Every rule's finding on one log; without a mould sensor there is nothing to judge by."""
    if not log.with_role("mould"):
        return (
            ruled(
                rule="cure: mould sensors",
                outcome=Outcome.MISSING,
                sentence="No channel of the log is a mould sensor, so nothing is known of the cure.",
                proof="cure",
                where=(Where(log.source.file),),
                deviable=False,
                next_step="Check the roles in the logger description; a heater cannot stand in for the mould.",
                would_change="a log with the mould's own sensors",
            ),
        )
    mould = read_mould(log, limits)
    return tuple(rule(mould, limits) for rule in RULES)
