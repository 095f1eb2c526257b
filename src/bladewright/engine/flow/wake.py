"""Potential flow about a section *with* its wake: speeds along both, and how they answer to mass defect along both."""

from dataclasses import dataclass

import numpy as np

from bladewright.engine.arrays import Floats
from bladewright.engine.flow.influence import Complexes, source_influence, vortex_influence
from bladewright.engine.flow.panels import is_blunt, require_ring, system

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
    Along it the disturbance's part in its direction is added to the stream's speed, as if the wake lay along the stream.

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
    matrix, right, points, along = system(nodes)
    chain = (nodes[:, 0] - np.mean(nodes[:, 0])) + 1j * (nodes[:, 1] - np.mean(nodes[:, 1]))
    size = len(chain)
    length = np.abs(np.diff(chain))
    trail = _wake_nodes(chain, 0.5 * (length[0] + length[-1]))
    trail_length = np.abs(np.diff(trail))
    direction = np.diff(trail) / trail_length
    middle = 0.5 * (trail[1:] + trail[:-1])

    total = size + PANELS  # the last column is the base
    per_panel = np.zeros((size - 1 + PANELS, total + 1))  # source strength per mass defect
    walls = np.arange(size - 1)
    per_panel[walls, walls], per_panel[walls, walls + 1] = -1.0 / length, 1.0 / length
    first = size - 1
    wake = np.arange(PANELS)
    per_panel[first + wake, size + wake] = 1.0 / trail_length
    per_panel[first + wake[1:], size + wake[:-1]] = -1.0 / trail_length[1:]
    per_panel[first, [0, size - 1, total]] = np.array([1.0, -1.0, -1.0]) / trail_length[0]

    own = source_influence(points, along, chain)
    np.fill_diagonal(own, -0.5)  # as seen from inside
    through = np.concatenate((own, source_influence(points, along, trail)), axis=1)
    answers = np.zeros((size, total + 1))
    answers[: len(points)] = -through @ per_panel
    strengths = np.linalg.solve(matrix, np.concatenate((right, answers), axis=1))
    strengths[-1] = -strengths[0]

    square = 1j * direction  # flow to the right of it is flow along the wake
    along_wake = vortex_influence(middle, square, chain) @ strengths
    if is_blunt(chain):
        along_wake -= np.outer(_base(middle, square, chain), strengths[0])
    sources = np.concatenate((source_influence(middle, square, chain), source_influence(middle, square, trail)), axis=1)
    along_wake[:, 2:] += sources @ per_panel
    to_nodes = _midpoints_to_nodes(trail_length)
    everywhere = np.concatenate((strengths, to_nodes @ along_wake))
    basis = np.zeros((total, 3))
    basis[:, :2] = everywhere[:, :2]
    basis[size:, 2] = 1.0
    return OuterFlow(
        arc=np.concatenate(([0.0], np.cumsum(length))),
        wake=np.cumsum(trail_length),
        basis=basis,
        response=everywhere[:, 2:-1],
        base_response=everywhere[:, -1],
        base=float(np.abs(chain[0] - chain[-1])),
        nose=int(np.argmin(chain.real)),
    )


def _wake_nodes(chain: Complexes, first: float) -> Complexes:
    """From just behind the middle of the trailing edge, each step longer than the one before by one ratio."""
    from scipy.optimize import brentq

    ratio = float(brentq(lambda r: first * np.sum(r ** np.arange(PANELS)) - LENGTH, 0.5, 4.0))
    steps = np.concatenate(([0.0], np.cumsum(first * ratio ** np.arange(PANELS))))
    steps += 0.5 * np.abs(chain[0] - chain[-1])  # clear of the base, where a condition holds
    trail: Complexes = 0.5 * (chain[0] + chain[-1]) + _bisector(chain) * steps
    return trail


def _midpoints_to_nodes(length: Floats) -> Floats:
    """Values at the nodes behind the first, from those at the panels' middles; the last is the last panel's."""
    weights = np.eye(len(length))
    for i in range(len(length) - 1):
        share = length[i] / (length[i] + length[i + 1])
        weights[i, i], weights[i, i + 1] = 1.0 - share, share
    return weights


def _bisector(chain: Complexes) -> complex:
    """Unit vector aft from the trailing edge, half-way between both surfaces."""
    top, bottom = chain[0] - chain[1], chain[-1] - chain[-2]
    middle = top / np.abs(top) + bottom / np.abs(bottom)
    return complex(middle / np.abs(middle))


def _base(points: Complexes, along: Complexes, chain: Complexes) -> Floats:
    """Normal velocity off the base from the fluid that leaves it along the bisector with unit speed."""
    ends = chain[[-1, 0]]
    across = np.diff(ends)[0] / np.abs(np.diff(ends)[0])
    leaves = _bisector(chain)
    vortex = vortex_influence(points, along, ends).sum(axis=1)
    source = source_influence(points, along, ends)[:, 0]
    velocity: Floats = np.real(leaves * np.conj(across)) * vortex + np.real(1j * leaves * np.conj(across)) * source
    return velocity
