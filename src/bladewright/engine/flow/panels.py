"""Potential flow about a section: straight panels round the outline, with vortex strength linear along each.

The fluid inside is at rest, so the strength at a node is the speed along the surface there. A shape is solved once, for
the stream along x and along z; every angle of attack is a sum of the two.
"""

from dataclasses import dataclass

import numpy as np

from bladewright.engine.arrays import Floats, require_finite
from bladewright.engine.flow.influence import Complexes, source_influence, vortex_influence
from bladewright.errors import BadInput

FEWEST_PANELS = 8
SHARP = 1e-9  # a trailing edge thinner than this share of the outline's extent is closed
STREAMS = np.array([1.0, 1.0j])  # along x, along z


@dataclass(frozen=True, slots=True)
class PanelFlow:
    """Flow of unit stream speed about one or many shapes (...) at k angles; the ring runs anticlockwise.

    Node 0 is the trailing edge on top, then forward over the top, round the nose, and aft along the bottom.
    """

    nodes: Floats  # (..., n + 1, 2) x and z [m]
    angles: Floats  # (k,) of attack, against the x axis [rad]
    arc: Floats  # (..., n + 1) length along the ring from node 0 [m]
    speed: Floats  # (..., k, n + 1) surface over stream speed along the ring: negative where it runs forward [1]
    lift: Floats  # (..., k) coefficient, from the circulation [1]
    lift_from_pressure: Floats  # (..., k) coefficient [1]
    drag_from_pressure: Floats  # (..., k) coefficient; what it differs from zero is error [1]
    moment: Floats  # (..., k) coefficient about the quarter chord, nose-up positive, from pressure [1]
    stagnation: Floats  # (..., k) arc length of the forward stagnation point [m]
    leak: Floats  # (..., k) flow through the panels that the conditions leave over; what it differs from 0 is error [1]

    @property
    def pressure(self) -> Floats:
        """Pressure coefficient at the nodes, incompressible. [1]"""
        coefficient: Floats = 1.0 - self.speed**2
        return coefficient


def panel_flow(nodes: Floats, angles: Floats, chord: float = 1.0) -> PanelFlow:
    """Potential flow about one or many shapes at any number of angles.

    No flow through the middle of each panel, and equal speed on both sides where they end at the trailing edge. Where
    the edge is closed, the speed there continues the speeds before it; where it is blunt, the base lets out fluid with
    the trailing-edge speed along the bisector, as a wake that neither grows nor shrinks.

    Parameters
    ----------
    nodes : (..., n + 1, 2) array
        Anticlockwise from the trailing edge on top to the trailing edge on the bottom; the same point twice if closed.
        The rear stagnation point of a smooth body, where there is no edge. [m]
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
        If nodes are not finite, too few, repeated or clockwise.

    Notes
    -----
    One unknown more than conditions is a small flow through all panels alike: without it the two conditions of the end
    panels of a thin edge are one, and the strengths there run wild. Errors of lift, moment and pressure fall with the
    square of the panel length (tested). Attached, inviscid, incompressible.

    Source: J. Katz, A. Plotkin, Low-Speed Aerodynamics, 1991, ch. 11 (from memory); end conditions rederived in
    docs/theory/section-flow.
    """
    require_ring(nodes)
    shapes = nodes.reshape(-1, *nodes.shape[-2:])
    size = shapes.shape[1]
    matrix, right = np.empty((len(shapes), size, size)), np.empty((len(shapes), size, 2))
    for number, shape in enumerate(shapes):
        matrix[number], right[number], _, _ = system(shape)
    return flow_of(nodes, np.linalg.solve(matrix, right), angles, chord)


def require_ring(nodes: Floats) -> None:
    """Raise ``BadInput`` unless nodes go anticlockwise round something, each place once.

    Parameters
    ----------
    nodes : (..., n + 1, 2) array
        Rings. [m]

    Raises
    ------
    BadInput
        Saying which.
    """
    if nodes.ndim < 2 or nodes.shape[-1] != 2 or nodes.shape[-2] <= FEWEST_PANELS:
        raise BadInput("too few nodes", field="nodes", allowed=f"(..., n + 1, 2) with n at least {FEWEST_PANELS}")
    require_finite(nodes, "nodes")
    side = np.diff(nodes, axis=-2)
    if not np.all(np.hypot(side[..., 0], side[..., 1]) > 0.0):
        raise BadInput("a node is repeated", field="nodes", fix="drop repeated points")
    x, z = nodes[..., 0], nodes[..., 1]
    if not np.all(np.sum(x * np.roll(z, -1, -1) - np.roll(x, -1, -1) * z, axis=-1) > 0.0):
        raise BadInput("the ring runs clockwise", field="nodes", fix="begin on top of the trailing edge, go forward")


