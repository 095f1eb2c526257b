"""A zone survey: how far the survey sensors in the mould were from the target, all of them, all through the soak.

Borrowed practice, in the style of published pyrometry practice (SAE AMS 2750, from memory), not a claim to meet it.
"""

import math
from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from bladewright.drawing.limits import CureLimits
from bladewright.evidence.oven_file import SurveyLimits
from bladewright.evidence.records import CureLog
from bladewright.figures import Figure, Finding, Outcome, Where
from bladewright.proof.comparing import held_to
from bladewright.proof.dwell import proven_dwell
from bladewright.proof.mould import Mould, read_mould
from bladewright.proof.oven_ready import PRACTICE, PROOF
from bladewright.proof.wording import fahrenheit, fahrenheit_steps, minutes, ruled

SOAK, EVEN, OVER = "survey: soak", "survey: evenness", "survey: overshoot"
DAY = 86_400.0  # [s]
FEWEST_TO_TELL_A_TREND = 3  # two points always make a line


@dataclass(frozen=True, slots=True)
class Place:
    """One survey sensor over the soak, relative to the target."""

    channel: str
    coldest: Figure
    hottest: Figure


@dataclass(frozen=True, slots=True)
class Survey:
    """What one survey log shows."""

    file: str
    began: str
    places: tuple[Place, ...]  # the hottest first
    coldest: Figure | None  # of all, relative to the target; None without a soak
    hottest: Figure | None
    findings: tuple[Finding, ...]

    @property
    def passed(self) -> bool:
        """Whether every rule passed."""
        return all(finding.outcome is Outcome.PASS for finding in self.findings)


def judge_survey(log: CureLog, limits: SurveyLimits, source: str | None = None) -> Survey:
    """The survey judged; the mould sensors of its log are the survey sensors."""
    if not log.with_role("mould"):
        missing = ruled(
            SOAK, Outcome.MISSING, "No channel of the log is a survey sensor in the mould.", proof=PROOF,
            where=(Where(log.source.file),), deviable=False, next_step="Check the roles in the logger description.",
            would_change="a log with survey sensors",
        )  # fmt: skip
        return Survey(log.source.file, "", (), None, None, (missing,))
    mould = read_mould(log, _as_band(limits))
    dwell = proven_dwell(mould, _as_band(limits))
    stay = 0.0 if dwell is None else dwell.seconds
    findings = [_soak(mould, limits, stay, source), _overshoot(mould, limits, source)]
    if dwell is None:
        return Survey(log.source.file, log.clock_of(0), (), None, None, tuple(findings))
    apart = mould.believed(slice(dwell.first, dwell.last + 1)) - limits.target
    low, high = apart.min(axis=0), apart.max(axis=0)
    places = [_place(mould, limits, at, float(low[at]), float(high[at])) for at in range(len(mould.columns))]
    findings.insert(1, _even(mould, limits, float(low.min()), float(high.max()), source))
    ordered = tuple(sorted(places, key=lambda place: -place.hottest.value))
    coldest = min((place.coldest for place in places), key=lambda figure: figure.value)
    hottest = max((place.hottest for place in places), key=lambda figure: figure.value)
    return Survey(log.source.file, log.clock_of(0), ordered, coldest, hottest, tuple(findings))


def _as_band(limits: SurveyLimits) -> CureLimits:
    """The survey's band in the words of a cure's, so that both are counted by the same code."""
    return CureLimits.model_construct(
        target=limits.target, below=limits.within, above=limits.within, dwell_least=limits.soak,
        sample_interval=limits.sample_interval, sensor_uncertainty=limits.uncertainty,
        ramp_greatest=math.inf, spread_greatest=math.inf,
    )  # fmt: skip


def _place(mould: Mould, limits: SurveyLimits, at: int, low: float, high: float) -> Place:
    spread = None if limits.uncertainty is None else fahrenheit_steps(limits.uncertainty)
    name = mould.log.channels[mould.columns[at]].name

    def shown(word: str, value: float) -> Figure:
        return Figure(
            f"{name}, {word} of the target", fahrenheit_steps(value), "degF", spread,
            method="one sample of the soak", source=mould.log.source.file,
        )  # fmt: skip

    return Place(name, shown("coldest", low), shown("hottest", high))


def _soak(mould: Mould, limits: SurveyLimits, stay: float, source: str | None) -> Finding:
    outcome = held_to(stay, least=limits.soak)
    return ruled(
        SOAK,
        outcome,
        f"All {len(mould.columns)} survey sensors were within {fahrenheit_steps(limits.within):.3g} degF of "
        f"{fahrenheit(limits.target):.4g} degF together for {minutes(stay):.1f} min; "
        f"{minutes(limits.soak):.4g} min are asked." + ("" if outcome is Outcome.PASS else _laggard(mould, limits)),
        proof=PROOF,
        worst=Figure("soak", minutes(stay), "min", method="longest unbroken run of samples", validated=bool(source)),
        limit=f"at least {minutes(limits.soak):.4g} min",
        limit_source=source or PRACTICE,
        where=(Where(mould.log.source.file),),
        deviable=False,
        next_step="Do not cure in this oven: find the zone that lags, mend it, and survey again.",
        would_change="a survey that holds",
    )


