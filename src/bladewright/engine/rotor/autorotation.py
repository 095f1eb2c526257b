"""Steady descent with no torque at the shaft: how fast down, at which collective or rotor speed, and where least."""

import dataclasses
from collections.abc import Iterable
from dataclasses import dataclass

import numpy as np

from bladewright.engine.arrays import Floats
from bladewright.engine.rotor.disc import Disc, cut, disc_loads
from bladewright.engine.rotor.inflow import descent_induced_velocity
from bladewright.engine.rotor.level_flight import SteadyFlight, level_flight, steady_flight
from bladewright.engine.rotor.root_finding import first_bracket, root_between
from bladewright.engine.rotor.rotor import STANDARD, Flight, Modelled, Rotor, Setting
from bladewright.engine.rotor.trim import FLAP_ONCE, Balance, find_trim, higher_flapping
from bladewright.errors import BadInput, OutsideValidity

AXIAL = 1e-9  # [m/s] straight down
WHERE_PITCH_IS_JUDGED = 0.75  # [1] of the radius
GENTLEST, STEEPEST = -1.0, -2.4  # [1] of hover induced velocity: vertical descents looked through
LOW_PITCH = 0.05  # [rad] where the search begins


@dataclass(frozen=True, slots=True)
class BestDescents:
    """Of the descents looked at, with a parabola through the least and its neighbours."""

    descents: tuple[SteadyFlight, ...]
    slowest: SteadyFlight  # least rate of descent
    flattest: SteadyFlight  # farthest for the height


def autorotation(rotor: Rotor, flight: Flight, rotor_speed: float, *, model: Modelled = STANDARD) -> SteadyFlight:
    """Steady descent at a rotor speed, which the pilot holds with the collective.

    As level flight, with the rate of descent found such that the shaft takes no torque.

    Parameters
    ----------
    rotor : Rotor
        [-]
    flight : Flight
        Its speed is the horizontal one; zero for straight down. The drag area counts along the path. [-]
    rotor_speed : float
        More than zero. [rad/s]
    model : Modelled
        Inflow and fineness. [-]

    Returns
    -------
    SteadyFlight
        ``setting.climb`` is minus the rate of descent.

    Raises
    ------
    BadInput
        If the rotor speed is not positive.
    OutsideValidity
        Between straight down and the hover's induced velocity, where no simple inflow holds.
    NotConverged
        If there is no such state.

    Notes
    -----
    Straight down the inflow is a fit to measurements, and the answer 10 % uncertain (common practice, no source). The
    tail rotor, transmission and freewheel take no power.

    Source: H. Glauert, ARC R&M 1111, 1926; J. G. Leishman, Principles of Helicopter Aerodynamics, 2000 (from memory).
    """
    disc = cut(rotor, flight, model)
    start = _start(disc, rotor_speed, model)
    return steady_flight(disc, _descent(disc, start, "collective"))


def autorotation_at_collective(
    rotor: Rotor, flight: Flight, collective: float, near: float, *, model: Modelled = STANDARD
) -> SteadyFlight:
    """Steady descent with the lever held: the rotor speed finds itself, as at lowest collective.

    Parameters
    ----------
    rotor : Rotor
        [-]
    flight : Flight
        As in ``autorotation``. [-]
    collective : float
        Pitch of the section whose twist is zero. [rad]
    near : float
        A rotor speed at which the search begins. [rad/s]
    model : Modelled
        Inflow and fineness. [-]

    Returns
    -------
    SteadyFlight

    Raises
    ------
    BadInput
        If the rotor speed to begin with is not positive.
    OutsideValidity
        As in ``autorotation``.
    NotConverged
        If the rotor comes to no steady speed at that pitch.

    Notes
    -----
    As ``autorotation``. A rotor speed beyond its limit means that the lever cannot be held so low.

    Source: as ``autorotation``.
    """
    disc = cut(rotor, flight, model)
    setting = autorotation(rotor, flight, near, model=model).setting
    steps = 1 if flight.speed <= AXIAL else 3
    for pitch in np.linspace(setting.collective, collective, steps + 1)[1:]:
        setting = _descent(disc, dataclasses.replace(setting, collective=float(pitch)), "rotor_speed")
    return steady_flight(disc, setting)


