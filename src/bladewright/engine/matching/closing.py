"""Least balance weight that makes blades alike in span moment and chordwise centre."""

from dataclasses import dataclass

import numpy as np
from scipy.optimize import linprog
from scipy.sparse import csr_array, diags_array, hstack, kron, vstack

from bladewright.engine.arrays import Floats
from bladewright.errors import BadInput, NotConverged


@dataclass(frozen=True, slots=True)
class Target:
    """One quantity that weight changes: where the blades stand, what a weight does, and how far it may go."""

    stands: Floats  # (blades,) in units of the limit between mates [1]
    per_mass: Floats  # (pockets,) change for each kilogram in a pocket, in units of that limit [1/kg]
    least: Floats  # (blades,) what a blade may end at, in units of that limit; infinite: anything [1]
    greatest: Floats  # (blades,) likewise [1]
    close: bool  # True: bring the blades together; False: change none of them against another


def closing_weights(targets: tuple[Target, ...], greatest: Floats) -> Floats:
    """Mass in each pocket of each blade that leaves the least difference, and of those the least mass.

    A linear programme: least ``sum |d_bq|``, then least ``sum m_bp + g sum |e_bq|``, where ``d`` is the distance of a
    blade from a free common level in each quantity to be closed, ``e`` the same for the change alone in the others,
    and ``g`` the mass all pockets of all blades hold.

    Parameters
    ----------
    targets : tuple of Target
        The quantities, each scaled by its limit between mates. [1]
    greatest : (pockets,) array
        What each pocket holds at most. [kg]

    Returns
    -------
    (blades, pockets) array
        Mass to add. [kg]

    Raises
    ------
    BadInput
        If a pocket holds less than nothing, or there is no target.
    NotConverged
        If the solver finds no answer.

    Notes
    -----
    Linear: what a weight does to a blade's centre is taken as independent of other weights in it, which is right to
    the share the weights have of the blade's mass. Weight is only added, never taken away. Every blade may stay as
    it is, so there is always an answer.

    Source: own method; the solver is that of Q. Huangfu, J. A. J. Hall, Parallelizing the dual revised simplex
    method, 2018 (from memory).
    """
    if not targets or (greatest < 0.0).any():
        raise BadInput("nothing to close, or a pocket that holds less than nothing", field="greatest", allowed=">= 0")
    blades, pockets = len(targets[0].stands), len(greatest)
    masses, each = blades * pockets, blades + 1  # each target brings its level and a distance for each blade
    width = masses + len(targets) * each
    rows, upper = [], []
    far = np.zeros(width)
    disturbed = np.zeros(width)
    for number, target in enumerate(targets):
        added = kron(diags_array(np.ones(blades)), csr_array(target.per_mass[None, :]))
        start = np.where(target.close, target.stands, 0.0)
        own = masses + number * each
        (far if target.close else disturbed)[own + 1 : own + each] = 1.0
        level, distance = csr_array(np.ones((blades, 1))), diags_array(np.ones(blades))
        for sign in (1.0, -1.0):
            rows.append(_placed(sign * added, hstack([-sign * level, -distance]), own, width))
            upper.append(-sign * start)
            bound = target.greatest - target.stands if sign > 0.0 else target.stands - target.least
            held = np.flatnonzero(np.isfinite(bound))
            rows.append(_placed(sign * added, csr_array((blades, each)), own, width).tocsr()[held])
            upper.append(np.maximum(bound[held], 0.0))
    limits: list[_Bounds] = [(0.0, float(mass)) for _ in range(blades) for mass in greatest]
    for _ in targets:
        limits.append((None, None))
        limits.extend([(0.0, None)] * blades)
    table, most = vstack(rows).tocsr(), np.concatenate(upper)
    bounded = np.isfinite(most)  # a blade that may end anywhere has no row
    table, most = table[bounded], most[bounded]
    nearest = _solved(far, table, most, limits)
    least_mass = np.concatenate((np.ones(masses), np.zeros(width - masses))) + disturbed * blades * greatest.sum()
    as_near = vstack([table, csr_array(far[None, :])]).tocsr()
    found = _solved(least_mass, as_near, np.append(most, far @ nearest + _SLACK), limits)
    return np.clip(found[:masses].reshape(blades, pockets), 0.0, greatest)


_Bounds = tuple[float | None, float | None]

#: how much further apart, in units of the limits, the least mass may leave the blades; the solver's own tolerance
_SLACK = 1e-7


def _placed(masses: csr_array, own: csr_array, at: int, width: int) -> csr_array:
    """Rows with the masses in front and one target's own columns at their place."""
    rows = masses.shape[0]
    gap = csr_array((rows, at - masses.shape[1]))
    rest = csr_array((rows, width - at - own.shape[1]))
    return hstack([masses, gap, own, rest])


def _solved(objective: Floats, table: csr_array, most: Floats, limits: list[_Bounds]) -> Floats:
    found = linprog(objective, A_ub=table, b_ub=most, bounds=limits, method="highs")
    if found.status != 0:
        raise NotConverged("no trim weights were found", field="targets", value=found.message)
    solution: Floats = found.x
    return solution
