"""One step of the march: momentum and kinetic energy of a layer, solved together with its own effect outside.

Lengths in chords, speeds in flight speeds.
"""

from dataclasses import dataclass, fields
from types import EllipsisType

import numpy as np

from bladewright.engine.arrays import Bools, Floats, Integers
from bladewright.engine.flow.closure import lagged_stress, laminar_closure, layer_thickness, turbulent_closure
from bladewright.engine.flow.roughness import rough_friction
from bladewright.engine.flow.transition import amplification_rate

FIRST_STRESS = 0.7  # of C_tau at transition over equilibrium; Drela, Giles 1987 (from memory)
FASTEST = 4.0  # of the edge Mach number's square: beyond, the state is astray
LEAST_DEFECT, GREATEST_DEFECT = -25.0, 1.0  # of its logarithm: beyond, the state is astray
SLOWEST = 0.02  # an edge speed below this share of flight speed means the state is astray
NUDGE = 1e-6  # of a variable, for the derivatives
ALONE, SWEPT = 1e-3, 3e-2  # a small step, of a variable: its square is left, which a next sweep looks at again
MOST_STEPS = 8  # a lane that has not arrived is tried again in the next sweep
GREATEST_SHAPE = 25.0  # beyond any closure; a state there is not settled


@dataclass(slots=True)
class Station:
    """What one step knows before it is taken, per lane."""

    external: Floats  # edge speed without this station's own mass defect [1]
    response: Floats  # edge speed per own mass defect [1/chord]
    step: Floats  # [chord]
    old_share: Floats  # of the step in which the rates of the station before hold [1]
    new_share: Floats  # of the step in which those of this station hold [1]
    turning: Floats  # length over which the stress lags [chord]
    stress: Floats  # root of C_tau at its start; 0 for a layer that turns in this step [1]
    reynolds: Floats  # of the chord [1]
    mach: Floats  # of flight [1]
    roughness: Floats  # equivalent sand grain [chord]
    # at the station before:
    ln_momentum: Floats  # logarithm of the momentum thickness [1]
    ln_speed: Floats  # logarithm of the edge speed [1]
    ln_energy: Floats  # logarithm of H* [1]
    full_shape: Floats  # H [1]
    mach_squared: Floats  # at the edge [1]
    density_term: Floats  # 2 H**/H* [1]
    momentum_rate: Floats  # cf/(2 theta) [1/chord]
    energy_rate: Floats  # (2 CD/H* - cf/2)/theta [1/chord]
    laminar: Bools  # whether the layer still is at this station's end

    def of(self, lanes: Integers) -> "Station":
        """Some of the lanes."""
        return Station(*(getattr(self, field.name)[lanes] for field in fields(self)))


#: Rows of what ``evaluated`` gives.
LN_MOMENTUM, LN_SPEED, LN_ENERGY, FULL_SHAPE, MACH_SQUARED, DENSITY_TERM, MOMENTUM_RATE, ENERGY_RATE = range(8)
FRICTION, STRESS, GROWTH, DISPLACEMENT, OUTER = range(8, 13)
ROWS = 13


def edge_state(speed: Floats, mach: Floats) -> tuple[Floats, Floats, Floats]:
    """Edge speed with compressibility, square of the edge Mach number, and edge over stream temperature.

    ``u = q (1 - l)/(1 - l q**2)`` with ``l = M**2/(1 + b)**2``, ``b**2 = 1 - M**2``;
    ``T_e/T = 1 + 0.2 M**2 (1 - u**2)``; ``M_e**2 = M**2 u**2 T/T_e``.

    Parameters
    ----------
    speed : (...) array
        In the incompressible plane, over flight speed. [1]
    mach : (...) array
        Of flight. [1]

    Returns
    -------
    tuple of three arrays
        [1]

    Notes
    -----
    Valid while the edge stays subsonic; beyond Mach 2 it is held, where the formula means nothing.

    Source: H. S. Tsien, J. Aero. Sci. 6, 1939; T. von Karman, J. Aero. Sci. 8, 1941 (from memory).
    """
    squared = mach * mach
    compression = squared / (1.0 + np.sqrt(1.0 - squared)) ** 2
    u: Floats = speed * (1.0 - compression) / np.maximum(1.0 - compression * speed * speed, 0.2)
    temperature: Floats = np.maximum(1.0 + 0.2 * squared * (1.0 - u * u), 0.5)
    edge: Floats = np.minimum(squared * u * u / temperature, FASTEST)
    return u, edge, temperature