def best_descents(
    rotor: Rotor, flight: Flight, rotor_speed: float, speeds: Iterable[float], *, model: Modelled = STANDARD
) -> BestDescents:
    """The speed that keeps the rotor longest in the air, and the one that carries it farthest.

    Parameters
    ----------
    rotor : Rotor
        [-]
    flight : Flight
        Whose own speed does not count. [-]
    rotor_speed : float
        More than zero. [rad/s]
    speeds : iterable of float
        Looked through; increasing, three or more. [m/s]
    model : Modelled
        Inflow and fineness. [-]

    Returns
    -------
    BestDescents

    Raises
    ------
    BadInput
        If there are fewer than three speeds.
    OutsideValidity
        If the best lies at an end of the speeds: a better one may lie beyond.
    NotConverged
        If a speed has no steady descent.

    Notes
    -----
    As ``autorotation``.

    Source: as ``autorotation``.
    """
    looked = sorted(speeds)
    if len(looked) < 3:
        raise BadInput("too few", field="speeds", value=len(looked), allowed="3 or more")

    def at(speed: float) -> SteadyFlight:
        return autorotation(rotor, dataclasses.replace(flight, speed=speed), rotor_speed, model=model)

    descents = tuple(at(speed) for speed in looked)
    sinks = [-one.setting.climb for one in descents]
    slopes = [sink / max(speed, AXIAL) for sink, speed in zip(sinks, looked, strict=True)]
    return BestDescents(descents, at(_lowest(looked, sinks)), at(_lowest(looked, slopes)))


def _lowest(places: list[float], values: list[float]) -> float:
    """Of a parabola through the least value and its neighbours."""
    least = int(np.argmin(values))
    if least in (0, len(values) - 1):
        raise OutsideValidity(
            "the best lies at the end of the speeds", field="speeds", value=places[least],
            allowed="a slower and a faster one, both worse", fix="look through a wider range",
        )  # fmt: skip
    near = slice(least - 1, least + 2)
    square, straight, _ = np.polyfit(places[near], values[near], 2)
    return float(-0.5 * straight / square)


def _descent(disc: Disc, start: Setting, found: str) -> Setting:
    """With what is found, collective or rotor speed, such that weight is carried and the shaft takes no torque."""
    if disc.flight.speed <= AXIAL:
        return _straight_down(disc, start, found)
    higher = higher_flapping(disc)
    free = (found, "climb", "induced", "coning", "cosine_pitch", "sine_pitch", "tilt", *higher)
    balances: tuple[Balance, ...] = ("weight", "torque", "momentum", *FLAP_ONCE, "drag", *higher)
    return find_trim(disc, start, free, balances)


def _straight_down(disc: Disc, start: Setting, found: str) -> Setting:
    """One rate of descent after another, each carrying the weight, until the torque is gone."""
    tip_speed = start.rotor_speed * disc.parts.radius

    def at(rate: float) -> Setting:
        held = dataclasses.replace(start, **_descending_air(disc, rate))
        if found == "collective":  # begin where the sections meet the air at the angle they had
            less = (start.climb + start.induced - held.climb - held.induced) / (WHERE_PITCH_IS_JUDGED * tip_speed)
            held = dataclasses.replace(held, collective=start.collective - less)
        return find_trim(disc, held, (found, "coning"), ("weight", "coning"))

    def torque(rates: Floats) -> Floats:
        found_there = [disc_loads(disc, at(float(rate)).row()).torque[0] for rate in rates.ravel()]
        return np.array(found_there).reshape(rates.shape)

    bounds = first_bracket(torque, np.array([GENTLEST]), np.array([STEEPEST]), 8)
    return at(float(root_between(torque, *bounds, 1e-9, "rate of descent")[0]))


def _descending_air(disc: Disc, rate: float) -> dict[str, float]:
    """Climb and induced velocity at a rate of descent in hover induced velocities, drag carrying its part."""
    flight, disc_area = disc.flight, np.pi * disc.parts.radius**2
    through = 2.0 * flight.air.density * disc_area
    dragged = 0.5 * flight.air.density * flight.drag_area * rate**2  # per square of hover induced velocity
    hover = float(np.sqrt(flight.weight / (through + dragged)))
    induced = disc.model.inflow.induced_factor * descent_induced_velocity(hover, rate * hover)
    return {"climb": rate * hover, "induced": induced}


def _start(disc: Disc, rotor_speed: float, model: Modelled) -> Setting:
    flight = disc.flight
    hover = float(np.sqrt(flight.weight / (2.0 * flight.air.density * np.pi * disc.parts.radius**2)))
    if AXIAL < flight.speed < hover:
        raise OutsideValidity(
            "a steep descent through the rotor's own wake", field="speed", value=flight.speed,
            allowed=f"0, or {hover:.3g} m/s and more",
        )  # fmt: skip
    level = level_flight(disc.rotor, flight, rotor_speed, model=model)
    if flight.speed <= AXIAL:
        return level.setting
    gentle = 2.0 * LOW_PITCH * flight.speed / (rotor_speed * disc.parts.radius)
    return dataclasses.replace(
        level.setting, climb=-level.power / flight.weight, tilt=0.0, collective=LOW_PITCH, sine_pitch=-gentle
    )
