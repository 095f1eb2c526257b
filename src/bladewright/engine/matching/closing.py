"""Least balance weight that makes blades alike in span moment and chordwise centre."""

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
from scipy.optimize import linprog
from scipy.sparse import block_diag, csr_array, vstack

from bladewright.engine.arrays import Floats
from bladewright.errors import BadInput, NotConverged

#: how many times dearer a difference is beyond the limit than within it: being allowed to fly comes first
BEYOND = 1e3
#: how much further apart, in units of the limits, the least mass may leave the blades; the solver's own tolerance
SLACK = 1e-7


@dataclass(frozen=True, slots=True)
class Target:
    """One quantity that weight changes: where the blades stand, what a weight does, and how far it may go."""

    stands: Floats  # (blades,) as measured, in units of the limit between mates [1]
    told: Floats  # (blades,) the same where blades that cannot be told apart stand as one [1]
    per_mass: Floats  # (pockets,) change for each kilogram in a pocket, in units of that limit [1/kg]
    least: Floats  # (blades,) what a blade may end at, in units of that limit; infinite: anything [1]
    greatest: Floats  # (blades,) likewise [1]


def closing_weights(targets: tuple[Target, ...], greatest: Floats) -> Floats:
    """Mass in each pocket of each blade that leaves the least difference, and of those the least mass.

    A linear programme: least ``sum_q (1000 max(w_q - 1, 0) + d_q)``, then least ``sum m_bp + g sum_q d_q``, where
    ``w_q`` is the widest difference as measured, ``d_q`` the widest where blades not told apart stand as one, the
    first sum of ``d_q`` runs over quantities in which some are told apart, the second over the others, and ``g`` is
    the mass all pockets of all blades hold.

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
    return closing_weights_of_each((targets,), greatest)[0]


def closing_weights_of_each(sets: Sequence[tuple[Target, ...]], greatest: Floats) -> tuple[Floats, ...]:
    """``closing_weights`` of many sets that have nothing to do with one another, solved as one programme.

    Sums over sets of what ``closing_weights`` makes least, which are least when each is. One call of the solver for
    hundreds of pairs takes a tenth of the time of as many calls.

    Parameters
    ----------
    sets : sequence of tuples of Target
        The quantities of each set. [1]
    greatest : (pockets,) array
        What each pocket holds at most. [kg]

    Returns
    -------
    tuple of (blades, pockets) arrays
        Mass to add, for each set. [kg]

    Raises
    ------
    BadInput
        If a pocket holds less than nothing, or a set has no target.
    NotConverged
        If the solver finds no answer.

    Notes
    -----
    Where several divisions of one least mass are equally good, which of them comes out may differ from that of the
    set solved alone.

    Source: as ``closing_weights``.
    """
    if not all(sets) or (greatest < 0.0).any():
        raise BadInput("nothing to close, or a pocket that holds less than nothing", field="greatest", allowed=">= 0")
    if not sets:
        return ()
    each = [_programme(targets, greatest) for targets in sets]
    table = block_diag([one.table for one in each], format="csr")
    most = np.concatenate([one.most for one in each])
    limits = [bound for one in each for bound in one.limits]
    nearest = _solved(np.concatenate([one.apart for one in each]), table, most, limits)
    apart = block_diag([one.apart[None, :] for one in each], format="csr")
    found = _solved(
        np.concatenate([one.mass for one in each]),
        vstack((table, apart), format="csr"),
        np.append(most, apart @ nearest + SLACK),
        limits,
    )
    parts = np.split(found, np.cumsum([len(one.mass) for one in each])[:-1])
    return tuple(
        np.clip(part[: one.masses].reshape(-1, len(greatest)), 0.0, greatest)
        for one, part in zip(each, parts, strict=True)
    )


@dataclass(frozen=True, slots=True)
class _Programme:
    """One set's linear programme."""

    masses: int  # columns that are masses, the first ones [-]
    table: Floats  # left sides of the inequalities; masses in kg, the others in units of the limits [-]
    most: Floats  # their right sides [-]
    apart: Floats  # price of what is left between the blades [-]
    mass: Floats  # price of mass, and of what is not told apart [-]
    limits: list["_Bound"]


