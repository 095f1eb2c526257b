"""Many runs of an oven at once: exact in the heat, second order in what the assumed controller makes of it."""

from dataclasses import dataclass

import numpy as np

from bladewright.engine.arrays import Floats
from bladewright.engine.cure.control import AssumedControl, Schedule
from bladewright.engine.cure.faults import Fault, disturbed
from bladewright.engine.cure.network import HeatNetwork, heat_modes, step_weights
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
    runs = _runs(network.capacity.shape[:-1], upset.powered.shape[-1])
    heat, reset = _Heat.of(network, step), _Reset.of(control.reset, step)
    gain, most = _runs_last(control.gain), _runs_last(oven.greatest_power)
    wanted = schedule.at(edges) - schedule.ambient  # all above the room, which so asks for no term of its own
    states = np.zeros((BODIES, runs))
    integral = np.zeros((ZONES, runs))
    out = np.empty((count // every + 1, BODIES, runs))
    given = np.zeros((count // every + 1, ZONES, runs))
    power = np.zeros((ZONES, runs))
    for number in range(count + 1):
        fed, running, offset = (each[min(number, count - 1)] for each in (upset.powered, upset.running, upset.offset))
        power = _asked(gain, most, wanted[number] - offset - heat.mould(states), integral)
        if number % every == 0:
            out[number // every], given[number // every] = heat.all(states), power * fed
        if number == count:
            break
        driven = heat.from_heaters(power * fed)
        tried = heat.decay * states + heat.held * driven
        held = integral + running * reset.held * (power - integral)
        then = _asked(gain, most, wanted[number + 1] - offset - heat.mould(tried), held)
        states = tried + heat.rising * (heat.from_heaters(then * fed) - driven)
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


@dataclass(frozen=True, slots=True)
class _Heat:
    """Modes of one oven or of each run's, runs last, since that is how the processor reads them."""

    decay: Floats  # (modes, runs or 1) [1]
    held: Floats  # (modes, runs or 1) [s]
    rising: Floats  # (modes, runs or 1) [s]
    shapes: Floats  # (bodies, modes) or (bodies, modes, runs) [K]
    of_mould: Floats  # the rows of the mould [K]
    of_heaters: Floats  # the rows of the heaters, turned [K]

    @classmethod
    def of(cls, network: HeatNetwork, step: float) -> "_Heat":
        modes = heat_modes(network)
        decay = modes.rates * step
        held, rising = step_weights(decay)
        shapes = np.ascontiguousarray(np.moveaxis(modes.shapes, 0, -1)) if modes.shapes.ndim > 2 else modes.shapes
        turned = np.ascontiguousarray(np.swapaxes(shapes[HEATERS], 0, 1))
        mould = np.ascontiguousarray(shapes[MOULD])
        return cls(
            _runs_last(np.exp(-decay)), _runs_last(step * held), _runs_last(step * rising), shapes, mould, turned
        )

    def all(self, states: Floats) -> Floats:
        return _through(self.shapes, states)

    def mould(self, states: Floats) -> Floats:
        return _through(self.of_mould, states)

    def from_heaters(self, power: Floats) -> Floats:
        return _through(self.of_heaters, power)


def _through(matrix: Floats, vectors: Floats) -> Floats:
    """One matrix for all runs, or one for each."""
    found: Floats = matrix @ vectors if matrix.ndim == 2 else np.einsum("ijr,jr->ir", matrix, vectors)
    return found


def _runs_last(values: Floats) -> Floats:
    """(zones,) or (runs, zones) as (zones, runs or 1), and what is one for all as it is."""
    each = np.asarray(values, dtype=float)
    return each if each.ndim == 0 else np.ascontiguousarray(np.atleast_2d(each).T)


def _runs(leading: tuple[int, ...], faulted: int) -> int:
    """How many runs there are; ovens and faults must agree where both have many."""
    drawn = leading[0] if leading else 1
    if len(leading) > 1 or (drawn != faulted and 1 not in (drawn, faulted)):
        raise BadInput("runs of ovens and of faults differ", field="faults", value=faulted, allowed=f"1 or {drawn}")
    return max(drawn, faulted)
