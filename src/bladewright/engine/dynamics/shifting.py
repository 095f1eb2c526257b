"""One blade at one speed, one control run and pattern, with something moved along the chord: stable up to where?"""

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Literal

import numpy as np

from bladewright.engine.arrays import Bools, Complexes, Floats, Integers
from bladewright.engine.dynamics.roots_in_air import state_matrix

Moved = Literal["mass", "lift"]  # all mass aft; the aerodynamic centre ahead

#: Least share of critical damping that still counts as dying out. A rotor whose blades feather freely leans over as a
#: whole at no cost, so a true blade has a motion of no damping at all, and what the beam leaves out, up to 5e-5 of
#: critical, must not make that flutter. Our choice.
NEUTRAL = -1e-4


@dataclass(frozen=True, slots=True)
class Shifting:
    """Mass, damping and stiffness with air, as ``value + s slope + s**2 curve`` of the shift, case by case."""

    mass: Floats  # (c, 3, k, k) value, slope, curve [kg, kg/m, kg/m^2]
    damping: Floats  # (c, 3, k, k) [N s/m and on]
    stiffness: Floats  # (c, 3, k, k) [N/m and on]


def through_three(values: Sequence[Floats], step: float) -> Floats:
    """Value, slope and curve of what goes with the square of a shift, from one step back, none and one on.

    Parameters
    ----------
    values : three arrays
        [any]
    step : float
        [m]

    Returns
    -------
    array
        One dimension more, in front. [any]

    Notes
    -----
    Exact: places enter mass and centrifugal stiffness, and the air, with no power above the second.

    Source: elementary.
    """
    back, here, on = values
    return np.stack([here, (on - back) / (2.0 * step), (on + back - 2.0 * here) / (2.0 * step**2)])


def least_damping(shifting: Shifting, cases: Integers, shifts: Floats) -> Floats:
    """The share of critical damping of what dies out slowest.

    Parameters
    ----------
    shifting : Shifting
        [-]
    cases : (n,) array of whole numbers
        Which cases. [-]
    shifts : (n,) array
        One for each. [m]

    Returns
    -------
    (n,) array
        Minus one where something grows without swinging. [1]

    Notes
    -----
    Source: elementary.
    """
    roots = np.linalg.eigvals(_states(shifting, cases, shifts))
    shares: Floats = (-roots.real / np.abs(roots)).min(axis=1)
    return shares


def slowest_to_die(shifting: Shifting, shifts: Floats) -> list[tuple[complex, Complexes]]:
    """Root and shape of that motion, of every case.

    Parameters
    ----------
    shifting : Shifting
        [-]
    shifts : (c,) array
        One for each case. [m]

    Returns
    -------
    list of complex and (k,) array
        Root [rad/s], shape in the shapes of the case.

    Notes
    -----
    Source: elementary.
    """
    every, shapes = np.linalg.eig(_states(shifting, np.arange(len(shifts)), shifts))
    last = np.argmin(-every.real / np.abs(every), axis=1)
    count = shapes.shape[1] // 2
    return [
        (complex(roots[at]), columns[:count, at].astype(np.complex128))
        for roots, columns, at in zip(every, shapes, last.tolist(), strict=True)
    ]


def _states(shifting: Shifting, cases: Integers, shifts: Floats) -> Floats:
    powers = np.stack([np.ones_like(shifts), shifts, shifts**2])
    mass, damping, stiffness = (
        np.einsum("pn,npij->nij", powers, part[cases]) for part in (shifting.mass, shifting.damping, shifting.stiffness)
    )
    return np.asarray(state_matrix(mass, damping, stiffness), dtype=np.float64)


def stable_up_to(shifting: Shifting, limit: float, parts: int, tolerance: float) -> Floats:
    """The shift at which each case loses its stability; behind none, where it has lost it already.

    Parameters
    ----------
    shifting : Shifting
        [-]
    limit : float
        Looked through as far as this, both ways. [m]
    parts : int
        Of the way; an unstable stretch that lies within one of them may be missed. [-]
    tolerance : float
        [m]

    Returns
    -------
    (c,) array
        The last shift known to be stable; infinite where it stays so, minus infinite where nothing makes it so. [m]

    Notes
    -----
    Source: bisection.
    """
    count = len(shifting.mass)
    every = np.arange(count)
    low, high = np.full(count, -np.inf), np.full(count, np.inf)

    def stable(cases: Integers, shifts: Floats) -> Bools:
        return np.asarray(least_damping(shifting, cases, shifts) >= NEUTRAL)

    at_rest = stable(every, np.zeros(count))
    low[at_rest], high[~at_rest] = 0.0, 0.0
    for step in limit * np.arange(1.0, parts + 1.0) / parts:
        onward, back = every[np.isinf(high)], every[np.isinf(low)]
        kept = stable(onward, np.full(onward.size, step))
        low[onward[kept]], high[onward[~kept]] = step, step
        found = stable(back, np.full(back.size, -step))
        low[back[found]], high[back[~found]] = -step, -step
    between = every[np.isfinite(low) & np.isfinite(high)]
    width = limit / parts
    while width > tolerance and between.size:
        width *= 0.5
        middle = low[between] + width
        kept = stable(between, middle)
        low[between[kept]], high[between[~kept]] = middle[kept], middle[~kept]
    return np.where(np.isinf(high), np.inf, low)
