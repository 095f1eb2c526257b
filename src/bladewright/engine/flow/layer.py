"""One boundary layer per lane, all lanes marched downstream together.

A lane is one surface, or one wake, of one condition. At each station two equations, momentum and kinetic energy, are
solved for mass defect and shape *together with* the outer flow's answer to that mass defect, so that the march passes
separation; the lagging shear stress and the outer speed follow from those two. Lengths in chords, speeds in flight
speeds.
"""

from dataclasses import dataclass, fields

import numpy as np

from bladewright.engine.arrays import Bools, Floats, Integers
from bladewright.engine.flow.laminar import similar_state
from bladewright.engine.flow.station import (
    ALONE,
    DENSITY_TERM,
    DISPLACEMENT,
    ENERGY_RATE,
    FRICTION,
    FULL_SHAPE,
    GROWTH,
    LN_ENERGY,
    LN_MOMENTUM,
    LN_SPEED,
    MACH_SQUARED,
    MOMENTUM_RATE,
    OUTER,
    ROWS,
    STRESS,
    SWEPT,
    Station,
    edge_state,
    evaluated,
    solved,
)

LEAST_WAKE_SHAPE = 1.01
LEAST_TURBULENT = 100.0  # Re_theta below which turbulence dies out; D. I. A. Poll, Aero. Quart. 30, 1979 (from memory)
#: Momentum thicknesses over which a turbulent shape settles, to its order; a laminar one takes Re_theta of them. Steps
#: longer than that lean on their end, or the shape would ring.
TURBULENT_RELAXES = 20.0


@dataclass(frozen=True, slots=True)
class Links:
    """How the outer speed of lanes that run side by side answers to the mass defect of the stations upstream.

    Lanes come in ``g`` groups of equal number, such as all tops and then all bottoms.
    """

    response: Floats  # (g, g, k, k) speed of a group at a station per mass defect of a group at another [1/chord]
    defect: Floats  # (k, l) mass defect that the external speed was worked out with [chord]


@dataclass(frozen=True, slots=True)
class Course:
    """What each lane meets on its way: ``k`` stations, ``l`` lanes."""

    distance: Floats  # (k, l) along the surface from the stagnation point [chord]
    external: Floats  # (k, l) edge speed without what this station's own mass defect adds [1]
    response: Floats  # (k, l) edge speed per own mass defect [1/chord]
    start: Integers  # (l,) first station behind the stagnation point [-]
    exponent: Floats  # (l,) m of the speed K s**m with which the layer begins: 1 at a round nose, 0 on a plate [1]
    reynolds: Floats  # (l,) of chord and flight speed [1]
    mach: Floats  # (l,) of flight [1]
    critical: Floats  # (l,) amplification at which the layer turns [1]
    trip: Floats  # (l,) distance at which it is made to turn, infinite if nowhere [chord]
    roughness: Floats  # (l,) equivalent sand grain, 0 if smooth [chord]
    links: Links | None = None  # how stations upstream change the outer speed; nothing if not given


@dataclass(frozen=True, slots=True)
class Layer:
    """The layer of each lane at each station."""

    shape: Floats  # (k, l) kinematic shape factor [1]
    momentum: Floats  # (k, l) momentum thickness [chord]
    displacement: Floats  # (k, l) displacement thickness [chord]
    speed: Floats  # (k, l) edge speed in the incompressible plane [1]
    friction: Floats  # (k, l) wall shear over edge dynamic pressure [1]
    stress: Floats  # (k, l) root of the greatest shear stress coefficient, 0 where laminar [1]
    amplification: Floats  # (k, l) e-foldings of the worst wave [1]
    turbulent: Bools  # (k, l)
    transition: Floats  # (l,) distance at which the lane turned, NaN if it did not [chord]
    settled: Bools  # (k, l) whether the equations hold there

    @property
    def mass_defect(self) -> Floats:
        """Edge speed times displacement thickness. [chord]"""
        defect: Floats = self.speed * self.displacement
        return defect

    def of(self, lanes: Integers) -> "Layer":
        """Some of the lanes."""
        return Layer(*(getattr(self, field.name)[..., lanes] for field in fields(self)))