def evaluated(defect: Floats, shape: Floats, at: Station, wake: bool) -> Floats:
    """Everything the equations need at trial states.

    Parameters
    ----------
    defect : (..., l) array
        Mass defect. [chord]
    shape : (..., l) array
        Kinematic shape factor. [1]
    at : Station
        Of l lanes. [-]
    wake : bool
        Whether the lanes are wakes: no friction, two shear layers. [-]

    Returns
    -------
    (ROWS, ..., l) array
        A row per quantity, by the names above: logarithms [1], rates [1/chord], the rest [1] or [chord].

    Notes
    -----
    Source: M. Drela, M. B. Giles, AIAA J. 25, 1987, p. 1347 (from memory).
    """
    q = np.maximum(at.external + at.response * defect, SLOWEST)
    u, mach_squared, temperature = edge_state(q, at.mach)
    full = shape * (1.0 + 0.113 * mach_squared) + 0.29 * mach_squared
    displacement = defect / q
    momentum = displacement / full
    re_theta = np.maximum(at.reynolds * u * momentum * temperature**1.75, 1.0)
    out = np.zeros((ROWS, *shape.shape))
    out[LN_MOMENTUM], out[LN_SPEED] = np.log(momentum), np.log(u)
    out[FULL_SHAPE], out[MACH_SQUARED], out[OUTER], out[DISPLACEMENT] = full, mach_squared, q, displacement
    turbulent = np.flatnonzero(~at.laminar)
    if turbulent.size < at.laminar.size:
        lanes: tuple[EllipsisType, Integers] = (..., np.flatnonzero(at.laminar))
        thin = laminar_closure(shape[lanes], re_theta[lanes])
        theta = momentum[lanes]
        out[LN_ENERGY][lanes] = thin.energy_shape
        out[FRICTION][lanes] = thin.friction
        out[MOMENTUM_RATE][lanes] = thin.friction / theta
        out[ENERGY_RATE][lanes] = (thin.dissipation - thin.friction) / theta
        out[GROWTH][lanes] = amplification_rate(shape[lanes], re_theta[lanes], theta)
    if turbulent.size:
        lanes = (..., turbulent)
        halves = 2.0 if wake else 1.0  # a wake is two layers back to back
        h, theta = shape[lanes], momentum[lanes]
        thick = turbulent_closure(h, full[lanes], re_theta[lanes] / halves, mach_squared[lanes])
        if wake:
            friction = np.zeros_like(h)
        else:
            grain = at.roughness[lanes] / theta
            friction = rough_friction(thick.friction, h, re_theta[lanes], mach_squared[lanes], grain)
        delta = layer_thickness(h, displacement[lanes], theta) / halves
        before = at.stress[lanes]
        before = np.where(before > 0.0, before, np.sqrt(FIRST_STRESS) * thick.equilibrium)
        stress = lagged_stress(before, thick.equilibrium, at.turning[lanes], delta)
        loss = friction * thick.slip + halves * stress * stress * (1.0 - thick.slip)
        out[LN_ENERGY][lanes] = thick.energy_shape
        out[FRICTION][lanes] = friction
        out[STRESS][lanes] = stress
        out[MOMENTUM_RATE][lanes] = friction / theta
        out[ENERGY_RATE][lanes] = (2.0 * loss / thick.energy_shape - friction) / theta
    out[DENSITY_TERM] = 2.0 * (0.064 / (shape - 0.8) + 0.251) * mach_squared / out[LN_ENERGY]
    out[LN_ENERGY] = np.log(out[LN_ENERGY])
    return out


