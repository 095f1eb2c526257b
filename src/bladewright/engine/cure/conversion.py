"""Degree of cure along any number of temperature histories, error controlled, begun anew at every joint of branches."""

from dataclasses import dataclass

import numpy as np

from bladewright.engine.arrays import Bools, Floats, Integers, require_increasing
from bladewright.engine.cure.kelvin import require_kelvin
from bladewright.engine.cure.kinetics import Kinetics, cure_rate
from bladewright.engine.cure.stepping import ORDER, pair_step
from bladewright.errors import BadInput, NotConverged

TOLERANCE = 1e-7  # of the degree of cure in one step; the tests see what adds up
SMALLEST = 1e-6  # below this degree of cure the error of a step is no longer counted in parts of it
LARGER, SMALLER, SAFETY = 5.0, 0.2, 0.9  # a step against the one before; usual choices
MOST_STEPS = 20_000  # between two samples; far beyond any sensible need


@dataclass(slots=True)
class _Lanes:
    """Where every history stands between two samples."""

    state: Floats  # a**share, which leaves zero where the degree of cure itself would not [1]
    branch: Integers
    step: Floats  # the next to be tried [s]


@dataclass(frozen=True, slots=True)
class _Course:
    """The kinetics in the variable that is stepped."""

    kinetics: Kinetics
    less: float  # m of the start; the state is a**(1 - m) [1]
    limits: Floats  # state at which each branch ends; infinite for the last [1]
    pace: Floats  # of each lane [1]

    def slope(self, branch: Integers, temperature: Floats, state: Floats) -> Floats:
        cured = np.maximum(state, 0.0) ** (1.0 / (1.0 - self.less))
        first = int(branch[0])
        if (branch == first).all():
            return (1.0 - self.less) * self._rate(cured, temperature, first)
        out = np.empty_like(state)
        for number in np.unique(branch):
            here = branch == number
            out[here] = self._rate(cured[here], temperature[here], int(number))
        return (1.0 - self.less) * out

    def _rate(self, cured: Floats, temperature: Floats, branch: int) -> Floats:
        return cure_rate(self.kinetics, cured, temperature, branch, self.less)


def conversion(
    kinetics: Kinetics,
    seconds: Floats,
    temperature: Floats,
    start: float | Floats,
    pace: float | Floats = 1.0,
    tolerance: float = TOLERANCE,
) -> Floats:
    """Degree of cure at every sample of histories that go straight between samples.

    Each history has its own step. A step that would cross a joint of two branches is taken in the degree of cure
    instead of in time, ``dt/da = 1/(da/dt)``, and so ends on the joint, where the next branch begins anew.

    Parameters
    ----------
    kinetics : Kinetics
        [-]
    seconds : (t,) array
        Times of the samples, increasing. [s]
    temperature : (..., t) array
        [K]
    start : float or (...) array
        Degree of cure at the first sample, 0 to below 1: what was cured before, in storage say. [1]
    pace : float or (...) array
        Factor on every rate of a history: how much quicker one lot is than what was entered. [1]
    tolerance : float
        Of one step. [1]

    Returns
    -------
    array
        Of the shape of ``temperature``. [1]

    Raises
    ------
    StationOrder
        If the times do not increase.
    OutsideValidity
        If a temperature cannot be one of a cure in kelvin.
    BadInput
        If the start is outside 0 to 1, or zero where the form does not begin by itself.
    NotConverged
        If the steps between two samples do not end.

    Notes
    -----
    A purely autocatalytic form with ``m < 1`` has two solutions from zero; the one that leaves it is given, by
    stepping ``a**(1 - m)``. With ``m >= 1`` there is only the one that stays, and a start above zero is asked for.
    The film's own heat is left out: it is thin and between metal.

    Source: step in the dependent variable, M. Henon, Physica D 5, 1982 (from memory); steps as in ``stepping``.
    """
    require_increasing(seconds, "seconds")
    require_kelvin(temperature, "temperature")
    histories = temperature.reshape(-1, temperature.shape[-1])
    begun = np.broadcast_to(np.asarray(start, dtype=float), temperature.shape[:-1]).reshape(-1)
    _require_start(kinetics, begun)
    power = kinetics.least_power
    less = power if power < 1.0 else 0.0
    joints = np.array([*kinetics.joints, np.inf])
    quick = np.broadcast_to(np.asarray(pace, dtype=float), temperature.shape[:-1]).reshape(-1)
    course = _Course(kinetics, less, joints ** (1.0 - less), quick)
    out = np.empty(histories.shape)
    out[:, 0] = begun
    lanes = _Lanes(begun ** (1.0 - less), np.searchsorted(joints, begun, side="right"), np.full(len(begun), np.inf))
    for at, length in enumerate(np.diff(seconds)):
        _advance(course, lanes, histories[:, at], histories[:, at + 1], float(length), tolerance)
        out[:, at + 1] = np.minimum(lanes.state, 1.0) ** (1.0 / (1.0 - less))
    return out.reshape(temperature.shape)


