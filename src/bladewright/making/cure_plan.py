"""The quickest cure that keeps every entered limit in every zone, with a margin, in all runs the oven's entries allow.

Rate of heating, stay and rate of cooling are found one after the other: each is bounded by limits of its own. Then
the whole plan is run once more and held to every limit. The plan is for a person to set; nothing here heats.
"""

import math
from collections.abc import Callable
from dataclasses import dataclass

from bladewright import units
from bladewright.design.cure_draws import Draws, drawn
from bladewright.design.cure_measures import Shown, hottest
from bladewright.design.cure_model import (
    Rests,
    cure_rests,
    entered_kinetics,
    require,
    require_sound,
    room_of,
    schedule_of,
    validated,
)
from bladewright.drawing.cure_entries import CureKinetics, OvenEntries
from bladewright.drawing.file import BladeDrawing
from bladewright.drawing.limits import CureLimits
from bladewright.drawing.oven import CureSchedule
from bladewright.engine.arrays import Floats
from bladewright.engine.cure.conversion import conversion
from bladewright.engine.cure.simulate import Simulated
from bladewright.engine.statistics.order import lower_by_order
from bladewright.errors import BadInput, MissingInput
from bladewright.figures import Finding, Outcome
from bladewright.making import cure_rules as rules
from bladewright.making.cure_rules import Rule, Trial

NEEDED = (
    "limits.cure", "limits.cure.sensor_uncertainty", "limits.cure.release", "limits.cure.overshoot_greatest",
    "limits.cure.heater_greatest", "limits.cure.cool_greatest", "oven",
)  # fmt: skip
SLOWEST = 0.1  # of the greatest rate, where no least one is entered; slower is no plan; our own choice
LONGEST = 4.0  # times the least dwell, where no greatest one is entered; longer is no plan; our own choice
MINUTE = 60.0  # [s] stays are set no finer
RATE_STEP = "0.05 degF/min"  # rates are set no finer; our own choice
AFTER = 7200.0  # [s] watched after the set point is down, for the mould to follow


@dataclass(frozen=True, slots=True, eq=False)
class CurePlan:
    """A schedule, how it stands to every limit, and the runs that say so."""

    drawing: str
    schedule: CureSchedule
    room: float  # [K]
    limits: CureLimits
    findings: tuple[Finding, ...]
    not_asked: tuple[str, ...]  # limits nobody entered
    rests: tuple[Rests, ...]
    run: Simulated
    shown: Shown
    cured: Floats | None  # (runs, 6, t) degree of cure; None without kinetics [1]

    @property
    def meets_all(self) -> bool:
        """Whether every entered limit is kept with its margin."""
        return all(finding.outcome is Outcome.PASS for finding in self.findings)


@dataclass(frozen=True, slots=True)
class _Shop:
    """All that stays the same while a schedule is looked for."""

    limits: CureLimits
    room: float  # [K]
    draws: Draws
    sensor: float  # [K]
    kinetics: CureKinetics | None
    rests: tuple[Rests, ...]

    @property
    def asked(self) -> frozenset[Rule]:
        return rules.applying(self.limits, self.kinetics is not None)

    def run(self, schedule: CureSchedule, duration: float | None = None) -> tuple[Simulated, Shown]:
        """Drawn runs of a schedule, and what their sensors show."""
        set_points = schedule_of(schedule, self.room)
        length = float(set_points.seconds[-1]) + AFTER if duration is None else duration
        run = self.draws.run(set_points, (), length)
        return run, Shown(run.seconds, self.draws.shown(run), run.heater)

    def trial(self, shown: Shown, cured: float | None = None, inside: bool = False) -> Trial:
        film = validated([rest for rest in self.rests if rest.on == "adhesive.kinetics"])
        oven = validated([rest for rest in self.rests if rest.on != "adhesive.kinetics"])
        return Trial(shown, self.limits, self.sensor, cured, film, inside, oven)

    def measured_there(self, run: Simulated) -> bool:
        """Whether the kinetics were measured at the film's temperatures."""
        film = self.draws.film(run.mould, run.bondline)
        return self.kinetics is not None and self.kinetics.inside(float(film.min()), float(film.max()))

    def cure(self, run: Simulated) -> Floats | None:
        """Degree of cure of every drawn run under every zone. (runs, 6, t) [1]"""
        if self.kinetics is None:
            return None
        film, entered = self.draws.film(run.mould, run.bondline), self.kinetics
        return conversion(entered.kinetics, run.seconds, film, entered.delivered, self.draws.pace)


