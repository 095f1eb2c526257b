"""Many runs of an oven at once: exact in the heat, second order in what the assumed controller makes of it."""

from dataclasses import dataclass

import numpy as np

from bladewright.engine.arrays import Floats
from bladewright.engine.cure.broken_steps import broken_steps
from bladewright.engine.cure.control import AssumedControl, Schedule
from bladewright.engine.cure.faults import Fault, disturbed
from bladewright.engine.cure.modal_heat import ModalHeat, runs_last
from bladewright.engine.cure.network import step_weights
from bladewright.engine.cure.oven import BODIES, BONDLINE, HEATERS, MOULD, ZONES, Oven, oven_network
from bladewright.errors import BadInput

STEP = 20.0  # [s] the tests say how far from the exact course this is for a usual oven


@dataclass(frozen=True, slots=True)
class Simulated:
    """Runs over time. True temperatures: what a sensor that reads falsely shows is ``mould + offset``."""

    seconds: Floats  # (t,) [s]
    heater: Floats  # (runs, 6, t) [K]
    mould: Floats  # (runs, 6, t) [K]
    bondline: Floats  # (runs, 3, t) [K]
    power: Floats  # (runs, 6, t) given by each heater [W]


def simulate(
    oven: Oven,
    schedule: Schedule,
    control: AssumedControl,
    faults: tuple[Fault, ...] = (),
    duration: float | None = None,
    step: float = STEP,
    every: int = 3,
) -> Simulated:
    """Temperatures of every run, from all at the room's temperature.

    Over a step power goes straight from what the controller asks at its start to what it asks at its end, which is
    found by one try with power held; for power that does so the heat is exact.

    Parameters
    ----------
    oven : Oven
        One for all runs, or (runs, ...) drawn ones. [-]
    schedule : Schedule
        [-]
    control : AssumedControl
        [-]
    faults : tuple of Fault
        With one time for all, or (runs,) times. [-]
    duration : float or None
        None ends with the schedule. [s]
    step : float
        [s]
    every : int
        Keep one state in so many steps. [-]

    Returns
    -------
    Simulated

    Raises
    ------
    BadInput
        If the duration is less than a step, or numbers of runs differ.

    Notes
    -----
    The controller is assumed, so what it does near the band's edge is too. Error falls with the square of the step.
    Assumed are also: bodies of one temperature, steady conductances, no heat of cure, no radiation apart from losses.

    Source: own method; exponential integrators with a linear hold, M. Hochbruck, A. Ostermann, Acta Numerica 19,
    2010 (from memory).
    """
    ends = float(schedule.seconds[-1]) if duration is None else duration
    count = round(ends / step)
    if count < 1:
        raise BadInput("is less than one step", field="duration", value=ends, allowed=f"at least {step:g} s")
    edges: Floats = step * np.arange(count + 1, dtype=np.float64)
    upset = disturbed(faults, edges)
    network = oven_network(oven)
    runs = _runs(network.capacity.shape[:-1], upset.runs)
    heat, reset = ModalHeat.of(network, step), _Reset.of(control.reset, step)
    gain, most = runs_last(control.gain), runs_last(oven.greatest_power)
    wanted = schedule.at(edges) - schedule.ambient  # all above the room, which so asks for no term of its own
    states = np.zeros((BODIES, runs))
    integral = np.zeros((ZONES, runs))
    out = np.empty((count // every + 1, BODIES, runs))
    given = np.zeros((count // every + 1, ZONES, runs))
    broken = broken_steps(upset.powered, heat, runs)
    for number in range(count + 1):
        at = min(number, count - 1)
        fed, running, offset = upset.powered[at] == 1.0, upset.running[at], upset.offset[at]
        power = _asked(gain, most, wanted[number] - offset - heat.mould(states), integral)
        if number % every == 0:
            out[number // every], given[number // every] = heat.everywhere(states), power * upset.fed[number]
        if number == count:
            break
        driven = heat.from_heaters(power * fed)
        tried = heat.decay * states + heat.held * driven
        for part in broken.get(number, ()):
            tried[:, part.run] += part.held * power[part.zone, part.run]
        held = integral + running * reset.held * (power - integral)
        then = _asked(gain, most, wanted[number + 1] - offset - heat.mould(tried), held)
        states = tried + heat.rising * (heat.from_heaters(then * fed) - driven)
        for part in broken.get(number, ()):
            states[:, part.run] += part.rising * (then - power)[part.zone, part.run]
        integral = held + running * reset.rising * (then - power)
    out += schedule.ambient
    along = np.moveaxis(out, (0, 1, 2), (2, 1, 0))
    return Simulated(
        edges[::every],
        along[:, HEATERS],
        along[:, MOULD],
        along[:, BONDLINE],
        np.moveaxis(given, (0, 1, 2), (2, 1, 0)),
    )


def _asked(gain: Floats, most: Floats, short: Floats, integral: Floats) -> Floats:
    """Power the controllers ask for; what is ``short`` of the set temperature they read. [W]"""
    power: Floats = np.minimum(np.maximum(gain * short + integral, 0.0), most)
    return power


@dataclass(frozen=True, slots=True)
class _Reset:
    """How the integral follows the power over one step, exactly."""

    held: float  # [1]
    rising: float  # [1]

    @classmethod
    def of(cls, reset: float, step: float) -> "_Reset":
        lag = step / reset
        first, second = step_weights(np.array(lag))
        return cls(float(lag * first), float(lag * second))


def _runs(leading: tuple[int, ...], faulted: int) -> int:
    """How many runs there are; ovens and faults must agree where both have many."""
    drawn = leading[0] if leading else 1
    if len(leading) > 1 or (drawn != faulted and 1 not in (drawn, faulted)):
        raise BadInput("runs of ovens and of faults differ", field="faults", value=faulted, allowed=f"1 or {drawn}")
    return max(drawn, faulted)