def _programme(targets: tuple[Target, ...], greatest: Floats) -> _Programme:
    blades = len(targets[0].stands)
    masses = blades * len(greatest)
    width = masses + _OWN * len(targets)
    rows, upper = zip(*(_rows(target, number, masses, width) for number, target in enumerate(targets)), strict=True)
    apart, mass = np.zeros(width), np.zeros(width)
    mass[:masses] = 1.0
    limits: list[_Bound] = [(0.0, float(held)) for _ in range(blades) for held in greatest]
    for number, target in enumerate(targets):
        low, high, _, _, beyond = range(masses + _OWN * number, masses + _OWN * (number + 1))
        told_apart = bool(np.ptp(target.told) > 0.0)
        price, worth = (apart, 1.0) if told_apart else (mass, blades * float(greatest.sum()))
        price[low], price[high], apart[beyond] = -worth, worth, BEYOND
        limits.extend([(None, None)] * (_OWN - 1) + [(0.0, None)])
    return _Programme(masses, np.concatenate(rows), np.concatenate(upper), apart, mass, limits)


_OWN = 5  # columns a target brings: lowest and highest as told, lowest and highest as measured, width beyond the limit
_Bound = tuple[float | None, float | None]


def _rows(target: Target, number: int, masses: int, width: int) -> tuple[Floats, Floats]:
    """One target's inequalities: every blade between lowest and highest, and inside its own bounds."""
    added = np.zeros((len(target.stands), width))
    added[:, :masses] = np.kron(np.eye(len(target.stands)), target.per_mass)
    low, high, lowest, highest, beyond = np.eye(width)[masses + _OWN * number : masses + _OWN * (number + 1)]
    up, down = np.maximum(target.greatest - target.stands, 0.0), np.maximum(target.stands - target.least, 0.0)
    may_rise, may_fall = np.isfinite(up), np.isfinite(down)
    rows = (
        (low - added, target.told),
        (added - high, -target.told),
        (lowest - added, target.stands),
        (added - highest, -target.stands),
        ([highest - lowest - beyond], [1.0]),
        (added[may_rise], up[may_rise]),
        (-added[may_fall], down[may_fall]),
    )
    left, right = zip(*rows, strict=True)
    return np.concatenate(left), np.concatenate(right)


def _solved(objective: Floats, table: csr_array, most: Floats, limits: list[_Bound]) -> Floats:
    found = linprog(objective, A_ub=table, b_ub=most, bounds=limits, method="highs")
    if found.status != 0:
        raise NotConverged("no trim weights were found", field="targets", value=found.message)
    solution: Floats = found.x
    return solution


def reach(target: Target, radii: Floats, room: Floats, greatest: Floats) -> tuple[Floats, Floats]:
    """How low and how high weight alone could bring each blade in one quantity.

    Pockets are filled in order of what a kilogram changes for the span moment it adds, until the room is used up:
    the fractional knapsack, which greed solves exactly.

    Parameters
    ----------
    target : Target
        The quantity, scaled by its limit between mates. [1]
    radii : (pockets,) array
        Of the pockets, positive. [m]
    room : (blades,) array
        Span moment each blade may still gain; infinite: anything. [kg m]
    greatest : (pockets,) array
        What each pocket holds at most. [kg]

    Returns
    -------
    tuple of (blades,) arrays
        Lowest and highest, in units of the limit between mates. [1]

    Raises
    ------
    Nothing.

    Notes
    -----
    Each quantity by itself: what is reached here may still be out of reach together with another quantity.

    Source: G. B. Dantzig, Discrete-variable extremum problems, 1957 (from memory).
    """
    ends = []
    for sign in (-1.0, 1.0):
        gain = np.maximum(sign * target.per_mass, 0.0)
        order = np.argsort(-gain / radii)
        filled = np.zeros(len(target.stands))
        left = room.copy()
        for pocket in order:
            mass = np.minimum(greatest[pocket], left / radii[pocket])
            filled += gain[pocket] * mass
            left = left - mass * radii[pocket]
        ends.append(target.stands + sign * filled)
    return np.maximum(ends[0], np.minimum(target.least, target.stands)), np.minimum(
        ends[1], np.maximum(target.greatest, target.stands)
    )
