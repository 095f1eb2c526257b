"""Boundary layer and outer flow made to agree, many conditions at once.

Each sweep marches every layer together with the outer flow's answer to what the layer does there and upstream, so that
separation is passed; what lies downstream is taken from the sweep before, and the sweeps are sped up by mixing.
Lengths in chords, speeds in flight speeds; nodes as in ``wake.OuterFlow``.
"""

from dataclasses import dataclass, fields

import numpy as np

from bladewright.engine.arrays import Bools, Floats, Integers
from bladewright.engine.flow.layer import Course, Layer, Links, WakeStart, march, march_wake
from bladewright.engine.flow.mixing import Mixing
from bladewright.engine.flow.station import SLOWEST
from bladewright.engine.flow.wake import OuterFlow

MOST_SWEEPS = 60
HOLD, SEEN = 9, 4  # from which sweep on transition may not go back behind its foremost place of so many last sweeps
WAVER = 0.02  # [chord] between those places, while no more than
CALM = 0.015  # of the mass defect changes in a sweep
PATIENCE = 15  # sweeps a condition may go on without coming nearer than ever before
AGREED = 5e-4  # change of mass defect in a sweep over its greatest value, where iteration ends
STAGNATION_TRAVEL = 10  # nodes the stagnation point may move from where it is without a layer
NEAR = 0.35  # of a panel: a node nearer to the stagnation point is passed over
LAMINAR = 9.0  # [chord] beyond any section: the place of transition where there is none
LEAST_DEFECT = 1e-8  # [chord]
PLATE = 0.046  # displacement thickness of a turbulent plate over s Re_s**-0.2; Prandtl's 1/7 power; a first guess only


@dataclass(frozen=True, slots=True)
class Conditions:
    """One entry per condition."""

    angle: Floats  # (c,) [rad]
    reynolds: Floats  # (c,) of the chord [1]
    mach: Floats  # (c,) of flight [1]
    critical: Floats  # (c,) amplification at transition [1]
    trip_top: Floats  # (c,) arc from the nose at which the layer is made to turn, infinite if nowhere [chord]
    trip_bottom: Floats  # (c,) the same below [chord]
    roughness: Floats  # (c,) equivalent sand grain [chord]

    def of(self, which: Integers) -> "Conditions":
        """Some of them."""
        return Conditions(*(getattr(self, field.name)[which] for field in fields(self)))


@dataclass(frozen=True, slots=True)
class CoupledFlow:
    """What both agreed on, by node and condition; NaN where they did not agree."""

    speed: Floats  # (s + w, c) along the nodes' direction, incompressible plane [1]
    mass_defect: Floats  # (s + w, c) along the nodes' direction [chord]
    momentum: Floats  # (s + w, c) momentum thickness [chord]
    shape: Floats  # (s + w, c) kinematic shape factor [1]
    friction: Floats  # (s + w, c) wall shear over edge dynamic pressure [1]
    transition: Floats  # (2, c) arc from the stagnation point, top and bottom; NaN if laminar to the end [chord]
    stagnation: Floats  # (c,) arc from node 0 [chord]
    converged: Bools  # (c,)
    change: Floats  # (c,) of the last sweep: what is left [1]
    sweeps: Integers  # (c,) taken


