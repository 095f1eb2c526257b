"""Thin walls round one or several cells: torsion by Bredt and Batho, shear flow, shear centre; many at once.

The drawn section is not taken for thin walls; this is the formula its finite elements are held against as walls thin.
"""

from dataclasses import dataclass

import numpy as np

from bladewright.engine.arrays import Floats
from bladewright.engine.structure.layers import lengths
from bladewright.errors import BadInput

#: (number of a wall, +1 along it or -1 against it)
Step = tuple[int, int]


@dataclass(frozen=True, slots=True)
class Wall:
    """A wall from one junction to another: a line of straight pieces along which shear flows."""

    points: Floats  # (..., n, 2) middle line, x aft and z up [m]
    shear: Floats  # (..., n - 1) G t of each piece [N/m]
    axial: Floats  # (..., n - 1) E t of each piece [N/m]
    start: int  # junction number
    end: int  # junction number

    @property
    def lengths(self) -> Floats:
        """Of the pieces. (..., n - 1) [m]"""
        return lengths(np.diff(self.points, axis=-2))

    @property
    def stiffnesses(self) -> Floats:
        """E A of the pieces. (..., n - 1) [N]"""
        return self.axial * self.lengths

    @property
    def swept(self) -> Floats:
        """Twice the area each piece sweeps about the origin. (..., n - 1) [m^2]"""
        x, z = self.points[..., 0], self.points[..., 1]
        twice: Floats = x[..., :-1] * z[..., 1:] - x[..., 1:] * z[..., :-1]
        return twice


@dataclass(frozen=True, slots=True)
class Cells:
    """Walls and the closed ways round their cells, each counter-clockwise (aft along the bottom)."""

    walls: tuple[Wall, ...]
    loops: tuple[tuple[Step, ...], ...]

    def __post_init__(self) -> None:
        for loop in self.loops:
            ends = [(self.walls[wall].start, self.walls[wall].end)[:: 1 if sense > 0 else -1] for wall, sense in loop]
            if any(ends[i - 1][1] != ends[i][0] for i in range(len(ends))):
                raise BadInput("a loop does not close", field="loops", value=loop, allowed="walls end to start")


@dataclass(frozen=True, slots=True)
class Torsion:
    """What resists twisting."""

    stiffness: Floats  # G J, the walls' own included [N m^2]
    own: Floats  # the part the walls bear each for itself [N m^2]
    flow_per_twist: Floats  # (..., cells) shear flow of each cell per twist per length [N/m per rad/m]


def cell_areas(cells: Cells) -> Floats:
    """Area within each cell's middle line.

    Parameters
    ----------
    cells : Cells
        Any. [-]

    Returns
    -------
    (..., cells) array
        [m^2]

    Notes
    -----
    Source: definition; no source needed.
    """
    swept = [wall.swept.sum(-1) for wall in cells.walls]
    return np.stack([0.5 * sum(sense * swept[wall] for wall, sense in loop) for loop in cells.loops], axis=-1)


def cell_flexibility(cells: Cells) -> Floats:
    """Integral of ds / (G t) round each cell and, with a minus sign, along the walls two cells share.

    Parameters
    ----------
    cells : Cells
        Any. [-]

    Returns
    -------
    (..., cells, cells) array
        [m^2/N]

    Notes
    -----
    Source: R. Bredt, 1896; C. Batho, 1915, as in T. H. G. Megson, Aircraft Structures (from memory).
    """
    along = [(wall.lengths / wall.shear).sum(-1) for wall in cells.walls]
    rows = []
    for one in cells.loops:
        row = [sum(a * b * along[w] for w, a in one for v, b in other if v == w) for other in cells.loops]
        rows.append(np.stack([value + 0.0 * along[0] for value in row], axis=-1))
    return np.stack(rows, axis=-2)


def cell_torsion(areas: Floats, flexibility: Floats, own: Floats | float = 0.0) -> Torsion:
    """Torsional stiffness of closed cells that twist together.

    ``sum_j f_ij q_j = 2 A_i`` per unit of twist; ``GJ = 2 sum A_i q_i + own``.

    Parameters
    ----------
    areas : (..., cells) array
        Within the middle lines. [m^2]
    flexibility : (..., cells, cells) array
        Symmetric, positive definite. [m^2/N]
    own : float or (...) array
        What the walls bear as strips, ``sum G t**3 L / 3``. [N m^2]

    Returns
    -------
    Torsion

    Notes
    -----
    Free to warp. Holds to second order in wall over depth when ``own`` is given, to first without.

    Source: R. Bredt, 1896; C. Batho, 1915, as in T. H. G. Megson, Aircraft Structures (from memory).
    """
    flow = np.asarray(np.linalg.solve(flexibility, 2.0 * areas[..., None])[..., 0], dtype=np.float64)
    each: Floats = own + np.zeros_like(flow[..., 0])
    return Torsion(stiffness=2.0 * (areas * flow).sum(-1) + each, own=each, flow_per_twist=flow)


