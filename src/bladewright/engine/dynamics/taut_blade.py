"""Steady bending of a turning blade that its own pull straightens: what it bears inside, out of and in the plane."""

from dataclasses import dataclass

import numpy as np
from scipy.linalg import solveh_banded

from bladewright.engine.arrays import Floats
from bladewright.engine.dynamics.blade_beam import BladeBeam
from bladewright.errors import BadInput

FINEST = 8  # parts between two stations of the beam
LONGEST = 0.01  # [m] of a part, near enough to how fast a root's bending dies away


@dataclass(frozen=True, slots=True)
class TautBlade:
    """A bent blade at the beam's stations; moments about each section's elastic centre, in the axes of the disc."""

    tension: Floats  # (n,) [N]
    flap_moment: Floats  # (n,) bends the tip up [N m]
    chord_moment: Floats  # (n,) bends the tip aft [N m]
    flap_slope: Floats  # (n,) up, outward [rad]
    chord_slope: Floats  # (n,) aft, outward [rad]


@dataclass(frozen=True, slots=True)
class Held:
    """Slopes at the blade's inner end; None where a hinge leaves it free."""

    flap: float | None  # [rad]
    chord: float | None  # [rad]


def taut_blade(beam: BladeBeam, held: Held, rotor_speed: float, lift: Floats, drag: Floats, pitch: float) -> TautBlade:
    """Slopes and moments of a blade under steady loads across it.

    ``(B f')' = T f - Q - N'`` for the slopes f up and aft, B the bending stiffness turned by twist and pitch, T the
    pull of all that lies outboard, Q the sum of the loads outboard, N the moment of the pull about the elastic centre.

    Parameters
    ----------
    beam : BladeBeam
        [-]
    held : Held
        At the inner end. [rad]
    rotor_speed : float
        Nought or more. [rad/s]
    lift, drag : (n,) arrays
        Up, weight taken off, and aft, at the beam's stations. [N/m]
    pitch : float
        Collective, nose-up. [rad]

    Returns
    -------
    TautBlade

    Raises
    ------
    BadInput
        If the rotor stands still and the inner end is free, so that nothing holds the blade.

    Notes
    -----
    Small slopes; no twist by the loads; the weakening of the pull in the plane by the blade's own bend aft is left
    out. Straight lines between slopes at parts of at most a hundredth of a metre.

    Source: beam under pull, any text on rotating beams; W. Johnson, Helicopter Theory, 1980, ch. 9 (from memory).
    """
    if rotor_speed < 0.0 or (rotor_speed == 0.0 and None in (held.flap, held.chord)):
        raise BadInput(
            "nothing holds a blade on a hinge that does not turn", field="rotor_speed", value=rotor_speed,
            allowed="more than 0 with a hinge", fix="hold the blade on its stop",
        )  # fmt: skip
    y = _fine(beam.y)

    def on(values: Floats) -> Floats:
        return np.interp(y, beam.y, values)

    angle = on(beam.twist) + pitch
    cosine, sine = np.cos(angle), np.sin(angle)
    turn = np.stack((np.stack((cosine, -sine), -1), np.stack((sine, cosine), -1)), -2)  # up, aft from z, x
    local = np.stack(
        (
            np.stack((on(beam.flapwise), on(beam.bending_product)), -1),
            np.stack((on(beam.bending_product), on(beam.chordwise)), -1),
        ),
        -2,
    )
    stiffness = turn @ local @ np.swapaxes(turn, -1, -2)
    mass_at = (turn @ np.stack((on(beam.mass_z), on(beam.mass_x)), -1)[..., None])[..., 0]
    centre = (turn @ np.stack((on(beam.elastic_z), on(beam.elastic_x)), -1)[..., None])[..., 0]
    pulled = rotor_speed**2 * on(beam.mass_per_length) * y
    tension, first = _outboard(pulled, y), _outboard(pulled[:, None] * mass_at, y)
    aft = on(drag) + rotor_speed**2 * on(beam.mass_per_length) * mass_at[:, 1]
    across = _outboard(np.stack((on(lift), aft), -1), y)
    for point in beam.masses:
        inboard = y <= point.y
        force = rotor_speed**2 * point.mass * point.y
        tension = tension + force * inboard
    eccentric = first - centre * tension[:, None]
    slope = _solved(y, stiffness, tension, across, eccentric, held)
    steps = np.diff(y)[:, None]
    middle = 0.5 * (stiffness[1:] + stiffness[:-1])
    moments = (middle @ (np.diff(slope, axis=0) / steps)[..., None])[..., 0]
    at_nodes = np.stack([_to_nodes(y, moments[:, axis]) for axis in (0, 1)])
    return TautBlade(
        tension=np.interp(beam.y, y, tension),
        flap_moment=np.interp(beam.y, y, at_nodes[0]),
        chord_moment=np.interp(beam.y, y, at_nodes[1]),
        flap_slope=np.interp(beam.y, y, slope[:, 0]),
        chord_slope=np.interp(beam.y, y, slope[:, 1]),
    )