def coupled_flow(outer: OuterFlow, conditions: Conditions, wanted: Bools | None = None) -> CoupledFlow:
    """Layers and wake of one outline in all conditions, in agreement with the flow outside them.

    Parameters
    ----------
    outer : OuterFlow
        The outline. [chord]
    conditions : Conditions
        Angles, Reynolds and Mach numbers, transition and roughness. [rad, 1, chord]
    wanted : (c,) array of bool, optional
        Conditions to try; the others are left unknown. [-]

    Returns
    -------
    CoupledFlow
        ``converged`` is false, and values are NaN, where no agreement was found within 60 sweeps, or it was not wanted.

    Notes
    -----
    Weak separation is within the method; a section that is stalled all over is not, and mostly does not converge.

    Source: A. E. P. Veldman, AIAA J. 19, 1981, p. 79, for solving layer and local outer flow together (from memory).
    """
    turned = np.stack((np.cos(conditions.angle), np.sin(conditions.angle), np.ones_like(conditions.angle)))
    inviscid = outer.basis @ turned
    layout = _layout(outer, inviscid)
    result = _unknown(inviscid)
    left = np.flatnonzero(np.ones(conditions.angle.size, dtype=bool) if wanted is None else wanted)
    if not left.size:
        return result
    defect = _first_guess(outer, conditions.of(left), inviscid[:, left])
    edge = np.abs(inviscid[0, left])
    mixing = Mixing(np.maximum(np.diag(outer.response), 1.0))
    guess: tuple[Layer | None, Layer | None] = (None, None)
    nearest, since = np.full(left.size, np.inf), np.zeros(left.size, dtype=np.intp)
    turned_at = np.zeros((0, 2, left.size))  # places of transition in the last sweeps
    held = np.full((2, left.size), np.nan)
    for sweep in range(1, MOST_SWEEPS + 1):
        base = outer.base * edge
        still = inviscid[:, left] + np.outer(outer.base_response, base)
        swept = _swept(outer, conditions.of(left), layout.of(left), still, defect, guess, held)
        change = np.max(np.abs(swept.defect - defect), axis=0) / np.max(np.abs(defect), axis=0)
        done = (change < AGREED) & swept.settled
        _record(result, left, swept, change, sweep, done)
        since = np.where(change < 0.8 * nearest, sweep, since)
        nearest = np.fmin(nearest, change)
        going = np.flatnonzero(~done & (sweep - since < PATIENCE) & np.isfinite(change))
        if not going.size:
            break
        defect = mixing.following(defect, swept.defect)
        mixing.keep(going)
        nearest, since = nearest[going], since[going]
        turned_at = np.concatenate((turned_at, np.nan_to_num(swept.transition, nan=LAMINAR)[None]))[-SEEN:, :, going]
        held = held[:, going]
        wavers = np.isnan(held) & (np.ptp(turned_at, axis=0) < WAVER) & (sweep >= HOLD) & (change[going] < CALM)
        mixing.forget(np.flatnonzero(wavers.any(axis=0)))
        held = np.where(wavers, turned_at.min(axis=0), held)
        sign = swept.sign[:, going]
        defect = sign * np.maximum(sign * defect[:, going], LEAST_DEFECT)
        edge, left = swept.edge[going], left[going]
        guess = (swept.surfaces.of(np.concatenate((going, going + done.size))), swept.wake.of(going))
    return result


@dataclass(frozen=True, slots=True)
class _Layout:
    """Which node each lane meets at each station: tops then bottoms, both ending at the trailing edge."""

    node: Integers  # (k, 2)
    links: Floats  # (2, 2, k, k) response among them [1/chord]
    own: Floats  # (k, 2) response of each node to itself [1/chord]
    wake_links: Floats  # (1, 1, w + 1, w + 1) response in the wake, trailing edge first [1/chord]
    home: Integers  # (c,) last node on the top without a layer

    def of(self, which: Integers) -> "_Layout":
        return _Layout(self.node, self.links, self.own, self.wake_links, self.home[which])


@dataclass(frozen=True, slots=True)
class _Swept:
    """One sweep's outcome."""

    surfaces: Layer
    wake: Layer
    speed: Floats  # (n, c) the sweep began with [1]
    defect: Floats  # (n, c) the sweep ended with [chord]
    sign: Floats  # (n, c) of flow along the nodes [1]
    edge: Floats  # (c,) speed at the trailing edge [1]
    momentum: Floats  # (n, c) [chord]
    shape: Floats  # (n, c) [1]
    friction: Floats  # (n, c) [1]
    transition: Floats  # (2, c) from the stagnation point [chord]
    stagnation: Floats  # (c,) arc [chord]
    settled: Bools


def _layout(outer: OuterFlow, inviscid: Floats) -> _Layout:
    size = outer.arc.size
    speed = inviscid[:size]
    home = np.argmax((speed[:-1] < 0.0) & (speed[1:] >= 0.0), axis=0)
    reach = min(size, int(max(home.max() + 1, size - 1 - home.min())) + STAGNATION_TRAVEL)
    k = np.arange(reach)
    node = np.stack((reach - 1 - k, size - reach + k), axis=1)
    links = np.array(
        [
            [(1.0 if a == b else -1.0) * outer.response[np.ix_(node[:, a], node[:, b])] for b in range(2)]
            for a in range(2)
        ]
    )
    wake_links = np.zeros((1, 1, outer.wake.size + 1, outer.wake.size + 1))
    wake_links[0, 0, 1:, 1:] = outer.response[size:, size:]
    return _Layout(node, links, np.diag(outer.response)[node], wake_links, home)


