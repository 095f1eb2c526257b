"""Energy and hover-time indices, and the fall of rotor speed after the engine stops."""

import math
from functools import cache

import numpy as np

from bladewright.engine.rotor.rotor_energy import (
    EnergyIndices,
    PowerLoss,
    energy_indices,
    speed_after_power_loss,
    time_to_speed,
)
from bladewright.selfcheck.case import Case

INDEX = "E. A. Fradenburgh, J. Am. Helicopter Soc. 29, 1984 (definition from memory), recomputed"
HOVER = "I W^2/2 over hover power: definition, no source"
USABLE = "T. L. Wood, AHS Forum, 1976, as in W. Johnson, Helicopter Theory, 1980, ch. 7 (from memory), recomputed"
DECAY = "torque with the square of speed, pitch held: closed form"
SPEED, INERTIA, POWER = 560.0 * math.pi / 30.0, 68.4, 38399.8
LOSS = PowerLoss(SPEED, INERTIA, POWER / SPEED, reaction=10.0, lowering=0.0, left=1.0)
FOOT, POUND = 0.3048, 4.4482216152605


@cache
def _indices() -> EnergyIndices:
    return energy_indices(INERTIA, SPEED, 3600.0, math.pi * 9.0, POWER, 0.087915785, 0.14)


CASES: tuple[Case, ...] = (
    Case(HOVER, "stored energy [J]", lambda: _indices().stored_energy, 117614.1, 0.06),
    Case(INDEX, "stored energy index [m^3/N]", lambda: _indices().stored_energy_index, 0.25659417, 3e-8),
    Case(
        INDEX, "stored energy index [ft^3/lbf]", lambda: _indices().stored_energy_index * POUND / FOOT**3,
        40.30773, 1e-5,
    ),
    Case(HOVER, "hover-seconds [s]", lambda: _indices().hover_seconds, 3.0628832, 3e-6),
    Case(USABLE, "usable hover-seconds [s]", lambda: _indices().usable_hover_seconds, 0.65863516, 1e-6),
    Case(DECAY, "time constant [s]", lambda: LOSS.time_constant, 6.1257664, 6e-6),
    Case(DECAY, "time to 80 % of the speed [s]", lambda: time_to_speed(LOSS, 0.8), 1.5314416, 2e-6),
    Case(
        DECAY, "speed after 1 s [rev/min]",
        lambda: float(speed_after_power_loss(LOSS, np.array([1.0]))[0]) * 30.0 / math.pi, 481.41196, 2e-4,
    ),
)  # fmt: skip
