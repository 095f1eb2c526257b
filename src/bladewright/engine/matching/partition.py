"""The best sets of three or four out of many possible ones: most sets first, then least cost, exactly."""

import numpy as np
from numpy.typing import NDArray
from scipy.optimize import Bounds, LinearConstraint, milp
from scipy.sparse import csr_array

from bladewright.engine.arrays import Floats
from bladewright.engine.matching.pairs import in_steps
from bladewright.errors import BadInput, NotConverged

Indices = NDArray[np.int64]

#: whole steps the greatest cost is divided into; the solver's own absolute gap of 1e-6 is then far below one step
STEPS = 10**6
INFEASIBLE = 2  # what scipy calls it


def best_partition(sets: Indices, cost: Floats, members: int) -> tuple[int, ...]:
    """The disjoint sets that use the most members and, among those, cost least in sum.

    Whole-number programmes over ``x_s`` in {0, 1} with ``sum x_s <= 1`` at each member: first the greatest
    ``N = sum x_s``, then the least ``sum round(10**6 c_s / max c) x_s`` with ``sum x_s = N``.

    Parameters
    ----------
    sets : (k, size) array
        The sets that may be formed, as indices of their members, all different within a row. [-]
    cost : (k,) array
        Cost of each set, not negative and finite. Any unit. [-]
    members : int
        How many there are to choose from. [-]

    Returns
    -------
    tuple of int
        Rows of ``sets`` that were chosen, rising.

    Raises
    ------
    BadInput
        If a cost is negative or not finite, or a set names a member twice or one that is not there.
    NotConverged
        If the solver does not prove its answer best.

    Notes
    -----
    Rounding: each cost is off by at most half a millionth of the greatest. Proven best by branch and bound with
    no gap allowed. Meant for up to 24 members in threes or fours; beyond that the time may grow without warning.

    Source: R. S. Garfinkel, G. L. Nemhauser, The set-partitioning problem, Operations Research, 1969 (from memory).
    """
    _require(sets, cost, members)
    if len(sets) == 0:
        return ()
    rows, size = sets.shape
    holds = csr_array((np.ones(rows * size), (sets.ravel(), np.repeat(np.arange(rows), size))), shape=(members, rows))
    once = LinearConstraint(holds, ub=1.0)
    price = in_steps(cost, STEPS).astype(np.float64)
    # as many sets as the members could fill is usual, and then the count needs no programme of its own
    found = _solved(price, [once, _count(rows, members // size)])
    if found is None:
        most = len(_solved(-np.ones(rows), [once]) or ())
        found = _solved(price, [once, _count(rows, most)])
    return found or ()


def _count(rows: int, number: int) -> LinearConstraint:
    return LinearConstraint(csr_array(np.ones((1, rows))), lb=number, ub=number)


def _solved(objective: Floats, constraints: list[LinearConstraint]) -> tuple[int, ...] | None:
    """The sets chosen, proven best; None if no choice meets the constraints."""
    found = milp(
        objective,
        integrality=np.ones(len(objective)),
        bounds=Bounds(0.0, 1.0),
        constraints=constraints,
        options={"mip_rel_gap": 0.0},
    )
    if found.status == INFEASIBLE:
        return None
    if found.status != 0:
        raise NotConverged("the best sets were not proven best", field="sets", value=found.message)
    return tuple(np.flatnonzero(found.x > 0.5).tolist())


def _require(sets: Indices, cost: Floats, members: int) -> None:
    if not np.isfinite(cost).all() or (cost < 0.0).any():
        raise BadInput("a cost is negative or not finite", field="cost", allowed="zero or more")
    if sets.size and (sets.min() < 0 or sets.max() >= members):
        raise BadInput("a set names a member that is not there", field="sets", allowed=f"0 to {members - 1}")
    if sets.size and (np.diff(np.sort(sets, axis=1), axis=1) == 0).any():
        raise BadInput("a set names a member twice", field="sets", allowed="each member once in a set")
