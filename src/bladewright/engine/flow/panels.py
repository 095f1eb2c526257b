"""Potential flow about a section: straight panels round the outline, with vortex strength linear along each.

The fluid inside is at rest, so the strength at a node is the speed along the surface there. A shape is solved once, for
the stream along x and along z; every angle of attack is a sum of the two.
"""

from dataclasses import dataclass

import numpy as np

from bladewright.engine.arrays import Complexes, Floats, require_finite
from bladewright.engine.flow import fused
from bladewright.engine.flow.influence import source_influence, vortex_influence
from bladewright.engine.flow.ring import Ring, require_ring, ring_of
from bladewright.errors import BadInput, OutsideValidity

WORTH_COMPILING = 1_000_000  # coordinates: some 2,500 shapes of 200 panels, or a second's work; our own measurement
STREAMS = np.array([1.0, 1.0j])  # along x, along z
ONE, OTHER = (0, 0, 1), (0, 1, 1)  # the pairs of streams whose product a squared speed is made of


@dataclass(frozen=True, slots=True)
class PanelFlow:
    """Flow of unit stream speed about one or many shapes (...) at k angles; rings run anticlockwise.

    Node 0 is the trailing edge on top, then forward over the top, round the nose, and aft along the bottom.
    """

    nodes: Floats  # (..., n + 1, 2) x and z [m]
    angles: Floats  # (k,) of attack, against the x axis [rad]
    arc: Floats  # (..., n + 1) length along the ring from node 0 [m]
    speed: Floats  # (..., k, n + 1) surface over stream speed along the ring: negative where it runs forward [1]
    lift: Floats  # (..., k) coefficient, from the circulation [1]
    lift_from_pressure: Floats  # (..., k) coefficient [1]
    drag_from_pressure: Floats  # (..., k) coefficient; error, where the trailing edge is closed [1]
    moment: Floats  # (..., k) coefficient about the quarter chord, nose-up positive, from pressure [1]
    leak: Floats  # (..., k) flow through all panels alike that the conditions leave over; all of it error [1]

    @property
    def pressure(self) -> Floats:
        """Pressure coefficient at the nodes, incompressible. [1]"""
        coefficient: Floats = 1.0 - self.speed**2
        return coefficient

    @property
    def stagnation(self) -> Floats:
        """Arc length (..., k) of the forward stagnation point: where the potential along the ring is least. [m]"""
        arc = np.broadcast_to(self.arc[..., None, :], self.speed.shape)
        rise = 0.5 * (self.speed[..., 1:] + self.speed[..., :-1]) * np.diff(arc)
        least = np.minimum(np.argmin(np.cumsum(rise, axis=-1), axis=-1) + 1, arc.shape[-1] - 2)[..., None]
        begin = least - (np.take_along_axis(self.speed, least, axis=-1) >= 0.0)
        low, high = (np.take_along_axis(self.speed, begin + n, axis=-1)[..., 0] for n in (0, 1))
        share = np.clip(low / np.where(low == high, 1.0, low - high), 0.0, 1.0)
        start, end = (np.take_along_axis(arc, begin + n, axis=-1)[..., 0] for n in (0, 1))
        place: Floats = start + share * (end - start)
        return place


def panel_flow(nodes: Floats, angles: Floats, chord: float = 1.0) -> PanelFlow:
    """Potential flow about one or many shapes at any number of angles.

    No flow through the middle of each panel, and equal speed on both sides where they end at the trailing edge. Where
    the edge is closed, the speed there continues the speeds before it; where it is blunt, the base lets out fluid with
    the trailing-edge speed along the bisector, as a wake that neither grows nor shrinks.

    Parameters
    ----------
    nodes : (..., n + 1, 2) array
        Anticlockwise from the trailing edge on top to the trailing edge on the bottom; the same point twice if closed.
        A smooth body begins at its rear stagnation point. [m]
    angles : (k,) array
        Of attack, against the x axis. [rad]
    chord : float
        That coefficients refer to; the moment's axis lies a quarter of it aft of the origin, on the x axis. [m]

    Returns
    -------
    PanelFlow

    Raises
    ------
    BadInput
        If nodes are not finite, too few, repeated or clockwise, an angle is not finite or the chord not positive.
    OutsideValidity
        If the shape has no one flow.

    Notes
    -----
    One unknown more than conditions is a small flow through all panels alike: without it the two conditions of the end
    panels of a thin edge are one, and the strengths there run wild. Errors of lift, moment and pressure fall with the
    square of the panel length (tested). Attached, inviscid, incompressible.

    Source: J. Katz, A. Plotkin, Low-Speed Aerodynamics, 1991, ch. 11 (from memory); end conditions derived in
    docs/theory/section-flow.
    """
    if nodes.size > WORTH_COMPILING:
        fused.start()
    if nodes.ndim < 2:
        require_ring(nodes)
    rings = [ring_of(shape) for shape in nodes.reshape(-1, *nodes.shape[-2:])]
    return flow_of(nodes, rings, np.stack([strengths(ring) for ring in rings]), angles, chord)


