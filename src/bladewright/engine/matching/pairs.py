"""The best pairs out of many: most pairs first, then least cost, exactly."""

import numpy as np
import rustworkx

from bladewright.engine.arrays import Floats
from bladewright.errors import BadInput

#: whole steps the greatest cost is divided into, because the method is exact in whole numbers only
STEPS = 10**9


def best_pairs(cost: Floats) -> tuple[tuple[int, int], ...]:
    """The pairs that use the most members and, among those, cost least in sum.

    A matching of greatest size and, among those, least ``sum c_ij`` in a general graph, by the blossom method
    on whole numbers ``round(10**9 c_ij / max c)``.

    Parameters
    ----------
    cost : (n, n) array
        Cost of each pair, symmetric, not negative; infinite where two may not go together. The diagonal is
        not read. Any unit. [-]

    Returns
    -------
    tuple of (int, int)
        Each pair with the smaller index first, in rising order.

    Raises
    ------
    BadInput
        If the costs are not square, not symmetric, negative or not a number.

    Notes
    -----
    Rounding: each cost is off by at most half a billionth of the greatest, so the sum found is above the least
    by at most ``n / 2`` billionths of the greatest cost.

    Source: J. Edmonds, Paths, trees, and flowers, 1965; Z. Galil, Efficient algorithms for finding maximum
    matching in graphs, 1986 (both from memory).
    """
    require_costs(cost)
    first, second = np.triu_indices(len(cost), k=1)
    value = cost[first, second]
    allowed = np.isfinite(value)
    weight = -in_steps(value[allowed], STEPS)
    graph = rustworkx.PyGraph(multigraph=False)
    graph.add_nodes_from(range(len(cost)))
    graph.add_edges_from(list(zip(first[allowed].tolist(), second[allowed].tolist(), weight.tolist(), strict=True)))
    found = rustworkx.max_weight_matching(graph, max_cardinality=True, weight_fn=int)
    return tuple(sorted((min(pair), max(pair)) for pair in found))


def in_steps(cost: Floats, steps: int) -> np.ndarray[tuple[int], np.dtype[np.int64]]:
    """Costs as whole numbers, the greatest of them worth ``steps``.

    Parameters
    ----------
    cost : (n,) array
        Finite and not negative. Any unit. [-]
    steps : int
        What the greatest cost becomes. [-]

    Returns
    -------
    (n,) array of int

    Raises
    ------
    Nothing.

    Notes
    -----
    Costs that are all zero stay zero.

    Source: own definition.
    """
    greatest = float(np.max(cost, initial=0.0))
    whole = np.rint(cost / greatest * steps) if greatest > 0.0 else np.zeros_like(cost)
    return whole.astype(np.int64)


def require_costs(cost: Floats) -> None:
    """Raise unless the costs are a square, symmetric table without negative entries.

    Parameters
    ----------
    cost : (n, n) array
        As for ``best_pairs``. [-]

    Raises
    ------
    BadInput
        Saying what is wrong with it.

    Notes
    -----
    The diagonal is not read.

    Source: own definition.
    """
    if cost.ndim != 2 or cost.shape[0] != cost.shape[1]:
        raise BadInput("costs are not a square table", field="cost", value=cost.shape, allowed="(n, n)")
    off = cost[~np.eye(len(cost), dtype=bool)]
    if np.isnan(off).any() or (off < 0.0).any():
        raise BadInput(
            "a cost is negative or not a number", field="cost", allowed="zero or more; infinite: not allowed"
        )
    if not np.array_equal(np.triu(cost, 1), np.tril(cost, -1).T):
        raise BadInput("a pair has two costs", field="cost", allowed="the same cost both ways round")
