"""What a chain of straight vortex or source panels does at points of the flow: normal velocity per unit strength.

Points and nodes are complex numbers x + i z here. A factor that depends on panel and point is a sum of products of
something of the panel and something of the point, so each table is one thin matrix product; what is left to do for
every pair is one logarithm and one angle. Tables are worked in place in memory kept between calls: fetching fresh
pages costs more than the arithmetic.
"""

import threading

import numpy as np
from numpy.typing import NDArray

from bladewright.engine.arrays import Floats

Complexes = NDArray[np.complex128]

TURN = 2.0 * np.pi
TABLES = 5
MOST_KEPT = 2**20  # numbers kept between calls: tables of some 450 panels
_kept = threading.local()


def vortex_influence(points: Complexes, along: Complexes, chain: Complexes) -> Floats:
    """Normal velocity at points from vortex strength that runs linearly from node to node.

    From a panel of length L at the origin with strength growing from 0 to 1, ``u - i w = -i [Z (s - i b) - L]/(2 pi L)``
    at Z, with ``s = ln(r1/r2)`` of the distances to its ends and b the angle under which it is seen.

    Parameters
    ----------
    points : (m,) complex array
        x + i z, none of them a node. [m]
    along : (m,) complex array
        Unit vectors; the normal lies to their right. [-]
    chain : (n,) complex array
        Nodes, panel by panel. [m]

    Returns
    -------
    (m, n) array
        Per unit strength at each node, anticlockwise positive. [1]

    Notes
    -----
    Exact for straight panels; on a panel the limit is the same from both sides.

    Source: J. Katz, A. Plotkin, Low-Speed Aerodynamics, 1991, ch. 10 (from memory); rederived in complex form.
    """
    tables = _scratch(len(chain), len(points))
    stretch, angle = _seen(points, chain, tables)
    level, part, across = tables[0, :-1], tables[3, :-1], tables[4, :-1]
    side = np.diff(chain)
    length = np.abs(side)
    turned = (np.conj(side) / length) ** 2 / length / TURN
    _products((np.conj(side) / length / TURN,), (along,), level)
    result = np.zeros((len(chain), len(points)))
    for own, far, sign in ((result[:-1], chain[1:], np.add), (result[1:], chain[:-1], np.subtract)):
        _products((turned, -far * turned), (points * along, along), part, across)
        part *= stretch
        across *= angle
        part += across
        part -= level
        sign(own, part, out=own)
    return result.T


def source_influence(points: Complexes, along: Complexes, chain: Complexes) -> Floats:
    """Normal velocity at points from sources of constant strength on each panel.

    From a panel at the origin, ``u - i w = (s - i b)/(2 pi)`` with s and b as in ``vortex_influence``.

    Parameters
    ----------
    points : (m,) complex array
        x + i z, none of them a node. [m]
    along : (m,) complex array
        Unit vectors; the normal lies to their right. [-]
    chain : (n,) complex array
        Nodes, panel by panel. [m]

    Returns
    -------
    (m, n - 1) array
        Per unit strength. [1]

    Notes
    -----
    Exact for straight panels. A point on a panel has plus or minus one half from it, by rounding: the caller says
    which side is meant.

    Source: J. Katz, A. Plotkin, Low-Speed Aerodynamics, 1991, ch. 10 (from memory).
    """
    tables = _scratch(len(chain), len(points))
    stretch, angle = _seen(points, chain, tables)
    side = np.diff(chain)
    level, across = np.empty_like(stretch), tables[3, :-1]
    _products((np.conj(side) / np.abs(side) / TURN,), (along,), level, across)
    across *= stretch
    level *= angle
    return np.subtract(across, level, out=level).T


def _seen(points: Complexes, chain: Complexes, tables: Floats) -> tuple[Floats, Floats]:
    """By panel and point: logarithm of the distance to the panel's begin over that to its end, and the angle between."""
    square, height, inner, outer = tables[0], tables[1], tables[1, :-1], tables[2, :-1]
    np.subtract(chain.real[:, None], points.real, out=square)
    square *= square
    np.subtract(chain.imag[:, None], points.imag, out=height)
    height *= height
    square += height
    side = np.diff(chain)
    _products((-side, side * np.conj(chain[:-1])), (np.conj(points), np.ones_like(points)), inner, outer)
    inner += square[:-1]
    np.arctan2(outer, inner, out=outer)
    np.log(square, out=square)
    np.subtract(square[:-1], square[1:], out=inner)
    inner *= 0.5
    return inner, outer


def _products(
    rows: tuple[Complexes, ...], columns: tuple[Complexes, ...], real: Floats, imaginary: Floats | None = None
) -> None:
    """Real and imaginary part of a sum of outer products."""
    left = np.column_stack([part for each in rows for part in (each.real, each.imag)])
    np.matmul(left, np.array([part for each in columns for part in (each.real, -each.imag)]), out=real)
    if imaginary is not None:
        np.matmul(left, np.array([part for each in columns for part in (each.imag, each.real)]), out=imaginary)


def _scratch(rows: int, columns: int) -> Floats:
    size = TABLES * rows * columns
    if size > MOST_KEPT:
        return np.empty((TABLES, rows, columns))
    if getattr(_kept, "memory", None) is None or _kept.memory.size < size:
        _kept.memory = np.empty(size)
    tables: Floats = _kept.memory[:size].reshape(TABLES, rows, columns)
    return tables