def _residual(out: Floats, at: Station) -> tuple[Floats, Floats]:
    """How far the momentum and the kinetic-energy equation are from holding over the step."""
    accelerated = out[LN_SPEED] - at.ln_speed
    full = 0.5 * (out[FULL_SHAPE] + at.full_shape)
    squared = 0.5 * (out[MACH_SQUARED] + at.mach_squared)
    density = 0.5 * (out[DENSITY_TERM] + at.density_term)
    old, new = at.step * at.old_share, at.step * at.new_share
    momentum = out[LN_MOMENTUM] - at.ln_momentum + (2.0 + full - squared) * accelerated
    momentum = momentum - old * at.momentum_rate - new * out[MOMENTUM_RATE]
    energy = out[LN_ENERGY] - at.ln_energy + (1.0 + density - full) * accelerated
    energy = energy - old * at.energy_rate - new * out[ENERGY_RATE]
    return momentum, energy


def solved(
    ln_defect: Floats, shape: Floats, station: Station, wake: bool, small: float
) -> tuple[Floats, Floats, Floats, Bools]:
    """Mass defect and shape of every lane at a station by Newton's method; lanes that have arrived are left alone.

    Parameters
    ----------
    ln_defect, shape : (l,) arrays
        Where to begin: logarithm of the mass defect, kinematic shape factor. [1]
    station : Station
        Of l lanes. [-]
    wake : bool
        Whether the lanes are wakes. [-]
    small : float
        ``ALONE`` or ``SWEPT``. [1]

    Returns
    -------
    tuple
        Logarithm of the mass defect and shape (l,) [1], rows as from ``evaluated`` (ROWS, l), and which have arrived.

    Notes
    -----
    Derivatives by differences; a last small step is taken along them without another look.

    Source: Newton's method.
    """
    lanes = np.arange(shape.size)
    ln_defect, shape = ln_defect.copy(), shape.copy()
    result = np.zeros((ROWS, shape.size))
    settled = np.zeros(shape.size, dtype=bool)
    least = 1.0005 if wake else 1.02
    at = station
    for _ in range(MOST_STEPS):
        m, h = ln_defect[lanes], shape[lanes]
        trial = np.stack((m, m + NUDGE, m)), np.stack((h, h, h + NUDGE))
        out = evaluated(np.exp(trial[0]), trial[1], at, wake)
        first, second = _residual(out, at)
        a, b = (first[1] - first[0]) / NUDGE, (first[2] - first[0]) / NUDGE
        c, d = (second[1] - second[0]) / NUDGE, (second[2] - second[0]) / NUDGE
        determinant = a * d - b * c
        determinant = np.where(np.abs(determinant) < 1e-12, 1e-12, determinant)
        step_m = (b * second[0] - d * first[0]) / determinant
        step_h = (c * first[0] - a * second[0]) / determinant
        most_h = 0.3 * (h - 1.0) + 0.02
        scale = 1.0 / np.maximum(1.0, np.maximum(np.abs(step_m) / 0.5, np.abs(step_h) / most_h))
        step_m, step_h = step_m * scale, step_h * scale
        new_h = np.clip(h + step_h, least, GREATEST_SHAPE)
        step_h = new_h - h
        ln_defect[lanes] = np.clip(m + step_m, LEAST_DEFECT, GREATEST_DEFECT)
        shape[lanes] = new_h
        slopes = (out[:, 1:] - out[:, :1]) / NUDGE
        result[:, lanes] = out[:, 0] + slopes[:, 0] * step_m + slopes[:, 1] * step_h
        arrived = (np.maximum(np.abs(step_m), np.abs(step_h)) < small) & (scale == 1.0)
        arrived &= (new_h > least) & (new_h < GREATEST_SHAPE)
        settled[lanes[arrived]] = True
        if arrived.all():
            break
        lanes = lanes[~arrived]
        at = station.of(lanes)
    return ln_defect, shape, result, settled
