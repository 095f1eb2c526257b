"""What the invented shop's instruments would have written: seeded numbers, nothing from anywhere else.

The shop, its people, blades and figures are invented. Nothing in ``src`` knows this file.
"""

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

Floats = NDArray[np.float64]

ZONES = ("1", "2", "3", "4", "5", "6")
SAMPLE_SECONDS = 60.0
ROOM_F, TARGET_F, RELEASE_F = 70.0, 250.0, 120.0


@dataclass(frozen=True, slots=True)
class Cure:
    """One oven run in the units of the shop's logger."""

    minutes: Floats  # (n,)
    mould: Floats  # (n, 6) degF
    heater: Floats  # (n, 6) degF
    pressure: Floats  # (n,) psi gauge


def cure(rng: np.random.Generator, ramp: float = 3.6, dwell_minutes: float = 72.0) -> Cure:
    """A good cure: ramp in degF per minute, dwell on the controller's clock."""
    rise = (TARGET_F - ROOM_F) / ramp
    fall = (TARGET_F - RELEASE_F + 20.0) / 4.0
    minutes = np.arange(0.0, rise + dwell_minutes + fall + 25.0, SAMPLE_SECONDS / 60.0)
    asked = np.interp(
        minutes,
        [0.0, 8.0, 8.0 + rise, 20.0 + rise + dwell_minutes, 20.0 + rise + dwell_minutes + fall],
        [ROOM_F, ROOM_F, TARGET_F, TARGET_F, RELEASE_F - 20.0],
    )
    lag_minutes = rng.uniform(2.0, 3.2, size=6)
    offset = rng.uniform(-1.1, 1.1, size=6)
    mould = np.empty((minutes.size, 6))
    mould[0] = ROOM_F + rng.uniform(-0.6, 0.6, size=6)
    for row in range(1, minutes.size):
        wanted = asked[row] + offset * np.clip((asked[row] - ROOM_F) / (TARGET_F - ROOM_F), 0.0, 1.0)
        mould[row] = mould[row - 1] + (wanted - mould[row - 1]) * (SAMPLE_SECONDS / 60.0) / lag_minutes
    rate = np.gradient(mould, minutes, axis=0)
    heater = mould + 9.0 * (mould - ROOM_F) / (TARGET_F - ROOM_F) + 4.0 * np.maximum(rate, -1.0)
    mould += rng.normal(0.0, 0.12, size=mould.shape)
    heater += rng.normal(0.0, 0.3, size=heater.shape)
    on = minutes >= 3.0
    cold = np.flatnonzero((mould.max(axis=1) < RELEASE_F) & (minutes > rise + dwell_minutes))
    pressure = np.where(on, 42.0 + rng.normal(0.0, 0.25, size=minutes.size), 0.0)
    pressure[cold[0] + 2 :] = 0.0
    return Cure(minutes, mould, heater, pressure)


def peel(rng: np.random.Generator, level: float) -> tuple[Floats, Floats]:
    """Crosshead travel [mm] and force [lbf] of a 1 in wide seam coupon torn at a mean level in lbf."""
    travel = np.arange(0.0, 360.5, 0.5)
    peak = 1.45 * level * np.exp(-(((travel - 24.0) / 9.0) ** 2))
    steady = level / (1.0 + np.exp(-(travel - 30.0) / 6.0))
    wave = 0.035 * level * np.sin(travel / 4.7 + rng.uniform(0.0, 6.0))
    force = np.where(travel < 1.0, 0.0, peak + steady + wave * (travel > 35.0))
    force += rng.normal(0.0, 0.012 * level, size=travel.size) * (travel > 2.0)
    force[travel > 352.0] = 0.3
    return travel, np.maximum(force, 0.0)


def weighing(rng: np.random.Generator, difference: float, scatter: float, times: int = 5) -> tuple[Floats, Floats]:
    """Repeated readings of master and blade on one rig, taken in turn, with the rig's slow drift in both."""
    drift = np.cumsum(rng.normal(0.0, 0.3 * scatter, size=times))
    master = drift + rng.normal(0.0, scatter, size=times)
    return master, master + difference + rng.normal(0.0, scatter, size=times)
