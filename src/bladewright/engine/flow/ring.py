"""The ring of nodes round a section, as the panels see it: complex x + i z, and where conditions are set."""

from dataclasses import dataclass

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


def ring_of(nodes: Floats) -> Ring:
    """A ring of nodes with its middles and directions.

    Parameters
    ----------
    nodes : (n + 1, 2) array
        Anticlockwise from the trailing edge on top to the trailing edge on the bottom. [m]

    Returns
    -------
    Ring

    Raises
    ------
    BadInput
        If nodes are not finite, too few, repeated or clockwise.

    Notes
    -----
    Source: definition; no source needed.
    """
    chain: Complexes = nodes[:, 0] + 1j * nodes[:, 1]
    chain -= chain.mean()
    blunt = bool(abs(chain[0] - chain[-1]) > SHARP * np.ptp(chain.real))
    walls: Complexes = np.append(chain, chain[0]) if blunt else chain
    side: Complexes = np.diff(walls)
    length = np.abs(side)
    if not (len(chain) > FEWEST_PANELS and length.min() > 0.0 and np.vdot(walls[:-1], side).imag > 0.0):
        require_ring(nodes)
    along: Complexes = side / length
    return Ring(chain, length[: len(chain) - 1], blunt, walls[:-1] + 0.5 * side, along)


def require_ring(nodes: Floats) -> None:
    """Raise ``BadInput`` unless nodes go anticlockwise round something, each place once.

    Parameters
    ----------
    nodes : (n + 1, 2) array
        A ring. [m]

    Raises
    ------
    BadInput
        Saying which.
    """
    if nodes.ndim != 2 or nodes.shape[1] != 2 or len(nodes) <= FEWEST_PANELS:
        raise BadInput("too few nodes", field="nodes", allowed=f"(n + 1, 2) with n at least {FEWEST_PANELS}")
    require_finite(nodes, "nodes")
    still = ~np.any(np.diff(nodes, axis=0), axis=1)
    if still.any():
        at = int(np.argmax(still)) + 2
        raise BadInput("a node is repeated", field="nodes", row=at, fix="drop the repeated point")
    x, z = (nodes - nodes.mean(axis=0)).T
    if not np.sum(x * np.roll(z, -1) - np.roll(x, -1) * z) > 0.0:
        raise BadInput("the ring runs clockwise", field="nodes", fix="begin on top of the trailing edge, go forward")