def system(shape: Floats) -> tuple[Floats, Floats, Complexes, Complexes]:
    """Conditions on the strengths of one shape.

    Parameters
    ----------
    shape : (n + 1, 2) array
        Its ring. [m]

    Returns
    -------
    tuple
        Matrix (n + 1, n + 1) on the strengths of nodes 0 to n - 1 and the leak; right sides (n + 1, 2) of the two
        streams; the points where conditions hold, n of them or with the base n + 1, and the directions there.

    Notes
    -----
    The last strength is the first with its sign turned, which is the condition of Kutta.

    Source: as ``panel_flow``.
    """
    chain = (shape[:, 0] - np.mean(shape[:, 0])) + 1j * (shape[:, 1] - np.mean(shape[:, 1]))
    blunt = is_blunt(chain)
    walls = np.append(chain, chain[0]) if blunt else chain
    side = np.diff(walls)
    length = np.abs(side)
    points, along = 0.5 * (walls[1:] + walls[:-1]), side / length
    influence = vortex_influence(points, along, chain)
    matrix = np.zeros((len(chain), len(chain)), order="F")
    right = np.zeros((len(chain), 2))
    rows = len(points)
    matrix[:rows, :-1] = influence[:, :-1]
    matrix[:rows, 0] -= influence[:, -1]
    matrix[:rows, -1] = 1.0
    if blunt:
        matrix[:, 0] -= _base(points, along, chain)
    else:
        first, last = length[0] / length[1], length[-1] / length[-2]
        matrix[-1, :3] = 2.0, -1.0 - first, first
        matrix[-1, -3:-1] += -last, 1.0 + last
    right[:rows] = -_through(STREAMS, along[:, None])
    return matrix, right, points, along


def is_blunt(chain: Complexes) -> bool:
    """Whether the ring's ends are apart.

    Parameters
    ----------
    chain : (n + 1,) complex array
        A ring. [m]

    Returns
    -------
    bool

    Notes
    -----
    Source: definition; no source needed.
    """
    return bool(np.abs(chain[0] - chain[-1]) > SHARP * np.ptp(chain.real))


def flow_of(nodes: Floats, solved: Floats, angles: Floats, chord: float) -> PanelFlow:
    """The flow at any angles from the solutions of the two streams.

    Parameters
    ----------
    nodes : (..., n + 1, 2) array
        Rings. [m]
    solved : (shapes, n + 1, 2) array
        Strengths and leak of each shape in both streams. [1]
    angles : (k,) array
        Of attack. [rad]
    chord : float
        Reference. [m]

    Returns
    -------
    PanelFlow

    Notes
    -----
    Pressure is one less the square of a speed linear along each panel, and is integrated exactly. Loads are
    quadratic in the two solutions: three integrals serve every angle. The stagnation point is where the potential
    along the surface is least.

    Source: theorem of Kutta and Joukowski; Bernoulli's equation.
    """
    angles = np.atleast_1d(np.asarray(angles, dtype=np.float64))
    shapes = nodes.reshape(-1, *nodes.shape[-2:])
    parts = np.stack((np.cos(angles), np.sin(angles)))
    leak = solved[:, -1, :] @ parts
    basis = np.swapaxes(solved, 1, 2).copy()
    basis[:, :, -1] = -basis[:, :, 0]
    chain = shapes[..., 0] + 1j * shapes[..., 1]
    walls = np.diff(chain, axis=1, append=chain[:, :1])
    length = np.abs(walls[:, :-1])
    arc = np.concatenate((np.zeros((len(chain), 1)), np.cumsum(length, axis=1)), axis=1)
    rise = 0.5 * (basis[:, :, 1:] + basis[:, :, :-1]) * length[:, None]
    edge = -basis[:, :, 0] * np.real(np.conj(_bisector(chain)) * walls[:, -1])[:, None]
    circulation = (rise.sum(axis=2) + edge) @ parts
    pull, turn = _loads(chain, walls, basis, 0.25 * chord)
    squares = np.stack((parts[0] ** 2, 2.0 * parts[0] * parts[1], parts[1] ** 2))
    force = (pull @ squares) * (parts[0] - 1j * parts[1]) / chord
    speed = np.einsum("ak,san->skn", parts, basis)
    lead = nodes.shape[:-2]
    return PanelFlow(
        nodes=nodes,
        angles=angles,
        arc=arc.reshape(*lead, -1),
        speed=speed.reshape(*lead, *speed.shape[1:]),
        lift=(-2.0 / chord * circulation).reshape(*lead, -1),
        lift_from_pressure=force.imag.reshape(*lead, -1),
        drag_from_pressure=force.real.reshape(*lead, -1),
        moment=(turn @ squares / chord**2).reshape(*lead, -1),
        stagnation=_stagnation(arc, speed, np.einsum("ak,san->skn", parts, rise)).reshape(*lead, -1),
        leak=leak.reshape(*lead, -1),
    )