def _fine(y: Floats) -> Floats:
    """The stations, and even ones between those that lie far apart."""
    parts = np.clip(np.ceil(np.diff(y) / LONGEST), 1, FINEST).astype(int)
    pieces = [np.linspace(a, b, n, endpoint=False) for a, b, n in zip(y[:-1], y[1:], parts, strict=True)]
    return np.concatenate((*pieces, y[-1:]))


def _outboard(load: Floats, y: Floats) -> Floats:
    steps = np.diff(y).reshape(-1, *([1] * (load.ndim - 1)))
    pieces = 0.5 * (load[1:] + load[:-1]) * steps
    sums = np.cumsum(pieces[::-1], axis=0)[::-1]
    return np.concatenate((sums, np.zeros_like(load[:1])))


def _solved(y: Floats, stiffness: Floats, tension: Floats, across: Floats, eccentric: Floats, held: Held) -> Floats:
    """Slopes up and aft at the nodes: ``int (B f' + N) g' + T f g = int Q g`` for every straight-line g."""
    count, steps = len(y), np.diff(y)
    bending = 0.5 * (stiffness[1:] + stiffness[:-1]) / steps[:, None, None]
    pull = 0.5 * (tension[1:] + tension[:-1]) * steps
    band = np.zeros((4, 2 * count))  # lower, two unknowns a node
    right = np.zeros(2 * count)
    for axis in (0, 1):
        own = np.zeros(count)
        own[:-1] += bending[:, axis, axis] + pull / 3.0
        own[1:] += bending[:, axis, axis] + pull / 3.0
        band[0, axis::2] = own
        band[2, axis : 2 * count - 2 : 2] = -bending[:, axis, axis] + pull / 6.0
        q, n = across[:, axis], 0.5 * (eccentric[1:, axis] + eccentric[:-1, axis])
        load = np.zeros(count)
        load[:-1] += steps * (q[:-1] / 3.0 + q[1:] / 6.0) + n
        load[1:] += steps * (q[:-1] / 6.0 + q[1:] / 3.0) - n
        right[axis::2] = load
    cross = np.zeros(count)
    cross[:-1] += bending[:, 0, 1]
    cross[1:] += bending[:, 0, 1]
    band[1, 0::2] = cross
    band[3, 0 : 2 * count - 2 : 2] = -bending[:, 0, 1]  # up here, aft at the next node
    band[1, 1 : 2 * count - 2 : 2] = -bending[:, 0, 1]  # aft here, up at the next node
    held_at = [(axis, value) for axis, value in enumerate((held.flap, held.chord)) if value is not None]
    heavy = 1e9 * float(band[0].max())
    for axis, value in held_at:
        band[0, axis] += heavy
        right[axis] += heavy * value
    return np.asarray(solveh_banded(band, right, lower=True)).reshape(count, 2)


def _to_nodes(y: Floats, of_parts: Floats) -> Floats:
    """What is even in each part, at the nodes: straight through the middles, run on to both ends."""
    middles = 0.5 * (y[1:] + y[:-1])
    inner = np.interp(y, middles, of_parts)
    if len(middles) > 1:
        first = (of_parts[1] - of_parts[0]) / (middles[1] - middles[0])
        inner[0] = of_parts[0] - first * (middles[0] - y[0])
    inner[-1] = 0.0
    return inner
