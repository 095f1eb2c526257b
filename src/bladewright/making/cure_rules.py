"""Every limit of the cure against the worst of drawn runs, with the sensors' uncertainty kept off as a margin."""

import math
from collections.abc import Callable
from dataclasses import dataclass

import numpy as np

from bladewright import units
from bladewright.design import cure_measures as measures
from bladewright.design.cure_measures import Shown
from bladewright.drawing.limits import CureLimits
from bladewright.engine.arrays import Floats
from bladewright.engine.statistics.order import lower_by_order
from bladewright.figures import Figure, Finding, Outcome

METHOD = "worst of drawn runs: 95 % of what is possible, 19 times in 20; sensors' uncertainty kept off as a margin"


@dataclass(frozen=True, slots=True)
class Trial:
    """Drawn runs of one schedule, and the lowest credible degree of cure at each station, if kinetics are entered."""

    shown: Shown
    limits: CureLimits
    sensor: float  # expanded uncertainty of a mould sensor [K]
    cured: float | None = None  # lowest credible degree of cure anywhere, at the end [1]
    cured_validated: bool = False
    cured_inside: bool = False  # where the kinetics were measured
    oven_validated: bool = False


@dataclass(frozen=True, slots=True)
class Asked:
    """One limit as it is held: worst values over runs, and how far off the limit they must stay."""

    name: str
    values: Floats  # of each run, SI
    unit: str
    kind: str
    margin: float = 0.0  # SI
    least: float | None = None
    greatest: float | None = None
    field: str = ""
    validated: bool = True
    inside_validity: bool = True


Rule = Callable[[Trial], Asked]


def ramp(trial: Trial) -> Asked:
    """Fastest rise of any mould sensor over the window."""
    limits = trial.limits
    return _rate(trial, "fastest rise", measures.fastest_rise(trial.shown, limits.ramp_window), "ramp_greatest", False)


def least_ramp(trial: Trial) -> Asked:
    """Slowest rise from where the limit names up to the band."""
    limits = trial.limits
    assert limits.ramp_from is not None
    slow = measures.slowest_rise(trial.shown, limits.ramp_window, limits.ramp_from, limits.target - limits.below)
    return _rate(trial, "slowest rise", slow, "ramp_least", True)


def cooling(trial: Trial) -> Asked:
    """Fastest fall of any mould sensor over the window."""
    fast = measures.fastest_fall(trial.shown, trial.limits.ramp_window)
    return _rate(trial, "fastest fall", fast, "cool_greatest", False)


def _rate(trial: Trial, name: str, values: Floats, field: str, least: bool) -> Asked:
    margin = math.sqrt(2.0) * trial.sensor / trial.limits.ramp_window
    limit = getattr(trial.limits, field)
    ends = {"least": limit} if least else {"greatest": limit}
    return Asked(name, values, "degF/min", "temperature rate", margin, field=f"limits.cure.{field}", **ends)


def overshoot(trial: Trial) -> Asked:
    """Hottest mould sensor of the whole run."""
    hot = measures.hottest(trial.shown)
    return Asked(
        "hottest mould sensor", hot, "degF", "temperature", trial.sensor,
        greatest=trial.limits.overshoot_greatest, field="limits.cure.overshoot_greatest",
    )  # fmt: skip


def heaters(trial: Trial) -> Asked:
    """Hottest heater."""
    hot = measures.hottest_heater(trial.shown)
    return Asked(
        "hottest heater", hot, "degF", "temperature", trial.sensor,
        greatest=trial.limits.heater_greatest, field="limits.cure.heater_greatest",
    )  # fmt: skip


def heater_lag(trial: Trial) -> Asked:
    """How far a heater runs ahead of its mould sensor."""
    ahead = measures.furthest_ahead(trial.shown)
    return Asked(
        "heater ahead of its mould sensor", ahead, "degF", "temperature difference", math.sqrt(2.0) * trial.sensor,
        greatest=trial.limits.heater_lag_greatest, field="limits.cure.heater_lag_greatest",
    )  # fmt: skip


def dwell(trial: Trial) -> Asked:
    """Dwell that the log would prove with the band drawn in by the sensors' uncertainty, a sample less."""
    limits = trial.limits
    proven = measures.proven_dwell(trial.shown, limits, trial.sensor) - limits.sample_interval
    return Asked(
        "dwell proven", proven, "min", "time", least=limits.dwell_least, field="limits.cure.dwell_least"
    )  # fmt: skip


def dwell_not_too_long(trial: Trial) -> Asked:
    """From the first sample in the band, widened by the sensors' uncertainty, to the last."""
    limits = trial.limits
    stay = measures.whole_stay(trial.shown, limits, trial.sensor) + limits.sample_interval
    return Asked(
        "whole stay in the band", stay, "min", "time", greatest=limits.dwell_greatest,
        field="limits.cure.dwell_greatest",
    )  # fmt: skip


