"""Bodies whose temperature was logged, and what those without a reading did between them."""

from dataclasses import dataclass

import numpy as np

from bladewright.engine.arrays import Bools, Floats, require_increasing
from bladewright.engine.cure.network import ExactStep, HeatNetwork, exact_step
from bladewright.errors import BadInput

SAME = 1e-6  # [s] steps of time nearer than this are one


def driven_course(network: HeatNetwork, seconds: Floats, known: Floats, start: Floats, ambient: float) -> Floats:
    """Temperatures of all bodies where some are given, straight between samples; the others get no heat of their own.

    A body is given over a step where both ends have a reading, else it follows its neighbours and the room. When its
    readings come back it is where they say.

    Parameters
    ----------
    network : HeatNetwork
        One, or many along a leading axis. [-]
    seconds : (t,) array
        Increasing. [s]
    known : (..., t, n) array
        Not a number where a body was not read, at the same places in every run. [K]
    start : (..., n) array
        Where the bodies without a reading begin. [K]
    ambient : float
        Of the room. [K]

    Returns
    -------
    array
        (..., t, n). [K]

    Raises
    ------
    StationOrder
        If the times do not increase.
    BadInput
        If readings are missing at different places in different runs.

    Notes
    -----
    A heater that was not read is so taken as dead: the coldest it can have been.

    Source: own model; exact for readings that go straight between samples, elementary.
    """
    require_increasing(seconds, "seconds")
    missing = np.isnan(known)
    one = missing.reshape(-1, *missing.shape[-2:])[0]
    if (missing != one).any():
        raise BadInput("misses readings at different places", field="known", allowed="the same places in every run")
    leading = np.broadcast_shapes(network.capacity.shape[:-1], known.shape[:-2])
    out = np.array(np.broadcast_to(known, (*leading, *known.shape[-2:])))
    out[..., 0, :] = np.where(np.isnan(out[..., 0, :]), start, out[..., 0, :])
    parts: dict[tuple[bytes, int], _Part] = {}
    for at, length in enumerate(np.diff(seconds)):
        free = one[at] | one[at + 1]
        if not free.any():
            continue
        key = free.tobytes(), round(float(length) / SAME)
        if key not in parts:
            parts[key] = _Part.of(network, free, float(length), ambient)
        after = parts[key].after(out[..., at, :], out[..., at + 1, :])
        out[..., at + 1, free] = np.where(one[at + 1][free], after, out[..., at + 1, free])
    return out


@dataclass(frozen=True, slots=True)
class _Part:
    """The bodies that are free over a step of one length, and what the given ones and the room pass to them."""

    free: Bools
    reach: Floats  # (..., free, given) [W/K]
    room: Floats  # (..., free) [W]
    step: ExactStep

    @classmethod
    def of(cls, network: HeatNetwork, free: Bools, length: float, ambient: float) -> "_Part":
        reach = network.between[..., free, :][..., ~free]
        left = HeatNetwork(
            network.capacity[..., free],
            network.between[..., free, :][..., free],
            network.to_ambient[..., free] + reach.sum(axis=-1),
        )
        return cls(free, reach, network.to_ambient[..., free] * ambient, exact_step(left, length))

    def after(self, before: Floats, then: Floats) -> Floats:
        """The free bodies at the end of the step. [K]"""
        first, second = (self.room + _applied(self.reach, state[..., ~self.free]) for state in (before, then))
        moved = _applied(self.step.held, first) + _applied(self.step.rising, second - first)
        return _applied(self.step.carry, before[..., self.free]) + moved


def _applied(matrix: Floats, vector: Floats) -> Floats:
    found: Floats = np.matmul(matrix, vector[..., None])[..., 0]
    return found