def shear_centre(cells: Cells) -> tuple[Floats, Floats]:
    """Where a transverse force bends without twisting.

    The flow of a unit force follows from ``dq/ds = -E t (a x + b z)`` along each wall, balance at the junctions and
    no twist of any cell, ``integral of q ds / (G t) = 0``; its moment divided by the force is the arm.

    Parameters
    ----------
    cells : Cells
        Closed cells only. [-]

    Returns
    -------
    (...) arrays
        x and z. [m]

    Raises
    ------
    BadInput
        If walls, junctions and loops do not make a closed set.

    Notes
    -----
    Thin walls; no effect of Poisson's ratio.

    Source: T. H. G. Megson, Aircraft Structures, shear of closed sections (from memory).
    """
    walls, loops = cells.walls, cells.loops
    junctions = sorted({end for wall in walls for end in (wall.start, wall.end)})
    if len(walls) != len(junctions) - 1 + len(loops):
        raise BadInput(
            "walls, junctions and cells do not fit together",
            field="loops",
            value=len(loops),
            allowed=f"{len(walls) - len(junctions) + 1} loops",
        )
    middle, gradient = _gradients(walls)
    partial = [_from_start(wall, middle, gradient) for wall in walls]
    matrix = [np.zeros((*gradient.shape[:-2], len(walls))) for _ in walls]
    sides = [np.zeros((*gradient.shape[:-2], 2)) for _ in walls]
    for row, junction in enumerate(junctions[1:]):
        for at, wall in enumerate(walls):
            matrix[row][..., at] = float(wall.start == junction) - float(wall.end == junction)
            sides[row] += float(wall.end == junction) * partial[at].end
    for row, loop in enumerate(loops, start=len(junctions) - 1):
        scale = sum((walls[at].lengths / walls[at].shear).sum(-1) for at, _ in loop)
        for at, sense in loop:
            matrix[row][..., at] += sense * (walls[at].lengths / walls[at].shear).sum(-1) / scale
            sides[row] -= sense * partial[at].twist / np.asarray(scale)[..., None]
    flow = np.linalg.solve(np.stack(matrix, axis=-2), np.stack(sides, axis=-2))
    moment: Floats = np.zeros_like(sides[0])
    for at, wall in enumerate(walls):
        moment = moment + flow[..., at, :] * wall.swept.sum(-1)[..., None] + partial[at].moment
    # flow and arms were both taken about the origin of the coordinates: a force up has the arm x, a force aft -z
    return moment[..., 1], -moment[..., 0]


@dataclass(frozen=True, slots=True)
class _Partial:
    """Flow along a wall that is zero at its start, for a unit force aft and a unit force up."""

    end: Floats  # (..., 2) flow at the end [1/m]
    twist: Floats  # (..., 2) integral of q ds / (G t) [m/N]
    moment: Floats  # (..., 2) about the origin [m]


def _gradients(walls: tuple[Wall, ...]) -> tuple[Floats, Floats]:
    """The elastic centre (..., 2), and what turns (x, z) into strain growth for a unit force aft and up (..., 2, 2)."""
    total, first, second = 0.0, 0.0, 0.0
    for wall in walls:
        weight = wall.stiffnesses[..., None]
        a, b = wall.points[..., :-1, :], wall.points[..., 1:, :]
        total = total + weight.sum(-2)
        first = first + (weight * 0.5 * (a + b)).sum(-2)
        outer = _outer(a, a) + _outer(b, b) + 0.5 * (_outer(a, b) + _outer(b, a))
        second = second + (weight[..., None] * outer / 3.0).sum(-3)
    middle = np.asarray(first / total)
    inertia = np.asarray(second - np.asarray(total)[..., None] * _outer(middle, middle))
    return middle, np.asarray(np.linalg.inv(inertia), dtype=np.float64)


def _outer(a: Floats, b: Floats) -> Floats:
    product: Floats = a[..., :, None] * b[..., None, :]
    return product


def _from_start(wall: Wall, middle: Floats, gradient: Floats) -> _Partial:
    growth = (wall.points - middle[..., None, :]) @ gradient  # (..., n, 2) at the points, linear between
    near, far = growth[..., :-1, :], growth[..., 1:, :]
    length, stiffness = wall.lengths[..., None], wall.stiffnesses[..., None]
    drop = -stiffness * 0.5 * (near + far)
    sums = np.cumsum(drop, axis=-2)
    before = sums - drop
    along = length * (before - stiffness * (near / 3.0 + far / 6.0))  # integral of q ds over each piece
    rate = np.divide(wall.swept, wall.lengths, out=np.zeros_like(wall.swept), where=wall.lengths > 0.0)
    moment = (along * rate[..., None]).sum(-2)
    return _Partial(
        end=sums[..., -1, :],
        twist=(along / wall.shear[..., None]).sum(-2),
        moment=moment,
    )
