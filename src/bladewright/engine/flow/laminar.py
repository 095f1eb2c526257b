"""Laminar layers by one-parameter methods: Thwaites' integral, and the state of a layer that grows as a similar one."""

from dataclasses import dataclass

import numpy as np

from bladewright.engine.arrays import Floats, require_finite, require_increasing
from bladewright.engine.flow.closure import laminar_closure
from bladewright.errors import BadInput

SEPARATION = -0.09  # Thwaites' lambda where the wall shear is gone
FULLEST, EMPTIEST = 1.9, 4.0  # shapes between which similar flows are sought


@dataclass(frozen=True, slots=True)
class Thwaites:
    """What Thwaites' method says of a laminar layer."""

    momentum: Floats  # (n,) momentum thickness [as the distance]
    gradient: Floats  # (n,) lambda = theta**2 U'/nu [1]
    separation: float  # distance where lambda first reaches -0.09, NaN if nowhere [as the distance]


def thwaites(distance: Floats, speed: Floats, gradient: Floats, viscosity: float) -> Thwaites:
    """A laminar layer from the stagnation point or a sharp edge on, by Thwaites' integral.

    ``theta**2 = 0.45 nu U**-6 integral of U**5 ds``; separation at ``lambda = theta**2 U'/nu = -0.09``.

    Parameters
    ----------
    distance : (n,) array
        Along the wall, increasing from where the layer begins. [m, or chord]
    speed, gradient : (n,) arrays
        Edge speed and its slope along the wall. [m/s, 1/s, or in units that match]
    viscosity : float
        Kinematic. [m^2/s, or in units that match]

    Returns
    -------
    Thwaites

    Raises
    ------
    BadInput, StationOrder
        If values are not finite, a speed behind the first is not positive, or the distance does not increase.

    Notes
    -----
    Of U**5 the trapezoid rule. Right to some 3 % of the way to separation on a linearly retarded flow, 1.5 deg on a
    cylinder.

    Source: B. Thwaites, Aero. Quart. 1, 1949 (from memory).
    """
    require_increasing(distance, "distance")
    for values, name in ((speed, "speed"), (gradient, "gradient")):
        require_finite(values, name)
    if np.any(speed[1:] <= 0.0):
        raise BadInput("edge speed", field="speed", value=float(np.min(speed[1:])), allowed="more than 0")
    fifth = speed**5
    area = np.concatenate(([0.0], np.cumsum(0.5 * np.diff(distance) * (fifth[1:] + fifth[:-1]))))
    square = np.zeros_like(area)
    square[1:] = 0.45 * viscosity * area[1:] / speed[1:] ** 6
    if speed[0] <= 0.0:  # plane stagnation: the integral's limit is U/(6 U') of the local growth
        square[0] = 0.075 * viscosity / gradient[0]
    pressure = square * gradient / viscosity
    below = np.flatnonzero(pressure <= SEPARATION)
    place = float("nan")
    if below.size and below[0]:
        here = slice(below[0] - 1, below[0] + 1)
        place = float(np.interp(-SEPARATION, -pressure[here], distance[here]))
    return Thwaites(momentum=np.sqrt(square), gradient=pressure, separation=place)


def similar_state(exponent: Floats) -> tuple[Floats, Floats]:
    """Shape and thickness of a laminar layer under ``u = K s**m`` that satisfy our own integral equations.

    With ``theta**2 = Z s/(Re u)``: ``Z [(1 - m)/2 + (2 + H) m] = Re_th cf/2`` and ``(1 - H) m Z = Re_th (2 CD/H* -
    cf/2)``.

    Parameters
    ----------
    exponent : (n,) array
        m: 0 on a plate, 1 at a plane stagnation point. Held between -0.08 and 1.2. [1]

    Returns
    -------
    tuple of two arrays
        Shape factor H, and Z. [1]

    Notes
    -----
    Close to Falkner and Skan's: see selfcheck/falkner_skan.

    Source: rederived from the equations of ``layer.march``.
    """
    shape = np.linspace(FULLEST, EMPTIEST, 421)
    fit = laminar_closure(shape, np.ones_like(shape))
    excess = fit.dissipation - fit.friction
    power = 0.5 * excess / ((1.0 - shape) * fit.friction - excess * (1.5 + shape))
    rising = np.flatnonzero((power > -0.08) & (power < 1.2))[::-1]  # m falls as the profile empties
    h: Floats = np.interp(np.clip(exponent, -0.08, 1.2), power[rising], shape[rising])
    m = np.clip(exponent, power[rising[0]], power[rising[-1]])
    friction = laminar_closure(h, np.ones_like(h)).friction
    z: Floats = friction / (0.5 * (1.0 - m) + (2.0 + h) * m)
    return h, z
