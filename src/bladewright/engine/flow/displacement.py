"""How the speed along a section answers to the displacement of its boundary layer, the trailing-edge condition kept."""

from dataclasses import dataclass

import numpy as np

from bladewright.engine.arrays import Floats
from bladewright.engine.flow.influence import source_flux, source_influence
from bladewright.engine.flow.panels import PanelFlow, flow_of, strengths
from bladewright.engine.flow.ring import Ring, ring_of


@dataclass(frozen=True, slots=True)
class DisplacementResponse:
    """Change of surface speed per mass defect, both with their sign along the ring.

    The signed mass defect at a node is ``m = u d``: u the signed speed of ``PanelFlow`` over the stream's, d the
    displacement thickness. It is negative where the flow runs forward over the top and passes through zero at the
    stagnation point. Outflow through the wall is ``dm/ds`` along the ring on both surfaces alike, so
    ``speed = inviscid speed + matrix @ m`` at any angle.
    """

    matrix: Floats  # (n + 1, n + 1): at node i per mass defect at node j, linear in between [1/m]


def displaced_flow(nodes: Floats, angles: Floats, chord: float = 1.0) -> tuple[PanelFlow, DisplacementResponse]:
    """Flow about one shape, and how its surface speed answers to a mass defect at each node, from one factorisation.

    Parameters
    ----------
    nodes : (n + 1, 2) array
        The ring, as for ``panel_flow``. [m]
    angles : (k,) array
        Of attack. [rad]
    chord : float
        That coefficients refer to. [m]

    Returns
    -------
    tuple of PanelFlow and DisplacementResponse

    Raises
    ------
    BadInput
        As ``panel_flow``.

    Notes
    -----
    The mass defect is linear along each panel, so that its outflow is a source of constant strength there. The mass
    defect that is left at the trailing edge goes on downstream unchanged, which adds no source. The condition of
    equal speeds at the trailing edge holds with the outflow too. First order in the displacement: the wall stays.

    Source: M. J. Lighthill, On displacement thickness, J. Fluid Mech. 4, 1958 (from memory).
    """
    ring = ring_of(nodes)
    through = wall_sources(ring) / ring.length
    outflow = np.zeros((len(ring.points), len(ring.nodes)))
    outflow[:, :-1] -= through
    outflow[:, 1:] += through
    solved = strengths(ring, outflow)
    return flow_of(nodes, [ring], solved[None, :2], angles, chord), DisplacementResponse(matrix=solved[2:, :-1].T)


def wall_sources(ring: Ring) -> Floats:
    """Normal velocity just inside each condition's point from sources of constant strength on each panel.

    Parameters
    ----------
    ring : Ring
        The shape. [-]

    Returns
    -------
    (m, n) array
        At the m points of the ring, from its n panels; through the panels it is the mean along each. [1]

    Notes
    -----
    Source: as ``source_flux``.
    """
    velocity = np.empty((len(ring.points), len(ring.length)))
    velocity[: len(ring.length)] = source_flux(ring.nodes)
    if ring.blunt:
        velocity[-1:] = source_influence(ring.points[-1:], ring.along[-1:], ring.nodes)
    return velocity