def strengths(ring: Ring, outflow: Floats | None = None) -> Floats:
    """Strength at each node, and the leak, in the stream along x, along z, and with each given outflow in still air.

    Parameters
    ----------
    ring : Ring
        The shape. [-]
    outflow : (m, k) array or None
        Normal velocity at the m points of the ring, just inside, that sources on its surface make. [1]

    Returns
    -------
    (2 + k, n + 2) array
        The strengths of nodes 0 to n, then the leak. [1]

    Raises
    ------
    OutsideValidity
        If the conditions leave the flow open.

    Notes
    -----
    Kutta's condition is built in: the last strength is the first with its sign turned.

    Source: as ``panel_flow``.
    """
    from scipy.linalg.lapack import dgesv

    count, rows = len(ring.nodes), len(ring.points)
    table = np.empty((count, count))  # by node and condition: the matrix as LAPACK reads it
    vortex_influence(ring.points, ring.along, ring.nodes, table)
    table[0, :rows] -= table[-1, :rows]
    table[-1, :rows] = 1.0
    if ring.blunt:
        table[0] -= base_influence(ring, ring.points, ring.along, inside=True)
    else:
        first, last = ring.length[0] / ring.length[1], ring.length[-1] / ring.length[-2]
        table[:, -1] = 0.0
        table[:3, -1] = 2.0, -1.0 - first, first
        table[-3:-1, -1] += -last, 1.0 + last
    right = np.zeros((2 if outflow is None else 2 + outflow.shape[1], count))
    right[:2, :rows] = -through(STREAMS[:, None], ring.along)
    if outflow is not None:
        right[2:, :rows] = -outflow.T
    _, _, solved, fault = dgesv(table.T, right.T, overwrite_a=True, overwrite_b=True)
    if fault:
        raise OutsideValidity("this shape has no one flow", field="nodes", row=int(fault))
    return np.concatenate((solved[:-1], -solved[:1], solved[-1:])).T


