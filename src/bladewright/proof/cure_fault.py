"""A fault told in the shop's words, run many times beside the same runs without it."""

import math
from dataclasses import dataclass

import numpy as np

from bladewright.design.cure_draws import drawn
from bladewright.design.cure_measures import Shown, dwell_begins, proven_dwell
from bladewright.design.cure_model import cure_rests, entered_kinetics, require, require_sound, room_of, schedule_of
from bladewright.drawing.cure_entries import OvenEntries
from bladewright.drawing.file import BladeDrawing
from bladewright.drawing.oven import CureSchedule
from bladewright.engine.arrays import Floats
from bladewright.engine.cure.conversion import conversion
from bladewright.engine.cure.fault_cost import fault_cost
from bladewright.engine.cure.faults import Fault, PowerCut, SensorOffset, ZoneDead
from bladewright.engine.cure.oven import ZONES
from bladewright.errors import BadInput, MissingInput
from bladewright.figures import Finding
from bladewright.proof.cure_cost import NEEDED, CureCost, Reckoned, answered, oven_asked
from bladewright.proof.cured import Ends
from bladewright.proof.wetting import latest_gel, pressure_late, pressure_lost
from bladewright.proof.wording import fahrenheit_steps, minutes


@dataclass(frozen=True, slots=True)
class CureFault:
    """What went wrong. Times into the dwell count from when the slowest mould sensor came into the band."""

    zone: int | None = None  # counted from 1
    dead_after: float | None = None  # [s] into the dwell, the zone's heater died
    low: float | None = None  # [K] the zone was kept too cold by, all run long
    power_cut_after: float | None = None  # [s] into the dwell
    power_cut_for: float | None = None  # [s] None: it never came back
    pressure_late: float | None = None  # [s] after heat began
    pressure_lost_after: float | None = None  # [s] into the dwell

    def __post_init__(self) -> None:
        self._require_zone()
        told = (self.dead_after, self.low, self.power_cut_after, self.pressure_late, self.pressure_lost_after)
        if self.power_cut_for is not None and self.power_cut_after is None:
            raise MissingInput("when the power went is not said", field="power_cut_after", fix="say it")
        if all(value is None for value in told):
            raise MissingInput(
                "nothing went wrong", field="fault", allowed="a dead or low zone, a power cut, late or lost pressure",
                fix="say what happened, or give the log",
            )  # fmt: skip
        for name in ("dead_after", "low", "power_cut_after", "power_cut_for", "pressure_late", "pressure_lost_after"):
            value = getattr(self, name)
            if value is not None and not math.isfinite(value):
                raise BadInput("is no number", field=name, value=str(value), allowed="a finite one")
        for name in ("low", "power_cut_for", "pressure_late"):
            value = getattr(self, name)
            if value is not None and not value > 0.0:
                raise BadInput("is not more than nothing", field=name, value=value, allowed="more than 0")

    def _require_zone(self) -> None:
        zoned = self.dead_after is not None or self.low is not None
        if zoned and self.zone is None:
            raise MissingInput(
                "which zone it was is not said", field="zone", allowed=f"1 to {ZONES}", fix="name the zone"
            )
        if self.zone is not None and not zoned:
            raise MissingInput(
                "what the zone did is not said", field="zone", value=self.zone, allowed="dead since when, or how low",
                fix="say what it did",
            )  # fmt: skip
        if self.zone is not None and not 1 <= self.zone <= ZONES:
            raise BadInput("is no zone", field="zone", value=self.zone, allowed=f"1 to {ZONES}")

    def words(self) -> str:
        """What happened, in a sentence."""
        said = []
        if self.dead_after is not None:
            said.append(f"zone {self.zone}'s heater died {minutes(self.dead_after):.4g} min into the dwell")
        if self.low is not None:
            said.append(f"zone {self.zone} was kept {self.low:.3g} K ({fahrenheit_steps(self.low):.3g} degF) too cold")
        if self.power_cut_after is not None:
            for_ = "for good" if self.power_cut_for is None else f"for {minutes(self.power_cut_for):.4g} min"
            said.append(f"the power went {minutes(self.power_cut_after):.4g} min into the dwell {for_}")
        if self.pressure_late is not None:
            said.append(f"pressure came on {minutes(self.pressure_late):.4g} min after heat")
        if self.pressure_lost_after is not None:
            said.append(f"pressure was lost {minutes(self.pressure_lost_after):.4g} min into the dwell")
        text = "; ".join(said)
        return f"{text[0].upper()}{text[1:]}."


