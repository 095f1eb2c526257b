"""The ring of nodes round a section, as the panels see it: complex x + i z, and where conditions are set."""

from dataclasses import dataclass
from typing import NoReturn

import numpy as np

from bladewright.engine.arrays import Complexes, Floats, require_finite
from bladewright.errors import BadInput

FEWEST_PANELS = 8
SHARP = 1e-9  # a trailing edge thinner than this share of the outline's length is closed


@dataclass(frozen=True, slots=True)
class Ring:
    """One shape, anticlockwise from the trailing edge on top; if blunt, its base is the last wall."""

    nodes: Complexes  # (n + 1,) about their mean [m]
    length: Floats  # (n,) of the panels [m]
    blunt: bool
    points: Complexes  # middles of the n panels, and of the base if there is one [m]
    along: Complexes  # unit vectors there; outside is to the right [-]

    @property
    def leaves(self) -> complex:
        """Unit vector aft from the trailing edge, half-way between both surfaces. [-]"""
        middle = self.along[len(self.length) - 1] - self.along[0]
        return complex(middle / np.abs(middle))


def rings_of(nodes: Floats) -> list[Ring]:
    """Rings of nodes with their middles and directions.

    Parameters
    ----------
    nodes : (..., n + 1, 2) array
        One or many, anticlockwise from the trailing edge on top to the trailing edge on the bottom. [m]

    Returns
    -------
    list of Ring

    Raises
    ------
    BadInput
        If nodes are not finite, too few, repeated or clockwise.

    Notes
    -----
    Source: definition; no source needed.
    """
    if nodes.ndim < 2 or nodes.shape[-1] != 2 or nodes.shape[-2] <= FEWEST_PANELS:
        raise BadInput("too few nodes", field="nodes", allowed=f"(..., n + 1, 2) with n at least {FEWEST_PANELS}")
    return [_ring(shape) for shape in nodes.reshape(-1, *nodes.shape[-2:])]


def _ring(nodes: Floats) -> Ring:
    chain: Complexes = nodes[:, 0] + 1j * nodes[:, 1]
    chain -= chain.mean()
    blunt = bool(abs(chain[0] - chain[-1]) > SHARP * np.ptp(chain.real))
    walls: Complexes = np.append(chain, chain[0]) if blunt else chain
    side: Complexes = np.diff(walls)
    length = np.abs(side)
    if not (length.min() > 0.0 and np.vdot(walls[:-1], side).imag > 0.0):
        _say_why_not(nodes, length)
    along: Complexes = side / length
    return Ring(chain, length[: len(chain) - 1], blunt, walls[:-1] + 0.5 * side, along)


def _say_why_not(nodes: Floats, length: Floats) -> NoReturn:
    require_finite(nodes, "nodes")
    if not length.all():
        at = int(np.argmin(length)) + 2
        raise BadInput("a node is repeated", field="nodes", row=at, fix="drop the repeated point")
    raise BadInput("the ring runs clockwise", field="nodes", fix="begin on top of the trailing edge, go forward")