def spread(trial: Trial) -> Asked:
    """Hottest less coldest mould sensor within the dwell."""
    wide = measures.widest_spread(trial.shown, trial.limits)
    return Asked(
        "spread in the dwell", wide, "degF", "temperature difference", math.sqrt(2.0) * trial.sensor,
        greatest=trial.limits.spread_greatest, field="limits.cure.spread_greatest",
    )  # fmt: skip


def degree_of_cure(trial: Trial) -> Asked:
    """Lowest credible degree of cure of the film anywhere along the blade."""
    assert trial.cured is not None
    return Asked(
        "lowest degree of cure", np.array([trial.cured]), "%", "fraction",
        least=trial.limits.degree_of_cure_least, field="limits.cure.degree_of_cure_least",
        validated=trial.cured_validated, inside_validity=trial.cured_inside,
    )  # fmt: skip


#: what the rate of heating decides, what the stay and the cooling do
HEATING: tuple[Rule, ...] = (ramp, least_ramp, overshoot, heaters, heater_lag)
STAYING: tuple[Rule, ...] = (dwell, dwell_not_too_long, spread, degree_of_cure)
COOLING: tuple[Rule, ...] = (cooling,)


def applying(limits: CureLimits, kinetics: bool) -> frozenset[Rule]:
    """The rules whose limits are entered."""
    entered: dict[Rule, bool] = {
        least_ramp: limits.ramp_least is not None and limits.ramp_from is not None,
        overshoot: limits.overshoot_greatest is not None,
        heaters: limits.heater_greatest is not None,
        heater_lag: limits.heater_lag_greatest is not None,
        dwell_not_too_long: limits.dwell_greatest is not None,
        cooling: limits.cool_greatest is not None,
        degree_of_cure: kinetics and limits.degree_of_cure_least is not None,
    }
    return frozenset(rule for rule in (*HEATING, *STAYING, *COOLING) if entered.get(rule, True))


def meets(asked: Asked) -> bool:
    """Whether the worst run keeps the margin."""
    return _outcome(asked) is Outcome.PASS


def judged(asked: Asked, trial: Trial) -> Finding:
    """The limit and the worst run as a finding."""
    outcome, worst = _outcome(asked), _worst(asked)
    limit = asked.least if asked.least is not None else asked.greatest
    assert limit is not None
    words = "at least" if asked.least is not None else "at most"
    shown = units.from_si(worst, asked.unit, asked.kind) if math.isfinite(worst) else worst
    margin = units.from_si(asked.margin, asked.unit, _difference(asked.kind))
    said = f"{words} {units.from_si(limit, asked.unit, asked.kind):.4g} {asked.unit}"
    kept = f", and {margin:.2g} {asked.unit} kept off it for the sensors" if asked.margin else ""
    found = f"{shown:.4g} {asked.unit}" if math.isfinite(shown) else "none"
    return Finding(
        rule=f"plan: {asked.name}",
        outcome=outcome,
        sentence=f"In the worst credible run: {asked.name} {found}; {said} is asked{kept}.",
        proof="cure",
        worst=None
        if not math.isfinite(shown)
        else Figure(
            asked.name, shown, asked.unit, margin if asked.margin else None, method=METHOD,
            validity="the oven's model: bodies of one temperature, an assumed controller",
            inside_validity=asked.inside_validity,
            source=trial.limits.source or "", validated=asked.validated and trial.oven_validated,
        ),
        limit=f"{said} ({asked.field})" if asked.field else said,
        limit_source=trial.limits.source or "",
        next_step="" if outcome is Outcome.PASS else "Change the process or the oven; the limit stays.",
        would_change="" if outcome is Outcome.PASS else "an oven known better by a survey, or one that heats otherwise",
    )  # fmt: skip


def _difference(kind: str) -> str:
    return "temperature difference" if kind == "temperature" else kind


def _worst(asked: Asked) -> float:
    """The bound over runs; of one value, itself."""
    sign = 1.0 if asked.least is not None else -1.0
    finite = np.where(np.isfinite(asked.values), asked.values, -sign * np.finfo(float).max)
    bound = sign * (float(lower_by_order(sign * finite)) if len(finite) > 1 else float(sign * finite[0]))
    return bound if abs(bound) < np.finfo(float).max else math.nan


def _outcome(asked: Asked) -> Outcome:
    worst = _worst(asked)
    room = worst - asked.least if asked.least is not None else (asked.greatest or 0.0) - worst
    if not room >= -1e-9 * abs(worst):
        return Outcome.FAIL
    return Outcome.PASS if room >= asked.margin else Outcome.REFER