def _swept(
    outer: OuterFlow,
    these: Conditions,
    layout: _Layout,
    still: Floats,
    defect: Floats,
    guess: tuple[Layer | None, Layer | None],
    held: Floats,
) -> _Swept:
    """All layers marched once, then all wakes."""
    size, count = outer.arc.size, these.angle.size
    speed = still + outer.response @ defect
    last, stagnation, found = _stagnation(outer, speed, layout.home)
    reach = len(layout.node)
    sign = np.concatenate((np.full(count, -1.0), np.full(count, 1.0)))

    def by_lane(values: Floats) -> Floats:
        return np.concatenate((values[layout.node[:, 0]], values[layout.node[:, 1]]), axis=1)

    first = np.concatenate((reach - 1 - last, last + 1 - (size - reach)))
    q, m = sign * by_lane(speed), sign * by_lane(defect)
    lanes = np.arange(2 * count)
    twice = np.tile
    distance = sign * (np.repeat(outer.arc[layout.node], count, axis=1) - twice(stagnation, 2))
    near = distance[first, lanes] < NEAR * (distance[first + 1, lanes] - distance[first, lanes])
    start = first + near
    own = np.repeat(layout.own, count, axis=1)
    external = q - own * m
    external[start, lanes] = np.maximum(q[start, lanes], 1e-3)
    own[start, lanes] = 0.0
    nose = sign * (outer.arc[outer.nose] - twice(stagnation, 2))
    surfaces = march(
        Course(
            distance=distance,
            external=external,
            response=own,
            start=start,
            exponent=np.ones(2 * count),
            reynolds=twice(these.reynolds, 2),
            mach=twice(these.mach, 2),
            critical=twice(these.critical, 2),
            trip=np.fmin(np.concatenate((these.trip_top, these.trip_bottom)) + nose, held.ravel()),
            roughness=twice(these.roughness, 2),
            links=Links(layout.links, m),
        ),
        guess[0],
    )
    station = np.arange(reach)[:, None]
    live = station >= first
    node = np.repeat(layout.node, count, axis=1)
    column = np.broadcast_to(np.tile(np.arange(count), 2), live.shape)
    source = np.maximum(station, start)  # the node too near the stagnation point has the state of the next
    settled: Bools = np.all(surfaces.settled[source, lanes], axis=0)

    def by_node(of_surface: Floats, of_wake: Floats) -> Floats:
        values = np.zeros((size + outer.wake.size, count))
        values[node[live], column[live]] = of_surface[source, lanes][live]
        values[size:] = of_wake
        return values

    slow = np.where(station < start, q, surfaces.speed)
    found_defect = sign * slow * surfaces.displacement[source, lanes]
    edge = 0.5 * (surfaces.speed[-1, :count] + surfaces.speed[-1, count:])
    so_far = by_node(found_defect, defect[size:])
    wake = _swept_wake(
        outer, these, surfaces, (still + outer.response @ so_far)[size:], so_far[size:], layout, guess[1]
    )
    signs = np.ones((size + outer.wake.size, count))
    signs[:size][np.arange(size)[:, None] <= last] = -1.0
    return _Swept(
        surfaces=surfaces,
        wake=wake,
        speed=speed,
        defect=by_node(found_defect, wake.mass_defect[1:]),
        sign=signs,
        edge=edge,
        momentum=by_node(surfaces.momentum, wake.momentum[1:]),
        shape=by_node(surfaces.shape, wake.shape[1:]),
        friction=by_node(surfaces.friction, wake.friction[1:]),
        transition=surfaces.transition.reshape(2, count),
        stagnation=stagnation,
        settled=settled[:count] & settled[count:] & wake.settled.all(axis=0) & found,
    )