def _require_start(kinetics: Kinetics, begun: Floats) -> None:
    wrong = ~((begun >= 0.0) & (begun < 1.0))
    if wrong.any():
        raise BadInput(
            "is no degree of cure to start from", field="start", value=float(begun[wrong][0]), allowed="0 to below 1"
        )
    if kinetics.least_power >= 1.0 and (begun == 0.0).any():
        raise BadInput(
            "from exactly zero this form never begins",
            field="start",
            value=0.0,
            allowed="above 0",
            fix="enter the degree of cure the adhesive is delivered with",
        )


def _advance(course: _Course, lanes: _Lanes, cold: Floats, warm: Floats, length: float, tolerance: float) -> None:
    """All lanes over one interval, from one temperature straight to the other."""
    gone = np.zeros(len(cold))
    for _ in range(MOST_STEPS):
        (going,) = np.nonzero(gone < length)
        if not going.size:
            return
        left = length - gone[going]
        step = np.minimum(lanes.step[going], left)
        branch, state, since = lanes.branch[going], lanes.state[going], gone[going]
        rise = (warm[going] - cold[going]) / length
        pace = course.pace[going]
        along = _Along(course, branch, pace, cold[going], rise)
        new, error = pair_step(along.by_time, since, state, step)
        miss = _in_parts(error, state, new, tolerance)
        ends = np.where(step >= left, length, since + step)
        crossing = (miss <= 1.0) & (new > course.limits[branch])
        if crossing.any():
            some = np.nonzero(crossing)[0]
            limit = course.limits[branch[some]]
            inner = _Along(course, branch[some], pace[some], cold[going][some], rise[some])
            reached, late = pair_step(inner.by_state, state[some], since[some], limit - state[some])
            with np.errstate(invalid="ignore"):
                miss[some] = _in_parts(late * inner.by_time(reached, limit), state[some], limit, tolerance)
            new[some], ends[some] = limit, np.minimum(reached, length)
            branch[some] += 1
        good = miss <= 1.0
        with np.errstate(divide="ignore"):
            factor = np.where(miss > 0.0, SAFETY * miss ** (-1.0 / ORDER), LARGER)
        wanted = step * np.clip(np.nan_to_num(factor, nan=SMALLER), SMALLER, LARGER)
        # a step cut short by the sample says nothing against the longer one wanted before
        lanes.step[going] = np.where(good & (step >= left), np.maximum(wanted, lanes.step[going]), wanted)
        _take(lanes, gone, going, good, new, branch, ends)
    raise NotConverged("the cure could not be followed between two samples", field="tolerance", value=tolerance)


def _take(
    lanes: _Lanes, gone: Floats, going: Integers, good: Bools, new: Floats, branch: Integers, ends: Floats
) -> None:
    """Move the lanes whose step was good enough."""
    moved = going[good]
    lanes.state[moved], lanes.branch[moved], gone[moved] = new[good], branch[good], ends[good]


def _in_parts(error: Floats, before: Floats, after: Floats, tolerance: float) -> Floats:
    """Error over what is allowed; infinite where it is no number."""
    allowed = tolerance * (SMALLEST + np.maximum(before, after))
    return np.nan_to_num(error / allowed, nan=np.inf)


@dataclass(frozen=True, slots=True)
class _Along:
    """The slope of some lanes within one interval, in time or the other way about."""

    course: _Course
    branch: Integers
    pace: Floats  # [1]
    cold: Floats  # at the start of the interval [K]
    rise: Floats  # [K/s]

    def by_time(self, since: Floats, state: Floats) -> Floats:
        return self.pace * self.course.slope(self.branch, self.cold + self.rise * since, state)

    def by_state(self, state: Floats, since: Floats) -> Floats:
        with np.errstate(divide="ignore"):
            return 1.0 / self.by_time(since, state)
