"""Steady descent with no torque at the shaft: how fast down, at which collective or rotor speed, and where least."""

import dataclasses
from collections.abc import Iterable
from dataclasses import dataclass

import numpy as np

from bladewright.engine.rotor.disc import Disc, cut
from bladewright.engine.rotor.level_flight import SteadyFlight, level_flight, steady_flight
from bladewright.engine.rotor.rotor import STANDARD, Flight, Modelled, Rotor, Setting
from bladewright.engine.rotor.trim import AXIAL, FLAP_ONCE, Balance, find_trim, higher_flapping
from bladewright.errors import BadInput, OutsideValidity

VERTICAL_RATE = 1.75  # [1] of hover induced velocity, where the search begins; no answer rests on it
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
    free, balances = _descending(disc)
    start = _start(disc, rotor_speed, model)
    return steady_flight(disc, find_trim(disc, start, ("collective", *free), balances))


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
    free, balances = _descending(disc)
    setting = autorotation(rotor, flight, near, model=model).setting
    for part in np.linspace(0.0, 1.0, 4)[1:]:
        step = setting.collective + part * (collective - setting.collective)
        setting = find_trim(disc, dataclasses.replace(setting, collective=step), ("rotor_speed", *free), balances)
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


def _descending(disc: Disc) -> tuple[tuple[str, ...], tuple[Balance, ...]]:
    """What is found besides collective or rotor speed, and what must hold."""
    if disc.flight.speed <= AXIAL:
        return ("climb", "induced", "coning"), ("weight", "torque", "momentum", "coning")
    higher = higher_flapping(disc)
    free = ("climb", "induced", "coning", "cosine_pitch", "sine_pitch", "tilt", *higher)
    return free, ("weight", "torque", "momentum", *FLAP_ONCE, "drag", *higher)


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
        return dataclasses.replace(
            level.setting, climb=-VERTICAL_RATE * hover, induced=VERTICAL_RATE * hover, collective=LOW_PITCH
        )
    gentle = 2.0 * LOW_PITCH * flight.speed / (rotor_speed * disc.parts.radius)
    return dataclasses.replace(
        level.setting, climb=-level.power / flight.weight, tilt=0.0, collective=LOW_PITCH, sine_pitch=-gentle
    )