def cost_of_fault(
    drawing: BladeDrawing, fault: CureFault, fitted: OvenEntries | None = None, schedule: CureSchedule | None = None
) -> CureCost:
    """What the fault took, in runs of the drawing's schedule or another; a fitted oven stands in for the drawing's."""
    require(drawing, (*NEEDED, *(() if schedule else ("schedule",))))
    oven, followed = oven_asked(drawing, fitted), schedule or drawing.schedule
    entered, limits = entered_kinetics(drawing), drawing.limits.cure
    assert entered is not None
    assert limits is not None
    assert limits.sensor_uncertainty is not None
    assert followed is not None
    rests = cure_rests(drawing, oven)
    require_sound(limits)
    draws = drawn(oven, limits.sensor_uncertainty, entered)
    set_points = schedule_of(followed, room_of(oven))
    sound = draws.run(set_points)
    shown = Shown(sound.seconds, draws.shown(sound), sound.heater)
    began = dwell_begins(shown, limits)
    if np.isnan(began).any():
        raise BadInput(
            "without any fault, not every drawn run of this schedule has a dwell", field="schedule.dwell",
            value=minutes(followed.dwell), allowed="one that holds every zone in the band",
            fix="plan the cure anew (plan-cure)",
        )  # fmt: skip
    _require_within(fault, proven_dwell(shown, limits, 0.0))
    bad = draws.run(set_points, _faults(fault, began))
    faulted, unhurt = (draws.film(run.mould, run.bondline) for run in (bad, sound))
    kinetics = entered.kinetics
    cost = fault_cost(kinetics, sound.seconds, faulted, unhurt, entered.delivered, draws.pace)
    course = conversion(kinetics, sound.seconds, faulted, entered.delivered, draws.pace)
    run = Reckoned(
        happened=fault.words(),
        ends=Ends(cost.lowest, cost.middle, cost.highest, cost.lost),
        each=course[..., -1],
        pace=draws.pace,
        film=(float(faulted.min()), float(faulted.max())),
        whole=False,
        wetting=_wetting(fault, began, latest_gel(sound.seconds, course, entered.gel)),
    )
    return answered(drawing, oven, entered, rests, run)


def _require_within(fault: CureFault, dwell: Floats) -> None:
    """Raise where something is told to have happened so long into the dwell [s] that every run's dwell was over."""
    longest = float(dwell.max())
    for name in ("dead_after", "power_cut_after"):
        after = getattr(fault, name)
        if after is not None and after > longest:
            raise BadInput(
                "is after the dwell of this schedule", field=name, value=f"{minutes(after):.4g} min",
                allowed=f"at most {minutes(longest):.4g} min", fix="count from when the slowest mould sensor came in",
            )  # fmt: skip


def _faults(fault: CureFault, began: Floats) -> tuple[Fault, ...]:
    """The engine's faults, each at its own time in every run."""
    found: list[Fault] = []
    if fault.dead_after is not None and fault.zone is not None:
        found.append(ZoneDead(fault.zone, np.maximum(began + fault.dead_after, 0.0)))
    if fault.low is not None and fault.zone is not None:
        found.append(SensorOffset(fault.zone, fault.low))
    if fault.power_cut_after is not None:
        since = np.maximum(began + fault.power_cut_after, 0.0)
        found.append(PowerCut(since, np.inf if fault.power_cut_for is None else since + fault.power_cut_for))
    return tuple(found)


def _wetting(fault: CureFault, began: Floats, gelled: float | None) -> Finding | None:
    if fault.pressure_late is not None:
        return pressure_late(fault.pressure_late)
    if fault.pressure_lost_after is not None:
        return pressure_lost(float(began.min()) + fault.pressure_lost_after, gelled)
    return None