def _through(velocity: Complexes, along: Complexes) -> Floats:
    """Part of a velocity square to a direction, to its right."""
    return np.real(1j * velocity * np.conj(along))


def _bisector(chain: Complexes) -> Complexes:
    """Unit vectors aft from the trailing edge, half-way between both surfaces."""
    top, bottom = chain[..., 0] - chain[..., 1], chain[..., -1] - chain[..., -2]
    middle = top / np.abs(top) + bottom / np.abs(bottom)
    unit: Complexes = middle / np.abs(middle)
    return unit


def _base(points: Complexes, along: Complexes, chain: Complexes) -> Floats:
    """Normal velocity from the blunt base when fluid leaves there along the bisector with unit speed."""
    ends = chain[[-1, 0]]
    across = (ends[1] - ends[0]) / np.abs(ends[1] - ends[0])
    leaves = _bisector(chain)
    source = source_influence(points, along, ends)[:, 0]
    source[-1] = -0.5  # as seen from inside
    vortex = vortex_influence(points, along, ends).sum(axis=1)
    result: Floats = np.real(leaves * np.conj(across)) * vortex + _through(leaves, across) * source
    return result


def _loads(chain: Complexes, walls: Complexes, basis: Floats, axis: float) -> tuple[Complexes, Floats]:
    """Force and moment from the squared speed of each pair of streams: along-along, along-across, across-across."""
    pairs = ((0, 0), (0, 1), (1, 1))
    force, moment = [], []
    for one, other in pairs:
        f, g = basis[:, one], basis[:, other]
        own = f * g
        cross = f[:, :-1] * g[:, 1:] + f[:, 1:] * g[:, :-1]
        mean = np.append((2.0 * (own[:, :-1] + own[:, 1:]) + cross) / 6.0, own[:, :1], axis=1)
        late = np.append((own[:, :-1] + cross + 3.0 * own[:, 1:]) / 12.0, 0.5 * own[:, :1], axis=1)
        push = -1j * walls
        force.append(np.sum(mean * push, axis=1))
        moment.append(-np.sum(np.imag(np.conj(chain - axis) * push) * mean + np.imag(np.conj(walls) * push) * late, axis=1))
    return np.stack(force, axis=1), np.stack(moment, axis=1)


def _stagnation(arc: Floats, speed: Floats, rise: Floats) -> Floats:
    """Arc length where the potential along the ring is least."""
    least = np.argmin(np.cumsum(rise, axis=-1), axis=-1) + 1
    least = np.minimum(least, speed.shape[-1] - 2)
    here = np.take_along_axis(speed, least[..., None], axis=-1)[..., 0]
    begin = np.where(here < 0.0, least, least - 1)
    low, high = (np.take_along_axis(speed, (begin + n)[..., None], axis=-1)[..., 0] for n in (0, 1))
    share = np.clip(low / np.where(low == high, 1.0, low - high), 0.0, 1.0)
    start, end = (np.take_along_axis(arc, begin + n, axis=-1) for n in (0, 1))
    place: Floats = start + share * (end - start)
    return place
