"""What a chain of straight vortex or source panels does at points of the flow: normal velocity per unit strength.

Points and nodes are complex numbers x + i z here. A factor that depends on panel and point is a sum of products of
something of the panel and something of the point, so each table is one thin matrix product; what is left to do for
every pair is one logarithm and one angle. Tables are worked in place in memory kept between calls: fetching fresh
pages costs more than the arithmetic.
"""

import threading

import numpy as np

from bladewright.engine.arrays import Complexes, Floats
from bladewright.engine.flow import fused

TURN = 2.0 * np.pi
TABLES = 6
MOST_TOGETHER = 2**17  # pairs worked together, so that tables stay near the processor; our own measurement
FEWEST_TOGETHER = 8
_kept = threading.local()


def vortex_influence(points: Complexes, along: Complexes, chain: Complexes, out: Floats | None = None) -> Floats:
    """Normal velocity at points from vortex strength that runs linearly from node to node.

    From a panel of length L at the origin with strength that grows from 0 to 1, the velocity at Z is
    ``u - i w = -i [Z (s - i b) - L]/(2 pi L)``, with ``s = ln(r1/r2)`` of the distances to its ends and b the angle
    under which it is seen.

    Parameters
    ----------
    points : (m,) complex array
        x + i z, none of them a node. [m]
    along : (m,) complex array
        Unit vectors; the normal lies to their right. [-]
    chain : (n,) complex array
        Nodes, panel by panel. [m]
    out : (n, m or more) array or None
        Where to put the result, by node and point. [1]

    Returns
    -------
    (m, n) array
        Per unit strength at each node, anticlockwise positive. [1]

    Notes
    -----
    Exact for straight panels; on a panel the limit is the same from both sides.

    Source: J. Katz, A. Plotkin, Low-Speed Aerodynamics, 1991, ch. 10 (from memory); rederived in complex form.
    """
    table = np.empty((len(chain), len(points))) if out is None else out
    block = max(FEWEST_TOGETHER, MOST_TOGETHER // len(chain))
    for first in range(0, len(points), block):
        some = slice(first, min(first + block, len(points)))
        if fused.in_use():
            tables = _scratch(len(chain), len(points[some]))
            fused.fill(points[some], along[some], chain, tables, table, first)
        else:
            _fill(points[some], along[some], chain, table[:, some])
    return table[:, : len(points)].T


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
    cosine, sine = tables[3, :-1], tables[4, :-1]
    side = np.diff(chain)
    _products((np.conj(side) / (TURN * np.abs(side)),), (along,), cosine, sine)
    sine *= stretch
    cosine *= angle
    return (sine - cosine).T


def source_flux(chain: Complexes) -> Floats:
    """Mean normal velocity through each panel of a chain from sources of constant strength on each, inside taken left.

    With ``G(w) = w ln w``, the stream function is ``Im[conj(t) (G(z - begin) - G(z - end))]/(2 pi)`` of a panel along
    t, up to a constant; the flux through another panel is its change from one end to the other.

    Parameters
    ----------
    chain : (n,) complex array
        Nodes, panel by panel; panels meet at nodes only. [m]

    Returns
    -------
    (n - 1, n - 1) array
        Through panel i, to its right, from panel j. [1]

    Notes
    -----
    Exact for straight panels: what goes into a closed chain comes out of it. At panel middles instead, the bends of
    the chain would cost an order of accuracy.

    Source: the two-dimensional source, integrated over both panels in docs/theory/section-flow.
    """
    side = np.diff(chain)
    apart = chain[:, None] - chain
    distance = np.abs(apart)
    logarithm = np.log(np.where(distance > 0.0, distance, 1.0))
    seen = np.angle(apart[1:] * np.conj(apart[:-1]))  # of a panel, from a node
    from_begin, from_end, to_begin, to_end = seen[:, :-1], seen[:, 1:], seen.T[:-1], seen.T[1:]
    meets = distance[:-1, 1:] == 0.0  # there the angle goes round by the other end
    last = np.where(meets, from_begin + to_end, to_begin + from_end)

    def stream(row: slice, column: slice, turn: Floats) -> Complexes:
        value: Complexes = apart[row, column] * (logarithm[row, column] + 1j * turn)
        return value

    ends, begins = slice(1, None), slice(None, -1)
    total = stream(ends, begins, from_begin) - stream(ends, ends, last)
    total -= stream(begins, begins, np.zeros_like(last)) - stream(begins, ends, to_begin)
    flux: Floats = np.imag(total * np.conj(side)) / np.abs(side) / np.abs(side)[:, None] / TURN
    np.fill_diagonal(flux, -0.5)
    return flux


def _fill(points: Complexes, along: Complexes, chain: Complexes, out: Floats) -> None:
    """The table of ``vortex_influence``, by node and point: a panel's begin has what its end has not."""
    tables = _scratch(len(chain), len(points))
    stretch, angle = _seen(points, chain, tables)
    cosine, sine, level, turn = tables[3, :-1], tables[4, :-1], tables[5, :-1], tables[0, :-1]
    side = np.diff(chain)
    length = np.abs(side)
    unit = np.conj(side) / length
    _products((unit / TURN,), (along,), cosine, sine)
    turned = unit**2 / (TURN * length)
    _products((turned, -chain[:-1] * turned), (points * along, along), level, turn)
    level *= stretch
    turn *= angle
    level += turn
    level -= cosine
    stretch *= cosine
    angle *= sine
    stretch += angle
    np.subtract(level, stretch, out=stretch)
    out[0], out[-1] = stretch[0], -level[-1]
    np.subtract(stretch[1:], level[:-1], out=out[1:-1])


def _seen(points: Complexes, chain: Complexes, tables: Floats) -> tuple[Floats, Floats]:
    """By panel and point: logarithm of the distance to its begin over that to its end, and the angle between."""
    square, height, inner, outer = tables[0], tables[1], tables[1, :-1], tables[2, :-1]
    np.subtract(chain.real[:, None], points.real.copy(), out=square)  # the copy lies close, which is quicker
    square *= square
    np.subtract(chain.imag[:, None], points.imag.copy(), out=height)
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
    rows: tuple[Complexes | Floats, ...], columns: tuple[Complexes, ...], real: Floats, imaginary: Floats | None = None
) -> None:
    """Real and imaginary part of a sum of outer products."""
    left = np.array([part for each in rows for part in (each.real, each.imag)]).T
    np.matmul(left, np.array([part for each in columns for part in (each.real, -each.imag)]), out=real)
    if imaginary is not None:
        np.matmul(left, np.array([part for each in columns for part in (each.imag, each.real)]), out=imaginary)


def _scratch(rows: int, columns: int) -> Floats:
    size = TABLES * rows * columns
    if getattr(_kept, "memory", None) is None or _kept.memory.size < size:
        _kept.memory = np.empty(size)
    tables: Floats = _kept.memory[:size].reshape(TABLES, rows, columns)
    return tables
