"""Many runs of an oven at once: exact in the heat, second order in what the assumed controller makes of it."""

import math
from dataclasses import dataclass

import numpy as np

from bladewright.engine.arrays import Floats
from bladewright.engine.cure.broken_steps import broken_steps
from bladewright.engine.cure.control import AssumedControl, Schedule
from bladewright.engine.cure.faults import Fault, disturbed
from bladewright.engine.cure.modal_heat import ModalHeat, runs_last
from bladewright.engine.cure.network import step_weights
from bladewright.engine.cure.oven import BODIES, BONDLINE, HEATERS, MOULD, ZONES, Oven, oven_network
from bladewright.errors import BadInput, OutsideValidity

ROUNDING = 1e-9  # a duration that is whole steps but for rounding is whole steps
QUICKEST = 1.0  # power asked back for each watt a step gave; twice that swings without end
STEP = 20.0  # [s] the tests say how far from the exact course this is for a usual oven


@dataclass(frozen=True, slots=True)
class OvenState:
    """Where a run stands, so that it can be gone on with: after a forecast's last reading, say."""

    temperature: Floats  # (15,) or (runs, 15), heaters, mould, bondline [K]
    integral: Floats  # (6,) or (runs, 6) of the assumed controllers; the power that holds it there is a fair guess [W]


@dataclass(frozen=True, slots=True)
class Simulated:
    """Runs over time. True temperatures: what a sensor that reads falsely shows is ``mould + offset``."""

    seconds: Floats  # (t,) [s]
    heater: Floats  # (runs, 6, t) [K]
    mould: Floats  # (runs, 6, t) [K]
    bondline: Floats  # (runs, 3, t) [K]
    power: Floats  # (runs, 6, t) given by each heater [W]
    ended: OvenState  # at the last time


def simulate(
    oven: Oven,
    schedule: Schedule,
    control: AssumedControl,
    faults: tuple[Fault, ...] = (),
    duration: float | None = None,
    step: float = STEP,
    every: int = 3,
    begun: OvenState | None = None,
    since: float = 0.0,
) -> Simulated:
    """Temperatures of every run, from all at the room's temperature or from where it stands.

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
        None ends with the schedule; made longer to whole kept steps. [s]
    step : float
        [s]
    every : int
        Keep one state in so many steps. [-]
    begun : OvenState or None
        None is all at the room's temperature. [-]
    since : float
        Time of the schedule and of the faults at which it begins. [s]

    Returns
    -------
    Simulated

    Raises
    ------
    BadInput
        If the duration is less than a step, or numbers of runs differ.
    OutsideValidity
        If the assumed control answers so quickly that a step of this length would swing.

    Notes
    -----
    The controller is assumed, so what it does near the band's edge is too. Error falls with the square of the step.
    Assumed are also: bodies of one temperature, steady conductances, no heat of cure, no radiation apart from losses.

    Source: own method; exponential integrators with a linear hold, M. Hochbruck, A. Ostermann, Acta Numerica 19,
    2010 (from memory).
    """
    lasts = float(schedule.seconds[-1]) - since if duration is None else duration
    if not lasts >= step:
        raise BadInput("is less than one step", field="duration", value=lasts, allowed=f"at least {step:g} s")
    count = every * math.ceil(lasts / (every * step) - ROUNDING)
    edges: Floats = since + step * np.arange(count + 1, dtype=np.float64)
    upset = disturbed(faults, edges)
    network = oven_network(oven)
    runs = _runs(network.capacity.shape[:-1], upset.runs, np.shape(control.gain)[:-1], begun)
    heat, reset = ModalHeat.of(network, step), _Reset.of(control.reset, step)
    gain, most = runs_last(control.gain), runs_last(oven.greatest_power)
    _require_steady(heat, gain, step / control.reset, step)
    wanted = schedule.at(edges) - schedule.ambient  # all above the room, which so asks for no term of its own
    states, integral = np.zeros((BODIES, runs)), np.zeros((ZONES, runs))
    if begun is not None:
        states += heat.states(runs_last(begun.temperature) - schedule.ambient)
        integral += runs_last(begun.integral)
    out = np.empty((count // every + 1, BODIES, runs))
    given = np.zeros((count // every + 1, ZONES, runs))
    broken = broken_steps(upset.powered, heat, runs)
    for number in range(count + 1):
        at = min(number, count - 1)
        fed, running, offset = upset.powered[at] == 1.0, upset.running[at], upset.offset[at]
        kept = number // every if number % every == 0 else None
        if kept is None:
            mould = heat.mould(states)
        else:
            out[kept] = heat.everywhere(states)
            mould = out[kept, MOULD]
        power = _asked(gain, most, wanted[number] - offset - mould, integral)
        if kept is not None:
            given[kept] = power * upset.fed[number]
        if number == count:
            break
        tried = heat.decay * states + heat.held * heat.from_heaters(power * fed)
        for part in broken.get(number, ()):
            tried[:, part.run] += part.held * power[part.zone, part.run]
        held = integral + running * reset.held * (power - integral)
        then = _asked(gain, most, wanted[number + 1] - offset - heat.mould(tried), held)
        rise = then - power
        states = tried + heat.rising * heat.from_heaters(rise * fed)
        for part in broken.get(number, ()):
            states[:, part.run] += part.rising * rise[part.zone, part.run]
        integral = held + running * reset.rising * rise
    out += schedule.ambient
    along = np.moveaxis(out, (0, 1, 2), (2, 1, 0))
    return Simulated(
        edges[::every],
        along[:, HEATERS],
        along[:, MOULD],
        along[:, BONDLINE],
        np.moveaxis(given, (0, 1, 2), (2, 1, 0)),
        OvenState(along[..., -1], integral.T),
    )


def _require_steady(heat: ModalHeat, gain: Floats, lag: float, step: float) -> None:
    """Raise ``OutsideValidity`` where what one step's power does is answered by as much power or more."""
    answered = float(np.max(gain * heat.own_response))
    if max(answered, lag) < QUICKEST:
        return
    raise OutsideValidity(
        "the assumed control is too quick for this step",
        field="step",
        value=step,
        allowed=f"below {step * QUICKEST / max(answered, lag):.3g} s",
        fix="take a shorter step, or assume a lower gain and a longer reset",
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


def _runs(leading: tuple[int, ...], faulted: int, gains: tuple[int, ...], begun: OvenState | None) -> int:
    """How many runs there are; ovens, faults and beginnings must agree where they have many."""
    several = {1, faulted, *leading, *gains}
    if begun is not None:
        several |= {*begun.temperature.shape[:-1], *begun.integral.shape[:-1]}
    if len(leading) > 1 or len(several) > 2:
        raise BadInput(
            "runs of ovens, faults or beginnings differ",
            field="faults",
            value=faulted,
            allowed="one number, or one for all",
        )
    return max(several)
