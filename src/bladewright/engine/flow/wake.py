"""Potential flow about a section *with* its wake: speeds along both, and how they answer to mass defect along both."""

from dataclasses import dataclass

import numpy as np

from bladewright.engine.arrays import Complexes, Floats
from bladewright.engine.flow.influence import source_flux, source_influence, vortex_influence
from bladewright.engine.flow.panels import strengths
from bladewright.engine.flow.ring import Ring, require_ring, ring_of

LENGTH = 1.2  # [chord] of the wake that is followed; beyond it nothing changes any more
PANELS = 18


@dataclass(frozen=True, slots=True)
class OuterFlow:
    """Potential flow about one outline and down its wake. Nodes: those of the ring, then those of the wake.

    Speeds and mass defects have their sign along the nodes' direction: negative on the top of the ring.
    ``speed = basis @ (cos a, sin a, 1) + response @ mass defect + base_response * (base * trailing-edge speed)``.
    """

    arc: Floats  # (s,) along the ring from node 0 [chord]
    wake: Floats  # (w,) from the trailing edge to the wake's nodes [chord]
    basis: Floats  # (s + w, 3) [1]
    response: Floats  # (s + w, s + w) speed per mass defect [1/chord]
    base_response: Floats  # (s + w,) speed per mass defect of the base [1/chord]
    base: float  # thickness of the trailing edge [chord]
    nose: int  # number of the ring's foremost node [-]


def outer_flow(nodes: Floats) -> OuterFlow:
    """Flow about a ring of nodes with a straight wake along the trailing edge's bisector.

    The wake carries sources of strength ``dm/ds`` like the walls. It begins with what both layers and the base leave.
    Along it the disturbance's part in its direction is added to the stream's speed, as if it lay along the stream.

    Parameters
    ----------
    nodes : (n + 1, 2) array
        As for ``panels.panel_flow``, chord 1. [chord]

    Returns
    -------
    OuterFlow

    Raises
    ------
    BadInput
        As ``panels.panel_flow``.

    Notes
    -----
    The wake's curvature is left out: at ten degrees it would turn by less than that within a chord, and its sources,
    which fade within a quarter chord, see little of it.

    Source: M. J. Lighthill, J. Fluid Mech. 4, 1958, for displacement as sources (from memory).
    """
    require_ring(nodes)
    ring = ring_of(nodes)
    size = len(ring.nodes)
    trail = _trail(ring)
    trail_length = np.abs(np.diff(trail))
    direction = np.diff(trail) / trail_length
    per_panel = _sources_per_defect(ring.length, trail_length)
    outflow = np.concatenate((_walls(ring), source_influence(ring.points, ring.along, trail)), axis=1) @ per_panel
    solved = strengths(ring, outflow)[:, :-1].T

    places, square = trail[1:], 1j * direction  # flow to the right of it runs along the wake
    vortices = np.empty((size, PANELS))
    vortex_influence(places, square, ring.nodes, vortices)
    along_wake = vortices.T @ solved
    if ring.blunt:
        along_wake -= np.outer(_base(ring, places, square), solved[0])
    sources = np.concatenate((source_influence(places, square, ring.nodes), _own(trail_length)), axis=1)
    along_wake[:, 2:] += sources @ per_panel
    everywhere = np.concatenate((solved, along_wake))
    basis = np.zeros((len(everywhere), 3))
    basis[:, :2] = everywhere[:, :2]
    basis[size:, 2] = 1.0
    return OuterFlow(
        arc=np.concatenate(([0.0], np.cumsum(ring.length))),
        wake=np.cumsum(trail_length),
        basis=basis,
        response=everywhere[:, 2:-1],
        base_response=everywhere[:, -1],
        base=float(np.abs(ring.nodes[0] - ring.nodes[-1])),
        nose=int(np.argmin(ring.nodes.real)),
    )


def _sources_per_defect(walls: Floats, trail: Floats) -> Floats:
    """Source strength of every panel per mass defect of every node, the base the last column: the slope of m."""
    first, count = len(walls), len(walls) + len(trail)
    table = np.zeros((count, count + 2))
    at = np.arange(first)
    table[at, at], table[at, at + 1] = -1.0 / walls, 1.0 / walls
    at = np.arange(len(trail))
    table[first + at, first + 1 + at] = 1.0 / trail
    table[first + at[1:], first + at[1:]] = -1.0 / trail[1:]
    table[first, [0, first, -1]] = np.array([1.0, -1.0, -1.0]) / trail[0]
    return table


def _walls(ring: Ring) -> Floats:
    """Flow that the sources on the walls make through every wall, seen from inside."""
    through = source_flux(ring.nodes)
    if not ring.blunt:
        return through
    return np.concatenate((through, source_influence(ring.points[-1:], ring.along[-1:], ring.nodes)))


def _trail(ring: Ring) -> Complexes:
    """From just behind the middle of the trailing edge, each step longer than the one before by one ratio."""
    from scipy.optimize import brentq

    first = 0.5 * float(ring.length[0] + ring.length[-1])
    ratio = float(brentq(lambda r: first * np.sum(r ** np.arange(PANELS)) - LENGTH, 0.5, 4.0))
    steps = np.concatenate(([0.0], np.cumsum(first * ratio ** np.arange(PANELS))))
    steps += 0.5 * np.abs(ring.nodes[0] - ring.nodes[-1])  # clear of the base, where a condition holds
    trail: Complexes = 0.5 * (ring.nodes[0] + ring.nodes[-1]) + ring.leaves * steps
    return trail


def _own(length: Floats) -> Floats:
    """Speed along a straight wake at its nodes, per strength of its panels: the mean from panel middle to middle.

    At a node itself the speed has no limit where the strength jumps. With ``F(r) = r ln r - r`` the potential of a
    panel is the difference of F at its ends over 2 pi.
    """
    ends = np.concatenate(([0.0], np.cumsum(length)))
    middles = np.append(0.5 * (ends[1:] + ends[:-1]), ends[-1])
    apart = np.abs(middles[:, None] - ends)
    stretch = (middles[:, None] - ends) * (np.log(np.where(apart > 0.0, apart, 1.0)) - 1.0)
    potential = (stretch[:, :-1] - stretch[:, 1:]) / (2.0 * np.pi)
    speed: Floats = np.diff(potential, axis=0) / np.diff(middles)[:, None]
    return speed


def _base(ring: Ring, points: Complexes, along: Complexes) -> Floats:
    """Normal velocity off the base from the fluid that leaves it along the bisector with unit speed."""
    ends = ring.nodes[[-1, 0]]
    wall = ring.along[-1]
    vortex = np.empty((2, len(points)))
    vortex_influence(points, along, ends, vortex)
    source = source_influence(points, along, ends)[:, 0]
    leaving = ring.leaves * np.conj(wall)
    velocity: Floats = leaving.real * vortex.sum(axis=0) - leaving.imag * source
    return velocity