def plan_cure(drawing: BladeDrawing, fitted: OvenEntries | None = None) -> CurePlan:
    """The quickest plan; a fitted oven stands in for the drawing's."""
    require(drawing, [field for field in NEEDED if fitted is None or field != "oven"])
    shop = _shop(drawing, fitted or drawing.oven)
    ramp = _fastest(lambda rate: _heats(shop, rate), *_ramps(shop.limits))
    cool = _fastest(lambda rate: _cools(shop, ramp, rate), *_between(None, shop.limits.cool_greatest))
    return _held(drawing, shop, _scheduled(shop, ramp, _least_dwell(shop, ramp, cool), cool))


def plan_as_set(drawing: BladeDrawing, schedule: CureSchedule, fitted: OvenEntries | None = None) -> CurePlan:
    """A schedule somebody chose, held to every entered limit as a found one is."""
    require(drawing, [field for field in NEEDED if fitted is None or field != "oven"])
    return _held(drawing, _shop(drawing, fitted or drawing.oven), schedule)


def _held(drawing: BladeDrawing, shop: _Shop, schedule: CureSchedule) -> CurePlan:
    """A schedule run once more, whole, and held to every limit."""
    run, shown = shop.run(schedule)
    cured = shop.cure(run)
    trial = shop.trial(shown, _lowest(cured), shop.measured_there(run))
    order = (*rules.HEATING, *rules.STAYING, *rules.COOLING)
    return CurePlan(
        drawing=drawing.name,
        schedule=schedule,
        room=shop.room,
        limits=shop.limits,
        findings=tuple(rules.judged(rule(trial), trial) for rule in order if rule in shop.asked),
        not_asked=_not_asked(shop),
        rests=shop.rests,
        run=run,
        shown=shown,
        cured=cured,
    )


def _scheduled(shop: _Shop, ramp: float, dwell: float, cool: float) -> CureSchedule:
    """A schedule of these rates [K/s] and this stay of the set point [s], with the hold that is entered."""
    limits, hold = shop.limits, shop.limits.hold
    return CureSchedule.model_construct(
        ramp=ramp,
        hold_temperature=hold.temperature if hold else None,
        hold=hold.least if hold else None,
        target=limits.target + 0.5 * (limits.above - limits.below),  # the middle of the band
        dwell=dwell,
        cool=cool,
        source="planned from the drawing's limits and the oven's model",
    )


def _shop(drawing: BladeDrawing, oven: OvenEntries | None) -> _Shop:
    limits = drawing.limits.cure
    assert oven is not None
    assert limits is not None
    require_sound(limits)
    _require_reachable(limits, room_of(oven))
    assert limits.sensor_uncertainty is not None
    entered = entered_kinetics(drawing)
    return _Shop(
        limits=limits,
        room=room_of(oven),
        draws=drawn(oven, limits.sensor_uncertainty, entered),
        sensor=limits.sensor_uncertainty,
        kinetics=entered,
        rests=cure_rests(drawing, oven),
    )


def _require_reachable(limits: CureLimits, room: float) -> None:
    """Raise where a temperature of the process lies where no run from this room [K] passes, or a rate is never set."""
    band = limits.target - limits.below
    hold = limits.hold.temperature if limits.hold else None
    between = "between the room and the band"
    for field, value in (("release", limits.release), ("hold.temperature", hold)):
        if value is not None and not room < value < band:
            raise BadInput(
                "is not on the way", field=f"limits.cure.{field}", value=value, allowed=between,
                fix="check it against oven.room and limits.cure.target",
            )  # fmt: skip
    if not room < band:
        raise BadInput(
            "is not above the room", field="limits.cure.target", value=limits.target, allowed="a band above oven.room"
        )
    step = units.to_si(RATE_STEP, "temperature rate")
    for field in ("ramp_greatest", "cool_greatest"):
        if (getattr(limits, field) or step) < step:
            raise BadInput(
                "is slower than any plan sets", field=f"limits.cure.{field}", allowed=f"at least {RATE_STEP}"
            )
    if limits.ramp_window > limits.dwell_least:
        raise BadInput(
            "is longer than the dwell", field="limits.cure.ramp_window", value=limits.ramp_window,
            allowed="at most limits.cure.dwell_least",
        )  # fmt: skip


