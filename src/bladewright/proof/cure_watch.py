"""A cure while it runs: each channel against its limit, how long until it gets there, and when the dwell may end.

What is broken is said by the same rules that judge the finished log, so that the watch and the judge cannot disagree;
only rules that no later row can mend are asked. Everything ahead is a straight line through the latest readings, and
an estimate. The log shows the tool, not the bondline.
"""

from collections.abc import Callable
from dataclasses import dataclass, replace

import numpy as np

from bladewright.drawing.limits import CureLimits
from bladewright.evidence.records import CureLog
from bladewright.figures import Finding, Outcome
from bladewright.proof.cure_dwell import dwell_not_too_long
from bladewright.proof.cure_heaters import heater_lag_within_limit, heaters_not_too_hot
from bladewright.proof.cure_pressure import pressure_not_too_high, pressure_stayed_on
from bladewright.proof.cure_temperature import cooling_within_limit, never_above, ramp_not_too_slow, ramp_within_limit
from bladewright.proof.mould import HOLE, Mould, read_mould
from bladewright.proof.watched_channels import ChannelNow, channels_now
from bladewright.proof.watched_clocks import Clocks, clocks_now
from bladewright.proof.watched_dwell import DwellNow, Stage, dwell_now
from bladewright.proof.wording import minutes

Rule = Callable[[Mould, CureLimits], Finding]

#: rules whose fail no later row can mend
FINAL: tuple[Rule, ...] = (
    ramp_within_limit,
    never_above,
    dwell_not_too_long,
    cooling_within_limit,
    heaters_not_too_hot,
    heater_lag_within_limit,
    pressure_stayed_on,
    pressure_not_too_high,
)
#: what a limit is warned of beforehand (our own choice) [s]
SOON = 300.0
#: of one processor core that following a log may cost
SHARE = 0.01
READS_ONLY = "It reads the log and commands nothing: the oven's own interlocks protect it and you."


@dataclass(frozen=True, slots=True)
class Warned:
    """One plain sentence for whoever stands at the oven. ``broken``: a limit is broken, and stays so."""

    broken: bool
    sentence: str
    rule: str = ""  # which rule says that it is broken


@dataclass(frozen=True, slots=True)
class CureWatch:
    """What is known of a cure up to its latest row."""

    file: str
    at: str  # the latest row by the clock on the wall
    rows: int
    stage: Stage
    channels: tuple[ChannelNow, ...]
    dwell: DwellNow
    clocks: Clocks
    warnings: tuple[Warned, ...]  # what is broken first
    not_watched: tuple[str, ...]  # limits nobody entered

    @property
    def broken(self) -> bool:
        """Whether a limit is broken already."""
        return any(warned.broken for warned in self.warnings)

    @property
    def over(self) -> bool:
        """Whether the mould has been hot and is cold enough to release."""
        return self.stage is Stage.RELEASED


def watch_cure(log: CureLog, limits: CureLimits, silent: float = 0.0) -> CureWatch | None:
    """The state at the log's latest row; ``silent`` is how long no row has come [s]. None without a mould sensor."""
    if not log.with_role("mould"):
        return None
    mould = read_mould(log, limits)
    findings = [rule(mould, limits) for rule in _asked(mould, limits)]
    channels = channels_now(mould, limits)
    dwell = dwell_now(mould, limits, channels)
    warnings = [
        *_from_rules(findings),
        *(Warned(True, f"NOT SHOWN. {said}", "dwell not shown") for said in dwell.not_shown),
        *(Warned(False, said) for said in (*_log_warnings(log, limits, silent), *dwell.warnings)),
        *(Warned(False, said) for said in _channel_warnings(channels)),
    ]
    return CureWatch(
        file=log.source.file,
        at=log.clock_of(len(log.seconds) - 1),
        rows=len(log.seconds),
        stage=dwell.stage,
        channels=channels,
        dwell=dwell,
        clocks=clocks_now(mould, limits),
        warnings=tuple(sorted(warnings, key=lambda warned: not warned.broken)),
        not_watched=tuple(finding.sentence for finding in findings if _waits_for_a_limit(finding)),
    )