def flow_of(nodes: Floats, rings: list[Ring], solved: Floats, angles: Floats, chord: float) -> PanelFlow:
    """The flow at any angles from the solutions of the two streams.

    Parameters
    ----------
    nodes : (..., n + 1, 2) array
        As for ``panel_flow``. [m]
    rings : list of Ring
        The same shapes. [-]
    solved : (shapes, 2, n + 2) array
        ``strengths`` of each. [1]
    angles : (k,) array
        Of attack. [rad]
    chord : float
        Reference. [m]

    Returns
    -------
    PanelFlow

    Raises
    ------
    BadInput
        If an angle is not finite or the chord not positive.

    Notes
    -----
    Pressure is one less the square of a speed linear along each panel, and is integrated exactly. Loads are quadratic
    in the two solutions, so three integrals serve every angle.

    Source: theorem of Kutta and Joukowski; Bernoulli's equation.
    """
    angles = np.atleast_1d(np.asarray(angles, dtype=np.float64))
    require_finite(angles, "angles")
    if not 0.0 < chord < np.inf:
        raise BadInput("a chord must be positive", field="chord", value=chord, allowed="more than 0 m")
    lead, count = nodes.shape[:-2], nodes.shape[-2]
    parts = np.stack((np.cos(angles), np.sin(angles)), axis=1)
    squares = np.stack((parts[:, 0] ** 2, 2.0 * parts[:, 0] * parts[:, 1], parts[:, 1] ** 2))
    shapes = nodes.reshape(-1, count, 2)
    chain: Complexes = shapes[..., 0] + 1j * shapes[..., 1]
    walls: Complexes = np.concatenate((chain[:, 1:], chain[:, :1]), axis=1) - chain
    length = np.stack([ring.length for ring in rings])
    arc = np.zeros((len(rings), count))
    np.cumsum(length, axis=1, out=arc[:, 1:])
    basis = solved[..., :-1]
    rise = 0.5 * (basis[..., 1:] + basis[..., :-1]) * length[:, None]
    carried = np.real(np.conj([ring.leaves for ring in rings]) * walls[:, -1])
    circulation = rise.sum(axis=2) - basis[..., 0] * carried[:, None]
    pull, turn = _loads(chain, 0.25 * chord, walls, basis)
    force = (pull @ squares) * (parts[:, 0] - 1j * parts[:, 1]) / chord
    speed = parts @ basis
    return PanelFlow(
        nodes=nodes,
        angles=angles,
        arc=arc.reshape(*lead, count),
        speed=speed.reshape(*lead, -1, count),
        lift=(circulation @ parts.T * (-2.0 / chord)).reshape(*lead, -1),
        lift_from_pressure=force.imag.reshape(*lead, -1),
        drag_from_pressure=force.real.reshape(*lead, -1),
        moment=(turn @ squares / chord**2).reshape(*lead, -1),
        leak=(solved[..., -1] @ parts.T).reshape(*lead, -1),
    )


def base_influence(ring: Ring, points: Complexes, along: Complexes, inside: bool = False) -> Floats:
    """Normal velocity at points when fluid leaves the blunt base along the bisector with unit speed.

    Parameters
    ----------
    ring : Ring
        With a base. [-]
    points : (m,) complex array
        About the mean of its nodes; none of them a node. [m]
    along : (m,) complex array
        Unit vectors; the normal lies to their right. [-]
    inside : bool
        The last point is the middle of the base, taken from inside. [-]

    Returns
    -------
    (m,) array
        [1]

    Notes
    -----
    Fluid at rest inside and moving outside makes the base a sheet of sources and vortices.

    Source: derived in docs/theory/section-flow.
    """
    ends, across = ring.nodes[[-1, 0]], ring.along[-1]
    source = source_influence(points, along, ends)[:, 0]
    if inside:
        source[-1] = -0.5
    carried: Floats = np.real(ring.leaves * np.conj(across)) * vortex_influence(points, along, ends).sum(axis=1)
    return carried + through(ring.leaves, across) * source


def through(velocity: Complexes | complex, along: Complexes) -> Floats:
    """The part of a velocity that goes through a wall, to its right.

    Parameters
    ----------
    velocity : (...) complex array
        u + i w. [1]
    along : (...) complex array
        Unit vectors along the wall. [-]

    Returns
    -------
    (...) array
        [1]

    Notes
    -----
    Source: definition; no source needed.
    """
    return -np.imag(velocity * np.conj(along))


def _loads(chain: Complexes, axis: float, walls: Complexes, basis: Floats) -> tuple[Complexes, Floats]:
    """Force, and moment about a place on the x axis, from each pair of streams; on the base the speed is the edge's."""
    one, other = basis[:, ONE], basis[:, OTHER]
    own = one * other
    cross = one[..., :-1] * other[..., 1:] + one[..., 1:] * other[..., :-1]
    mean, late = np.empty_like(own), np.empty_like(own)
    mean[..., :-1] = (2.0 * (own[..., :-1] + own[..., 1:]) + cross) / 6.0
    late[..., :-1] = (own[..., :-1] + cross + 3.0 * own[..., 1:]) / 12.0  # weighted with the way along the panel
    mean[..., -1], late[..., -1] = own[..., 0], 0.5 * own[..., 0]
    begins, grows = np.real(np.conj(chain - axis) * walls), np.abs(walls) ** 2
    moment = mean @ begins[..., None] + late @ grows[..., None]
    return (mean @ (-1j * walls)[..., None])[..., 0], moment[..., 0]
