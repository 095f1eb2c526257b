"""What goes wrong in an oven, as data: each at one time for all runs, or at a time of its own in every run."""

from dataclasses import dataclass

import numpy as np

from bladewright.engine.arrays import Floats
from bladewright.engine.cure.oven import ZONES
from bladewright.errors import BadInput

NEVER = np.inf


@dataclass(frozen=True, slots=True)
class ZoneDead:
    """A heater that gives nothing from a time on."""

    zone: int  # counted from 1 [-]
    since: float | Floats  # one, or (runs,) [s]


@dataclass(frozen=True, slots=True)
class SensorOffset:
    """A mould sensor that reads too much by an offset from a time on, so that its zone is kept too cold by it."""

    zone: int  # counted from 1 [-]
    offset: float | Floats  # reading less truth, one or (runs,) [K]
    since: float | Floats = 0.0  # [s]


@dataclass(frozen=True, slots=True)
class PowerCut:
    """No heater gives anything and the controllers stand still between two times."""

    since: float | Floats  # [s]
    until: float | Floats = NEVER  # [s]


Fault = ZoneDead | SensorOffset | PowerCut


@dataclass(frozen=True, slots=True)
class Disturbed:
    """All faults together, step by step."""

    powered: Floats  # (steps, 6, runs or 1) part of each step in which a heater is fed [1]
    fed: Floats  # (steps + 1, 6, runs or 1) one where a heater is fed at the very end of a step, else zero [1]
    running: Floats  # (steps, 1, runs or 1) part of each step in which the controllers run [1]
    offset: Floats  # (steps, 6, runs or 1) reading less truth, its mean over the step [K]

    @property
    def runs(self) -> int:
        """How many the faults ask for; one where each has one time for all."""
        return int(max(self.powered.shape[-1], self.offset.shape[-1]))


def disturbed(faults: tuple[Fault, ...], edges: Floats) -> Disturbed:
    """What the faults leave of power, control and readings over each step.

    Parameters
    ----------
    faults : tuple of Fault
        [-]
    edges : (steps + 1,) array
        Times of the ends of the steps. [s]

    Returns
    -------
    Disturbed

    Raises
    ------
    BadInput
        If a zone does not exist, or faults have different numbers of runs.

    Notes
    -----
    A fault within a step counts with its part of the step.

    Source: elementary.
    """
    _require_alike(faults)
    steps = len(edges) - 1
    offset = np.zeros((steps, ZONES, _runs_of(faults, SensorOffset)))
    cut = _runs_of(faults, PowerCut)
    powered = np.ones((steps, ZONES, max(cut, _runs_of(faults, ZoneDead))))
    fed = np.ones((steps + 1, *powered.shape[1:]))
    running = np.ones((steps, 1, cut))
    for fault in faults:
        if isinstance(fault, PowerCut):
            on = 1.0 - _between(edges, fault.since, fault.until)[:, None]
            powered *= on
            running *= on
            fed *= _outside(edges, fault.since, fault.until)[:, None]
            continue
        zone = fault.zone - 1
        gone = _between(edges, fault.since, NEVER)
        if isinstance(fault, ZoneDead):
            powered[:, zone] *= 1.0 - gone
            fed[:, zone] *= _outside(edges, fault.since, NEVER)
        else:
            offset[:, zone] += gone * fault.offset
    return Disturbed(powered, fed, running, offset)


def _require_alike(faults: tuple[Fault, ...]) -> None:
    sizes = {np.size(value) for fault in faults for value in _numbers(fault)} - {1}
    if len(sizes) > 1:
        raise BadInput("faults have different numbers of runs", field="faults", allowed="one number, or one for all")
    for fault in faults:
        if not isinstance(fault, PowerCut) and not 1 <= fault.zone <= ZONES:
            raise BadInput("is no zone", field="zone", value=fault.zone, allowed=f"1 to {ZONES}")


def _runs_of(faults: tuple[Fault, ...], kind: type) -> int:
    """Runs that faults of one kind ask for; what is the same in all runs is kept once."""
    return max((np.size(value) for fault in faults if isinstance(fault, kind) for value in _numbers(fault)), default=1)


def _numbers(fault: Fault) -> tuple[float | Floats, ...]:
    if isinstance(fault, PowerCut):
        return (fault.since, fault.until)
    return (fault.since,) if isinstance(fault, ZoneDead) else (fault.since, fault.offset)


def _between(edges: Floats, since: float | Floats, until: float | Floats) -> Floats:
    """Part of each step that lies between two times. (steps, runs or 1)"""
    low, high = edges[:-1, None], edges[1:, None]
    shared = np.minimum(high, np.atleast_1d(until)) - np.maximum(low, np.atleast_1d(since))
    part: Floats = np.clip(shared / (high - low), 0.0, 1.0)
    return part


def _outside(edges: Floats, since: float | Floats, until: float | Floats) -> Floats:
    """One at each end of a step that does not lie between two times. (steps + 1, runs or 1)"""
    at = edges[:, None]
    return np.where((at >= np.atleast_1d(since)) & (at < np.atleast_1d(until)), 0.0, 1.0)
