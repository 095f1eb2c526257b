"""The card that goes with a run: checks before heat, set points, what to expect and when, and what to do if not."""

from dataclasses import dataclass

import numpy as np

from bladewright import units
from bladewright.design.cure_measures import dwell_begins, released
from bladewright.design.cure_model import Rests, schedule_of, validated
from bladewright.drawing.file import BladeDrawing
from bladewright.engine.arrays import Floats
from bladewright.engine.statistics.order import lower_by_order
from bladewright.figures import Axis, Chart, Curve, Figure, Finding, Level, Outcome
from bladewright.making.card_checks import Check, Otherwise, before_heat, if_otherwise
from bladewright.making.cure_plan import CurePlan

CHART_POINTS = 120  # of a curve; more would not be seen


@dataclass(frozen=True, slots=True)
class RunCard:
    """Everything a run card says, as plain data."""

    drawing: str
    told: str
    before: tuple[Check, ...]
    set_points: tuple[Figure, ...]
    expected: tuple[Figure, ...]
    findings: tuple[Finding, ...]
    otherwise: tuple[Otherwise, ...]
    not_asked: tuple[str, ...]
    rests: tuple[Rests, ...]
    chart: Chart
    meets_all: bool


def run_card(drawing: BladeDrawing, plan: CurePlan) -> RunCard:
    """The card of a plan."""
    limits = plan.limits
    return RunCard(
        drawing=drawing.name,
        told=_told(plan),
        before=before_heat(limits),
        set_points=_set_points(plan),
        expected=_expected(plan),
        findings=plan.findings,
        otherwise=if_otherwise(limits),
        not_asked=plan.not_asked,
        rests=plan.rests,
        chart=_chart(plan),
        meets_all=plan.meets_all,
    )


def _told(plan: CurePlan) -> str:
    broken = [finding.rule.removeprefix("plan: ") for finding in plan.findings if finding.outcome is not Outcome.PASS]
    if broken:
        return f"No plan keeps every limit with its margin: {', '.join(broken)}. Do not run this."
    schedule = plan.schedule
    up, down = (units.written(rate, "degF/min", "temperature rate", 4) for rate in (schedule.ramp, schedule.cool))
    target = units.written(schedule.target, "degF", "temperature", 4)
    hold = ""
    if schedule.hold is not None and schedule.hold_temperature is not None:
        at = units.written(schedule.hold_temperature, "degF", "temperature", 4)
        hold = f", hold {units.written(schedule.hold, 'min', 'time', 4)} at {at}"
    stay = units.written(schedule.dwell, "min", "time", 4)
    doubtful = [rest.on for rest in plan.rests if not rest.source]
    rests = f" Rests on unvalidated data: {', '.join(doubtful)}." if doubtful else ""
    return f"Set: up at {up}{hold}, {target} for {stay} from when the set point is there, down at {down}.{rests}"


def _set_points(plan: CurePlan) -> tuple[Figure, ...]:
    schedule = plan.schedule

    def shown(name: str, value: float, unit: str, kind: str) -> Figure:
        return Figure(
            name, units.from_si(value, unit, kind), unit, 0.0,  # it is chosen, so it is exact
            method="found by halving, then run again and held to every limit", validity="an assumed controller",
            source=schedule.source or "", validated=validated(plan.rests),
        )  # fmt: skip

    found = [shown("ramp", schedule.ramp, "degF/min", "temperature rate")]
    if schedule.hold is not None and schedule.hold_temperature is not None:
        found += [
            shown("hold temperature", schedule.hold_temperature, "degF", "temperature"),
            shown("hold", schedule.hold, "min", "time"),
        ]
    return (
        *found,
        shown("target", schedule.target, "degF", "temperature"),
        shown("stay of the set point", schedule.dwell, "min", "time"),
        shown("cool-down", schedule.cool, "degF/min", "temperature rate"),
    )


def _expected(plan: CurePlan) -> tuple[Figure, ...]:
    """Times from the start of heat, and temperatures, with what the drawn runs span."""
    limits, shown = plan.limits, plan.shown
    assert limits.release is not None
    set_points = schedule_of(plan.schedule, plan.room)
    found = [
        _exact("set point reaches the target", float(set_points.seconds[-3])),
        _spanned("slowest mould sensor in the band", dwell_begins(shown, limits), plan),
        _exact("set point begins to fall", float(set_points.seconds[-2])),
        _spanned("all mould sensors below release; pressure may come off", released(shown, limits.release), plan),
    ]
    return tuple(figure for figure in found if figure is not None)


def _exact(name: str, seconds: float) -> Figure:
    return Figure(name, units.from_si(seconds, "min", "time"), "min", 0.0, method="from the set points alone")


def _spanned(name: str, seconds: Floats, plan: CurePlan) -> Figure | None:
    if np.isnan(seconds).any():
        return None
    low, high = float(lower_by_order(seconds)), float(-lower_by_order(-seconds))
    middle = 0.5 * (low + high)
    return Figure(
        name, units.from_si(middle, "min", "time"), "min",
        units.from_si(high - middle, "min", "time") + units.from_si(plan.shown.step, "min", "time"),
        method="middle and half width of what drawn runs span", validity="an assumed controller",
        source="; ".join(str(rest) for rest in plan.rests if rest.on == "oven"),
        validated=validated([rest for rest in plan.rests if rest.on == "oven"]),
    )  # fmt: skip


def _chart(plan: CurePlan) -> Chart:
    limits, run = plan.limits, plan.run
    every = max(1, len(run.seconds) // CHART_POINTS)
    minutes = run.seconds[::every] / 60.0
    set_points = schedule_of(plan.schedule, plan.room)

    def curve(name: str, kelvin: Floats) -> Curve:
        return Curve(name, tuple(map(float, minutes)), tuple(_fahrenheit(value) for value in kelvin))

    def low(values: Floats) -> Floats:
        return np.asarray(values.min(axis=(0, 1))[::every])

    def high(values: Floats) -> Floats:
        return np.asarray(values.max(axis=(0, 1))[::every])

    return Chart(
        name="cure-plan",
        title="The plan, and what drawn runs of it span",
        x=Axis("time from the start of heat", "min"),
        y=Axis("temperature", "degF"),
        curves=(
            curve("set point", set_points.at(run.seconds[::every])),
            curve("coldest mould sensor", low(plan.shown.mould)),
            curve("hottest mould sensor", high(plan.shown.mould)),
            curve("coldest bondline", low(run.bondline)),
            curve("hottest heater", high(run.heater)),
        ),
        levels=(
            Level("band", _fahrenheit(limits.target - limits.below)),
            Level("band", _fahrenheit(limits.target + limits.above)),
        ),
        note="Coldest and hottest of all drawn runs. No sensor reads the bondline: it is reckoned by the oven's model.",
    )


def _fahrenheit(kelvin: float) -> float:
    return float(units.from_si(float(kelvin), "degF", "temperature"))