def _swept_wake(
    outer: OuterFlow,
    these: Conditions,
    surfaces: Layer,
    speed: Floats,
    defect: Floats,
    layout: _Layout,
    guess: Layer | None,
) -> Layer:
    """The wakes of what leaves the trailing edge."""
    count, steps = these.angle.size, outer.wake.size + 1
    theta = np.maximum(surfaces.momentum[-1].reshape(2, count), LEAST_DEFECT)
    delta = np.maximum(surfaces.displacement[-1].reshape(2, count), LEAST_DEFECT)
    stress = np.maximum(surfaces.stress[-1].reshape(2, count), 1e-3)
    edge = np.maximum(surfaces.speed[-1].reshape(2, count).mean(axis=0), SLOWEST)
    none = np.zeros(count)
    own = np.concatenate(([[0.0]], np.diag(outer.response)[outer.arc.size :, None]))
    own = np.broadcast_to(own, (steps, count))
    before = np.concatenate((edge[None], defect))
    start = WakeStart(
        theta.sum(axis=0), delta.sum(axis=0) + outer.base, (stress * theta).sum(axis=0) / theta.sum(axis=0)
    )
    course = Course(
        distance=np.broadcast_to(np.concatenate(([0.0], outer.wake))[:, None], (steps, count)),
        external=np.concatenate((edge[None], speed)) - own * before,
        response=own,
        start=np.zeros(count, dtype=np.intp),
        exponent=none,
        reynolds=these.reynolds,
        mach=these.mach,
        critical=none,
        trip=none,
        roughness=none,
        links=Links(layout.wake_links, before),
    )
    return march_wake(course, start, guess)


def _stagnation(outer: OuterFlow, speed: Floats, home: Integers) -> tuple[Integers, Floats, Bools]:
    """The last node on the top side, the stagnation point's arc, and whether there is one near home."""
    columns = np.arange(speed.shape[1])
    near = home + np.arange(-STAGNATION_TRAVEL, STAGNATION_TRAVEL + 1)[:, None]
    near = np.clip(near, 1, outer.arc.size - 3)
    turn = (speed[near, columns] < 0.0) & (speed[near + 1, columns] >= 0.0)
    last = near[np.argmax(turn, axis=0), columns]
    found = turn.any(axis=0)
    low, high = speed[last, columns], speed[last + 1, columns]
    share = np.clip(np.where(found, low / np.where(found, low - high, 1.0), 0.5), 0.02, 0.98)
    return last, outer.arc[last] + share * (outer.arc[last + 1] - outer.arc[last]), found


def _first_guess(outer: OuterFlow, conditions: Conditions, inviscid: Floats) -> Floats:
    """A turbulent plate's displacement on the walls; in the wake seven tenths of what leaves them."""
    size = outer.arc.size
    from_nose = np.abs(outer.arc - outer.arc[outer.nose])[:, None] + 1e-4
    plate = PLATE * from_nose**0.8 * conditions.reynolds**-0.2
    wake = np.repeat(0.7 * (plate[:1] + plate[-1:]) + 0.5 * outer.base, outer.wake.size, axis=0)
    return np.concatenate((plate * inviscid[:size], wake * np.abs(inviscid[size:])))


def _unknown(inviscid: Floats) -> CoupledFlow:
    count = inviscid.shape[1]
    nowhere = np.full_like(inviscid, np.nan)
    return CoupledFlow(
        speed=nowhere,
        mass_defect=nowhere.copy(),
        momentum=nowhere.copy(),
        shape=nowhere.copy(),
        friction=nowhere.copy(),
        transition=np.full((2, count), np.nan),
        stagnation=np.full(count, np.nan),
        converged=np.zeros(count, dtype=bool),
        change=np.full(count, np.nan),
        sweeps=np.zeros(count, dtype=np.intp),
    )


def _record(result: CoupledFlow, left: Integers, swept: _Swept, change: Floats, sweep: int, done: Bools) -> None:
    """Put away what has converged."""
    result.change[left] = change
    result.sweeps[left] = sweep
    result.converged[left] = done
    at = left[done]
    for name in ("speed", "momentum", "shape", "friction", "transition"):
        getattr(result, name)[:, at] = getattr(swept, name)[:, done]
    result.mass_defect[:, at] = swept.defect[:, done]
    result.stagnation[at] = swept.stagnation[done]
