"""The table of ``vortex_influence`` in two compiled passes, with numpy's own logarithm and angle between them.

It needs numba, which the optional extra ``fast`` brings. Loading and compiling take longer than hundreds of shapes, so
``start`` is called where that many are ahead, and nothing changes but the time.
"""

from collections.abc import Callable
from importlib.util import find_spec
from typing import NamedTuple

import numpy as np

from bladewright.engine.arrays import Complexes, Floats

HARMLESS = {
    "reassoc",
    "contract",
    "nsz",
    "arcp",
}  # liberties with rounding; not-a-number and infinity keep their meaning
FACTOR = 0.5 / np.pi


class _Passes(NamedTuple):
    before: Callable[..., None]
    after: Callable[..., None]


_running: list[_Passes] = []


def start() -> bool:
    """Use the compiled passes from now on, if numba is installed.

    Returns
    -------
    bool
        Whether they are in use.

    Notes
    -----
    Some seconds the first time on a machine, a fraction of one later.

    Source: definition; no source needed.
    """
    if not _running and find_spec("numba") is not None:
        import numba

        compiled = numba.njit(cache=True, fastmath=HARMLESS)
        _running.append(_Passes(compiled(_before), compiled(_after)))
    return bool(_running)


def stop() -> None:
    """Use numpy alone again.

    Notes
    -----
    Source: definition; no source needed.
    """
    _running.clear()


def in_use() -> bool:
    """Whether the compiled passes are in use.

    Returns
    -------
    bool

    Notes
    -----
    Source: definition; no source needed.
    """
    return bool(_running)


def fill(points: Complexes, along: Complexes, chain: Complexes, tables: Floats, out: Floats, first: int) -> None:
    """Do the work of ``vortex_influence`` in the compiled passes.

    Parameters
    ----------
    points : (m,) complex array
        As there. [m]
    along : (m,) complex array
        As there. [-]
    chain : (n,) complex array
        As there. [m]
    tables : (3 or more, n, m) array
        Overwritten. [-]
    out : (n, first + m or more) array
        Filled from column ``first`` on; quickest where its rows follow each other. [1]
    first : int
        See there. [-]

    Notes
    -----
    The same sums in another order: differs by rounding (tested).

    Source: as ``vortex_influence``.
    """
    passes = _running[0]
    square, inner, outer = tables[0], tables[1, :-1], tables[2, :-1]
    x, z = points.real.copy(), points.imag.copy()
    nodes_x, nodes_z = chain.real.copy(), chain.imag.copy()
    passes.before(x, z, nodes_x, nodes_z, square, inner, outer)
    np.arctan2(outer, inner, out=outer)
    np.log(square, out=square)
    passes.after(x, z, along.real.copy(), along.imag.copy(), nodes_x, nodes_z, square, outer, out, first)


def _before(
    x: Floats, z: Floats, nodes_x: Floats, nodes_z: Floats, square: Floats, inner: Floats, outer: Floats
) -> None:
    """Squares of distances, and the two sides of the angle under which each panel is seen."""
    last = len(nodes_x) - 1
    for j in range(last + 1):
        for i in range(len(x)):
            to_x, to_z = nodes_x[j] - x[i], nodes_z[j] - z[i]
            square[j, i] = to_x * to_x + to_z * to_z
    for j in range(last):
        side_x, side_z = nodes_x[j + 1] - nodes_x[j], nodes_z[j + 1] - nodes_z[j]
        for i in range(len(x)):
            to_x, to_z = nodes_x[j] - x[i], nodes_z[j] - z[i]
            inner[j, i] = square[j, i] + side_x * to_x + side_z * to_z
            outer[j, i] = side_z * to_x - side_x * to_z


def _after(
    x: Floats,
    z: Floats,
    along_x: Floats,
    along_z: Floats,
    nodes_x: Floats,
    nodes_z: Floats,
    logarithm: Floats,
    angle: Floats,
    out: Floats,
    first: int,
) -> None:
    """Velocities from logarithms and angles; what a panel gives its end waits for what the next gives its begin."""
    waiting = np.zeros(len(x))
    for j in range(len(nodes_x) - 1):
        side_x, side_z = nodes_x[j + 1] - nodes_x[j], nodes_z[j + 1] - nodes_z[j]
        square = side_x * side_x + side_z * side_z
        scale = FACTOR / np.sqrt(square)
        for i in range(len(x)):
            sine = scale * (along_z[i] * side_x - along_x[i] * side_z)
            cosine = scale * (along_x[i] * side_x + along_z[i] * side_z)
            stretch = 0.5 * (logarithm[j, i] - logarithm[j + 1, i])
            from_x, from_z = x[i] - nodes_x[j], z[i] - nodes_z[j]
            ahead = (from_x * side_x + from_z * side_z) / square
            above = (from_z * side_x - from_x * side_z) / square
            level = stretch * cosine + angle[j, i] * sine
            grown = ahead * level - above * (stretch * sine - angle[j, i] * cosine) - cosine
            out[j, first + i] = grown - level - waiting[i]
            waiting[i] = grown
    for i in range(len(x)):
        out[-1, first + i] = -waiting[i]