def _laggard(mould: Mould, limits: SurveyLimits) -> str:
    """The coldest sensor at the moment when it was warmest: the zone to look at."""
    if np.isnan(mould.coldest).all():
        return " None could be believed."
    at = int(np.nanargmax(mould.coldest))
    row = mould.believed(np.array([at]))[0]
    place = int(np.nanargmin(row))
    name = mould.log.channels[mould.columns[place]].name
    apart = fahrenheit_steps(float(row[place]) - limits.target)
    return f" When the coldest was warmest it was {name}, {apart:+.1f} degF of the target, at {mould.log.clock_of(at)}."


def _even(mould: Mould, limits: SurveyLimits, low: float, high: float, source: str | None) -> Finding:
    worst = low if abs(low) > abs(high) else high
    spread = None if limits.uncertainty is None else fahrenheit_steps(limits.uncertainty)
    return ruled(
        EVEN,
        held_to(abs(worst), greatest=limits.within, uncertainty=limits.uncertainty),
        f"In the soak the mould was between {fahrenheit_steps(low):+.1f} and {fahrenheit_steps(high):+.1f} degF of the "
        f"target; {fahrenheit_steps(limits.within):.3g} degF either way are allowed.",
        proof=PROOF,
        worst=Figure(
            "furthest from the target", fahrenheit_steps(worst), "degF", spread, method="one sample of the soak",
            source=mould.log.source.file, validated=bool(source),
        ),
        limit=f"at most {fahrenheit_steps(limits.within):.3g} degF either way",
        limit_source=source or PRACTICE,
        where=(Where(mould.log.source.file),),
        next_step="A person decides, with the survey sensors' calibrations.",
        would_change="survey sensors of less uncertainty",
    )  # fmt: skip


def _overshoot(mould: Mould, limits: SurveyLimits, source: str | None) -> Finding:
    top = limits.target + limits.within
    peak = float(np.nanmax(mould.hottest)) if not np.isnan(mould.hottest).all() else float("nan")
    if np.isnan(peak):
        outcome, said = Outcome.MISSING, "No survey sensor could be believed."
    else:
        outcome = held_to(peak, greatest=top, uncertainty=limits.uncertainty)
        said = f"The hottest survey sensor reached {fahrenheit(peak):.1f} degF; {fahrenheit(top):.4g} are allowed."
    return ruled(
        OVER, outcome, said, proof=PROOF, limit=f"never above {fahrenheit(top):.4g} degF",
        limit_source=source or PRACTICE, where=(Where(mould.log.source.file),),
        next_step="Slow the last part of the ramp, and survey again.", would_change="a survey without it",
    )  # fmt: skip


@dataclass(frozen=True, slots=True)
class Capability:
    """The oven over several surveys: how it drifts. Its sentence is an estimate, not a limit."""

    told: str
    hottest_per_year: Figure | None
    coldest_per_year: Figure | None


def capability(surveys: Sequence[Survey], days: Sequence[float]) -> Capability:
    """Straight lines through the extremes of surveys done on some days, counted from any day."""
    known = [
        (day, one.coldest.value, one.hottest.value)
        for day, one in zip(days, surveys, strict=True)
        if one.coldest is not None and one.hottest is not None
    ]
    if len({day for day, _, _ in known}) < FEWEST_TO_TELL_A_TREND:
        return Capability("Fewer than three surveys with a soak: no trend can be told.", None, None)
    years = np.array([day for day, _, _ in known]) / 365.25

    def line(name: str, values: list[float]) -> Figure:
        slope = float(np.polyfit(years, np.array(values), 1)[0])
        return Figure(
            f"{name} of the target, per year", slope, "degF", None,
            method="straight line through the surveys",
        )  # fmt: skip

    hot, cold = line("hottest", [high for _, _, high in known]), line("coldest", [low for _, low, _ in known])
    told = (
        f"Over {len(known)} surveys the hottest moved {hot.value:+.1f} and the coldest {cold.value:+.1f} degF a year."
    )
    return Capability(told, hot, cold)


def days_of(logs: Sequence[CureLog]) -> tuple[float, ...]:
    """When each survey began, in days from the first of them; a log without a clock stands on the first day."""
    begun = [log.start for log in logs]
    first = min((start for start in begun if start is not None), default=None)
    return tuple(0.0 if start is None or first is None else (start - first).total_seconds() / DAY for start in begun)