def march(course: Course, guess: Layer | None = None) -> Layer:
    """The layers of all lanes from their stagnation points on.

    Momentum ``d ln th/ds + (2 + H - M_e**2) d ln u/ds = cf/(2 th)``; kinetic energy
    ``d ln H*/ds + (1 + 2 H**/H* - H) d ln u/ds = (2 CD/H* - cf/2)/th``; both over each step with mean coefficients,
    with ``q = q_ext + r m``, ``m = q delta*``. Begins as a similar flow. Turns turbulent within the step in which the
    amplification reaches its critical value or the trip lies, and the step is shared out there.

    Parameters
    ----------
    course : Course
        Distances and speeds. [chord, 1]
    guess : Layer, optional
        A solution nearby, to start each station from. [-]

    Returns
    -------
    Layer
        ``settled`` is false where the equations could not be made to hold; numbers there mean nothing.

    Notes
    -----
    Second order in the step but for the step of transition. Thin layer, no heat transfer, no curvature.

    Source: M. Drela, M. B. Giles, AIAA J. 25, 1987 for the equations (from memory); A. E. P. Veldman, AIAA J. 19,
    1981 for solving them with a local interaction law.
    """
    return _marched(course, guess, None)


@dataclass(frozen=True, slots=True)
class WakeStart:
    """The state in which the two layers leave the trailing edge together, per wake."""

    momentum: Floats  # (l,) of both [chord]
    displacement: Floats  # (l,) of both and the base between [chord]
    stress: Floats  # (l,) root of the shear stress coefficient [1]


def march_wake(course: Course, start: WakeStart, guess: Layer | None = None) -> Layer:
    """Wakes from the trailing edge on, as layers without wall: no friction, two shear layers' dissipation.

    Parameters
    ----------
    course : Course
        Its first station is the trailing edge; ``start`` zero for all. [chord, 1]
    start : WakeStart
        What leaves the trailing edge. [chord]
    guess : Layer, optional
        A solution nearby. [-]

    Returns
    -------
    Layer

    Notes
    -----
    Source: as ``march``.
    """
    return _marched(course, guess, start)


def _marched(course: Course, guess: Layer | None, wake: WakeStart | None) -> Layer:
    stations, lanes = course.distance.shape
    kept = np.zeros((ROWS, stations, lanes))
    shape, ln_defect = np.full((2, stations, lanes), np.nan)
    growth = np.zeros((stations, lanes))
    turbulent, settled = np.zeros((2, stations, lanes), dtype=bool)
    transition = np.full(lanes, np.nan)
    first = course.start
    news = np.zeros((stations, lanes))  # how the mass defect differs from what the external speed was worked out with
    for k in range(stations):
        new = np.flatnonzero(first == k)
        if new.size:
            _begin(course, k, new, wake, kept, shape, ln_defect)
            turbulent[k, new] = wake is not None
            settled[k, new] = True
            if course.links is not None:
                news[k, new] = np.exp(ln_defect[k, new]) - course.links.defect[k, new]
        live = np.flatnonzero(first < k)
        if not live.size:
            continue
        j = k - 1
        row = kept[:, j, live]
        step = course.distance[k, live] - course.distance[j, live]
        was = turbulent[j, live]
        older = np.maximum(j - 1, first[live])
        before = course.distance[j, live] - course.distance[older, live]
        stride = np.where(before > 0.0, step / np.where(before > 0.0, before, 1.0), 0.0)
        rate, bend = row[GROWTH], stride * (row[GROWTH] - kept[GROWTH, older, live])
        rate = np.maximum(rate + 0.5 * bend, 0.5 * rate)
        thin = row[LN_MOMENTUM] + row[LN_SPEED]
        thickening = stride * (thin - kept[LN_MOMENTUM, older, live] - kept[LN_SPEED, older, live])
        ln_re = thin + np.log(course.reynolds[live])
        share = _laminar_share(course, k, live, growth[j, live], rate * step, step, ln_re, thickening)
        share = np.where(was, 0.0, share)
        turns = ~was & (share < 1.0)
        growth[k, live] = np.where(was, growth[j, live], growth[j, live] + share * rate * step)
        transition[live[turns]] = course.distance[j, live[turns]] + share[turns] * step[turns]
        turbulent[k, live] = was | turns
        relaxed = np.exp(row[LN_MOMENTUM]) * np.where(was, TURBULENT_RELAXES, np.exp(ln_re))
        old = np.where(turns, share, 0.5 * np.minimum(1.0, relaxed / step))
        onward = np.where(turns, 0.5 * share * stride, 0.0)  # a turning step's laminar part is read on, to its middle
        momentum_rate = (1.0 + onward) * row[MOMENTUM_RATE] - onward * kept[MOMENTUM_RATE, older, live]
        energy_rate = (1.0 + onward) * row[ENERGY_RATE] - onward * kept[ENERGY_RATE, older, live]
        station = Station(
            external=course.external[k, live] + _heard(course, news, k)[live],
            response=course.response[k, live],
            step=step,
            old_share=old,
            new_share=1.0 - old,
            turning=np.where(turns, (1.0 - share) * step, step),
            stress=row[STRESS],
            reynolds=course.reynolds[live],
            mach=course.mach[live],
            roughness=course.roughness[live],
            ln_momentum=row[LN_MOMENTUM],
            ln_speed=row[LN_SPEED],
            ln_energy=row[LN_ENERGY],
            full_shape=row[FULL_SHAPE],
            mach_squared=row[MACH_SQUARED],
            density_term=row[DENSITY_TERM],
            momentum_rate=momentum_rate,
            energy_rate=energy_rate,
            laminar=~turbulent[k, live],
        )
        m, h = ln_defect[j, live], shape[j, live]
        if guess is not None:
            known = (guess.shape[k, live] > (1.03 if wake is None else 1.001)) & (guess.mass_defect[k, live] > 0.0)
            known &= guess.turbulent[k, live] == turbulent[k, live]
            m = np.where(known, np.log(np.where(known, guess.mass_defect[k, live], 1.0)), m)
            h = np.where(known, guess.shape[k, live], np.where(turns, np.minimum(h, 2.2), h))
        else:
            h = np.where(turns, np.minimum(h, 2.2), h)
        ln_defect[k, live], shape[k, live], kept[:, k, live], settled[k, live] = solved(
            m, h, station, wake is not None, ALONE if guess is None else SWEPT
        )
        if course.links is not None:
            news[k, live] = np.exp(ln_defect[k, live]) - course.links.defect[k, live]
    return Layer(
        shape=shape,
        momentum=np.exp(kept[LN_MOMENTUM]),
        displacement=kept[DISPLACEMENT],
        speed=kept[OUTER],
        friction=2.0 * kept[FRICTION],
        stress=kept[STRESS],
        amplification=growth,
        turbulent=turbulent,
        transition=transition,
        settled=settled,
    )