def remembering(before: CureWatch | None, now: CureWatch | None) -> CureWatch | None:
    """The state now, with what was broken in the one before and is no longer said.

    A sensor that turns out to be stuck is not believed from its first repeated reading on, so what it broke may go
    from the rules again. Whoever watched saw it, so it stays on the page.
    """
    if before is None or now is None:
        return now or before
    said = {warned.rule for warned in now.warnings if warned.broken}
    gone = [
        replace(warned, sentence=f"EARLIER. {warned.sentence.removeprefix('EARLIER. ')}")
        for warned in before.warnings
        if warned.broken and warned.rule not in said
    ]
    return replace(now, warnings=(*gone, *now.warnings))


def _asked(mould: Mould, limits: CureLimits) -> tuple[Rule, ...]:
    """The least ramp is over once the slowest sensor has arrived; before that a later row can change it."""
    arrived = bool((mould.coldest >= limits.target - limits.below).any())
    return (*FINAL, ramp_not_too_slow) if arrived else FINAL


def _from_rules(findings: list[Finding]) -> list[Warned]:
    """A fail is broken; a referral of a value that was read is worth a look."""
    found = [
        Warned(True, f"BROKEN. {finding.sentence}", finding.rule)
        for finding in findings
        if finding.outcome is Outcome.FAIL
    ]
    found += [
        Warned(False, f"A person will have to look: {finding.sentence}")
        for finding in findings
        if finding.outcome is Outcome.REFER and finding.worst is not None
    ]
    return found


def _waits_for_a_limit(finding: Finding) -> bool:
    return finding.outcome is Outcome.MISSING and finding.sentence.startswith("Not judged:")


def _log_warnings(log: CureLog, limits: CureLimits, silent: float) -> list[str]:
    """A logger that says nothing, and holes in what it said."""
    found = []
    if silent > HOLE * limits.sample_interval:
        found.append(
            f"No new row for {minutes(silent):.1f} min; one is due every {minutes(limits.sample_interval):.3g} min. "
            "Look at the logger: nobody is watching the oven through it now."
        )
    holes = np.flatnonzero(np.diff(log.seconds) > HOLE * limits.sample_interval * (1.0 + 1e-9))
    if len(holes):
        longest = float(np.diff(log.seconds)[holes].max())
        found.append(
            f"The log has holes, the longest of {minutes(longest):.1f} min: a dwell does not count through one."
        )
    return found


def _channel_warnings(channels: tuple[ChannelNow, ...]) -> list[str]:
    """Channels that cannot be believed now, and limits that come near."""
    found = []
    for channel in channels:
        if channel.reading is None:
            since = f" since {channel.since}" if channel.since else ""
            found.append(f"{channel.channel} gives no reading that can be believed{since}: {channel.why}.")
        elif channel.to_limit is not None and channel.to_limit.value <= minutes(SOON):
            found.append(
                f"{channel.channel} reaches {channel.limit} in {channel.to_limit.value:.0f} min at the present rate."
            )
    return found


def as_of(log: CureLog, rows: int) -> CureLog:
    """The log as it stood after so many rows."""
    return CureLog(
        source=log.source,
        description=log.description,
        start=log.start,
        seconds=log.seconds[:rows],
        channels=log.channels,
        values=log.values[:rows],
        rows=log.rows[:rows],
        remarks=log.remarks,
        zone=log.zone,
        order_certain=log.order_certain,
    )


def rows_by(log: CureLog, elapsed: float, speed: float) -> int:
    """Rows of a finished log that are there after so long a replay [s] at so many times the pace of the clock."""
    return int(np.searchsorted(log.seconds, elapsed * speed, side="right"))


def rest_after(worked: float, pause: float) -> float:
    """How long to wait for the next look [s], so that the work stays under its share of a core however long the log."""
    return max(pause, worked / SHARE)