def _heats(shop: _Shop, rate: float) -> bool:
    """Whether heating at a rate [K/s] keeps every limit it decides, and leaves the dwell whole."""
    schedule = _scheduled(shop, rate, shop.limits.dwell_least, shop.limits.cool_greatest or rate)
    set_points = schedule_of(schedule, shop.room)
    _, shown = shop.run(schedule, float(set_points.seconds[-2]))
    trial = shop.trial(shown)
    kept = all(rules.meets(rule(trial)) for rule in rules.HEATING if rule in shop.asked)
    inside = rules.Asked(
        "hottest", hottest(shown), "degF", "temperature", shop.sensor,
        greatest=shop.limits.target + shop.limits.above,
    )  # fmt: skip
    return kept and rules.meets(inside)


def _least_dwell(shop: _Shop, ramp: float, cool: float) -> float:
    """The shortest stay of the set point [s], in whole minutes, that proves the dwell and cures the film."""
    limits = shop.limits
    longest = limits.dwell_greatest or LONGEST * limits.dwell_least
    proves = rules.dwell, rules.degree_of_cure

    def keeps(minutes: int) -> bool:
        run, shown = shop.run(_scheduled(shop, ramp, MINUTE * minutes, cool))
        trial = shop.trial(shown, _lowest(shop.cure(run)))
        return all(rules.meets(rule(trial)) for rule in proves if rule in shop.asked)

    short, enough = math.ceil(limits.dwell_least / MINUTE) - 1, math.ceil(longest / MINUTE)
    while enough - short > 1:
        middle = (short + enough) // 2
        short, enough = (short, middle) if keeps(middle) else (middle, enough)
    return MINUTE * enough


def _lowest(cured: Floats | None) -> float | None:
    """Lowest credible degree of cure under any zone at the end. [1]"""
    return None if cured is None else float(lower_by_order(cured[..., -1]).min())


def _cools(shop: _Shop, ramp: float, rate: float) -> bool:
    """Whether cooling at a rate [K/s] keeps its limit."""
    schedule = _scheduled(shop, ramp, shop.limits.dwell_least, rate)
    _, shown = shop.run(schedule)
    trial = shop.trial(shown)
    return all(rules.meets(rule(trial)) for rule in rules.COOLING)


def _ramps(limits: CureLimits) -> tuple[float, float]:
    """Rates of heating, the slowest one with its margin off the least that is asked. [K/s]"""
    margin = math.sqrt(2.0) * (limits.sensor_uncertainty or 0.0) / limits.ramp_window
    return _between(limits.ramp_least and limits.ramp_least + margin, limits.ramp_greatest)


def _between(least: float | None, greatest: float | None) -> tuple[float, float]:
    """The rates looked at. [K/s]"""
    if greatest is None:
        raise MissingInput("is needed for a plan", field="limits.cure.cool_greatest", fix="enter it")
    return (least if least is not None else SLOWEST * greatest), greatest


def _fastest(keeps: Callable[[float], bool], slow: float, fast: float) -> float:
    """The fastest rate that keeps its limits, rounded down to what is set; the slowest where none does. [K/s]"""
    step = units.to_si(RATE_STEP, "temperature rate")
    low, high = math.ceil(slow / step - 1e-9), math.floor(fast / step + 1e-9)
    if keeps(high * step):
        return high * step
    while high - low > 1:
        middle = (low + high) // 2
        if keeps(middle * step):
            low = middle
        else:
            high = middle
    return low * step


def _not_asked(shop: _Shop) -> tuple[str, ...]:
    names = {
        rules.least_ramp: "limits.cure.ramp_least", rules.heater_lag: "limits.cure.heater_lag_greatest",
        rules.dwell_not_too_long: "limits.cure.dwell_greatest",
        rules.degree_of_cure: "adhesive.kinetics and limits.cure.degree_of_cure_least",
    }  # fmt: skip
    return tuple(name for rule, name in names.items() if rule not in shop.asked)