def _heard(course: Course, news: Floats, k: int) -> Floats:
    """What the stations upstream have changed of the external speed at station k, by lane."""
    if course.links is None:
        return np.zeros(news.shape[1])
    groups = course.links.response.shape[0]
    told = news[:k].reshape(k, groups, -1)
    heard: Floats = np.zeros((groups, told.shape[2]))
    for from_group in range(groups):
        heard += course.links.response[:, from_group, k, :k] @ told[:, from_group]
    return heard.ravel()


def _laminar_share(
    course: Course,
    k: int,
    live: Integers,
    amplified: Floats,
    grown: Floats,
    step: Floats,
    ln_re: Floats,
    thickening: Floats,
) -> Floats:
    """How much of the step from k - 1 to k is still laminar; no trip works on a layer too thin to be turbulent."""
    room = np.maximum(course.critical[live] - amplified, 0.0)
    waves = np.where(grown > room, room / np.where(grown > room, grown, 1.0), 1.0)
    tripped = (course.trip[live] - course.distance[k - 1, live]) / step
    wanting = np.log(LEAST_TURBULENT) - ln_re
    thick = np.where(wanting > thickening, 1.0, wanting / np.where(thickening > 0.0, thickening, 1.0))
    share: Floats = np.clip(np.minimum(waves, np.maximum(tripped, thick)), 0.0, 1.0)
    return share


def _begin(
    course: Course,
    k: int,
    lanes: Integers,
    wake: WakeStart | None,
    kept: Floats,
    shape: Floats,
    ln_defect: Floats,
) -> None:
    """The state at a lane's first station: a similar flow, or what left the trailing edge."""
    q = course.external[k, lanes]
    if wake is None:
        h, z = similar_state(course.exponent[lanes])
        theta = np.sqrt(z * course.distance[k, lanes] / (course.reynolds[lanes] * q))
        defect = q * h * theta
        stress = np.zeros(lanes.size)
    else:
        _, squared, _ = edge_state(q, course.mach[lanes])
        defect = q * wake.displacement[lanes]
        h = (wake.displacement[lanes] / wake.momentum[lanes] - 0.29 * squared) / (1.0 + 0.113 * squared)
        h = np.maximum(h, LEAST_WAKE_SHAPE)
        stress = wake.stress[lanes]
    none = np.zeros(lanes.size)
    at = Station(
        q, none, none, none, none, none, stress, course.reynolds[lanes], course.mach[lanes], course.roughness[lanes],
        none, none, none, none, none, none, none, none, np.full(lanes.size, wake is None),
    )  # fmt: skip
    kept[:, k, lanes] = evaluated(defect, h, at, wake is not None)
    shape[k, lanes], ln_defect[k, lanes] = h, np.log(defect)
