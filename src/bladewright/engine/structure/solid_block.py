"""Torsion of a part of the section too thick to count as walls, by Prandtl's stress function on a grid.

The grid has rows along the part and levels across it. Nodes lie free, on an outer face (the function is nought) or on a
cell (it is that cell's shear flow). What comes back adds to the areas and flexibilities of the thin walls round it.
"""

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from bladewright.engine.arrays import Floats
from bladewright.errors import BadInput

FREE = -1
OUTER = 0
#: the four triangles of both ways to split a four-sided element, each counted half
_TRIANGLES = ((0, 1, 2), (0, 2, 3), (0, 1, 3), (1, 2, 3))


@dataclass(frozen=True, slots=True)
class Block:
    """What a thick part gives to torsion."""

    areas: Floats  # (..., cells) integral of each cell's function, with the hollow elements of the grid [m^2]
    flexibility: Floats  # (..., cells, cells) [m^2/N]
    own: Floats  # (...) what it bears with the cells at nought [N m^2]


def solid_block(nodes: Floats, compliance: Floats, held: NDArray[np.int_], cells: int) -> Block:
    """Stress functions of a thick part: one for each cell, one for the part alone.

    ``div(grad N_i / G) = 0`` with N_i one on cell i and nought on the others and outside;
    ``div(grad B / G) = -2`` with B nought on all. Then ``A_i = integral of N_i``,
    ``f_ij = integral of grad N_i . grad N_j / G`` and ``own = 2 integral of B``.

    Parameters
    ----------
    nodes : (..., rows, levels, 2) array
        Corners of the elements, going round with rows then levels. [m]
    compliance : (..., rows - 1, levels - 1) array
        1 / G of each element; nought in a hollow. [m^2/N]
    held : (rows, levels) array
        ``FREE``, ``OUTER``, or the number of a cell from one. [-]
    cells : int
        How many cells the section has. [-]

    Returns
    -------
    Block

    Raises
    ------
    BadInput
        If the grid and the other arrays do not fit.

    Notes
    -----
    Triangles with straight fields, both ways of splitting each element averaged: the error falls with the square of
    the spacing and the stiffness found is too low. At the two end rows the function goes on unchanged.

    Source: L. Prandtl, 1903, as in S. P. Timoshenko, J. N. Goodier, Theory of Elasticity (from memory).
    """
    rows, levels = held.shape
    if nodes.shape[-3:] != (rows, levels, 2) or compliance.shape[-2:] != (rows - 1, levels - 1):
        raise BadInput("grid and held nodes do not fit", field="nodes", value=nodes.shape, allowed="rows by levels")
    diagonal, onward, load = _assembled(nodes, compliance)
    values = np.zeros((*load.shape, cells + 1))
    for cell in range(1, cells + 1):
        values[..., cell - 1] = held == cell
    push = -_times(diagonal, onward, values)
    push[..., cells] += 2.0 * load
    free = held == FREE
    found = values + _solved(diagonal, onward, push, free)
    field, bubble = found[..., :cells], found[..., cells]
    return Block(
        areas=np.einsum("...rl,...rlc->...c", load, field),
        flexibility=-np.einsum("...rlc,...rld->...cd", field, push[..., :cells]),  # no residue where nodes are free
        own=2.0 * (load * bubble).sum((-2, -1)),
    )


def _assembled(nodes: Floats, compliance: Floats) -> tuple[Floats, Floats, Floats]:
    """Each row's own matrix (..., r, l, l), that to the next row (..., r - 1, l, l), and areas of nodes (..., r, l)."""
    corners = (nodes[..., :-1, :-1, :], nodes[..., 1:, :-1, :], nodes[..., 1:, 1:, :], nodes[..., :-1, 1:, :])
    place = ((0, 0), (1, 0), (1, 1), (0, 1))  # row and level of each corner within its element
    lead, (rows, levels) = nodes.shape[:-3], nodes.shape[-3:-1]
    diagonal = np.zeros((*lead, rows, levels, levels))
    onward = np.zeros((*lead, rows - 1, levels, levels))
    load = np.zeros((*lead, rows, levels))

    def shifted(start: int, count: int) -> slice:
        return slice(start, start + count - 1)

    stiff: dict[tuple[int, int], Floats] = {}
    for triangle in _TRIANGLES:
        point = [corners[corner] for corner in triangle]
        x, z = ([point[(k + 2) % 3][..., at] - point[(k + 1) % 3][..., at] for k in range(3)] for at in (0, 1))
        twice = np.abs(x[0] * z[1] - z[0] * x[1])
        weight = 0.25 * compliance / twice  # half of 1 / (4 area)
        for a in range(3):
            r, k = place[triangle[a]]
            load[..., shifted(r, rows), shifted(k, levels)] += twice / 12.0
            for b in range(a, 3):
                pair = (triangle[a], triangle[b])
                product = weight * (x[a] * x[b] + z[a] * z[b])
                stiff[pair] = stiff[pair] + product if pair in stiff else product
    for (a, b), value in stiff.items():
        for one, two in {(a, b), (b, a)}:
            (r1, l1), (r2, l2) = place[one], place[two]
            if r1 <= r2:
                rows_of = diagonal[..., shifted(r1, rows), :, :] if r1 == r2 else onward
                along = np.einsum("...ii->...i", rows_of[..., shifted(l1, levels), shifted(l2, levels)])  # a view
                along += value
    return diagonal, onward, load


def _times(diagonal: Floats, onward: Floats, values: Floats) -> Floats:
    product: Floats = diagonal @ values
    product[..., :-1, :, :] += onward @ values[..., 1:, :, :]
    product[..., 1:, :, :] += np.swapaxes(onward, -1, -2) @ values[..., :-1, :, :]
    return product


def _solved(diagonal: Floats, onward: Floats, push: Floats, free: NDArray[np.bool_]) -> Floats:
    """Row by row elimination; held nodes come back as nought."""
    places = [np.flatnonzero(row) for row in free]
    rows = len(places)
    ahead: list[Floats] = []
    shift: list[Floats] = []
    for r in range(rows):
        at = places[r]
        block = diagonal[..., r, at[:, None], at]
        right = push[..., r, at, :]
        if r:
            down = np.swapaxes(onward[..., r - 1, places[r - 1][:, None], at], -1, -2)
            block = block - down @ ahead[-1]
            right = right - down @ shift[-1]
        following = places[r + 1] if r + 1 < rows else places[r][:0]
        forward = onward[..., r, at[:, None], following] if r + 1 < rows else np.zeros((*block.shape[:-1], 0))
        both = np.linalg.solve(block, np.concatenate((forward, right), axis=-1))
        ahead.append(both[..., : len(following)])
        shift.append(both[..., len(following) :])
    result = np.zeros_like(push)
    later: Floats | None = None
    for r in range(rows - 1, -1, -1):
        later = shift[r] if later is None else shift[r] - ahead[r] @ later
        result[..., r, places[r], :] = later
    return result
