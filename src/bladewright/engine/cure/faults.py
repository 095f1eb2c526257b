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
    running: Floats  # (steps, 1, runs or 1) part of each step in which the controllers run [1]
    offset: Floats  # (steps, 6, runs or 1) reading less truth, its mean over the step [K]


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
        If a zone does not exist.

    Notes
    -----
    A fault within a step counts with its part of the step, so its heat is right whenever it comes.

    Source: elementary.
    """
    runs = max((np.size(value) for fault in faults for value in _numbers(fault)), default=1)
    powered, offset = np.ones((len(edges) - 1, ZONES, runs)), np.zeros((len(edges) - 1, ZONES, runs))
    running = np.ones((len(edges) - 1, 1, runs))
    for fault in faults:
        if isinstance(fault, PowerCut):
            fed = 1.0 - _between(edges, fault.since, fault.until)
            powered *= fed[:, None]
            running *= fed[:, None]
            continue
        if not 1 <= fault.zone <= ZONES:
            raise BadInput("is no zone", field="zone", value=fault.zone, allowed=f"1 to {ZONES}")
        gone = _between(edges, fault.since, NEVER)
        if isinstance(fault, ZoneDead):
            powered[:, fault.zone - 1] *= 1.0 - gone
        else:
            offset[:, fault.zone - 1] += gone * fault.offset
    return Disturbed(powered, running, offset)


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
