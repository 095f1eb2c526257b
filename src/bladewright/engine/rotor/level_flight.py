"""Level flight: the pitch, tilt and power that hold weight and drag, and what the blades do round the disc."""

import dataclasses
from collections.abc import Iterable
from dataclasses import dataclass, fields

import numpy as np

from bladewright.engine.rotor.disc import Disc, DiscLoads, cut, disc_loads
from bladewright.engine.rotor.rotor import STANDARD, Flight, Modelled, Rotor, Setting
from bladewright.engine.rotor.trim import FLAP_ONCE, Balance, find_trim, higher_flapping
from bladewright.errors import BadInput


@dataclass(frozen=True, slots=True)
class SteadyFlight:
    """One state in which the balances hold."""

    disc: Disc
    setting: Setting
    loads: DiscLoads  # without the axis of states
    power: float  # at the rotor shaft: induced, profile, parasite and climb together [W]
    induced_power: float  # [W]
    profile_power: float  # [W]
    parasite_power: float  # what drags the rest through the air [W]
    climb_power: float  # [W]
    advance_ratio: float  # speed in the disc over tip speed [1]
    advancing_tip_mach: float  # [1]
    computed_share: float  # of the disc, where the polar was computed and not extrapolated [1]


def level_flight(
    rotor: Rotor,
    flight: Flight,
    rotor_speed: float,
    *,
    cosine_flap: float = 0.0,
    sine_flap: float = 0.0,
    tilt: float | None = None,
    model: Modelled = STANDARD,
) -> SteadyFlight:
    """Steady level flight.

    Found together: collective, both cyclics, tilt of the shaft, mean inflow, coning, and the higher flapping the hub
    leaves free, such that lift carries the weight, the rotor pulls ``(rho/2) V**2 f``, momentum gives the inflow and
    flapping against the shaft is the wanted one.

    Parameters
    ----------
    rotor : Rotor
        [-]
    flight : Flight
        [-]
    rotor_speed : float
        More than zero. [rad/s]
    cosine_flap, sine_flap : float
        Wanted tip path against the shaft: up over the tail, up on the advancing side. Zero for no hub moment. [rad]
    tilt : float, optional
        Of the shaft forward. With it the pull is whatever comes out, and the drag area counts for nothing. [rad]
    model : Modelled
        Inflow and fineness. [-]

    Returns
    -------
    SteadyFlight

    Raises
    ------
    BadInput
        If the rotor speed is not positive.
    NotConverged
        If there is no such state, as when the rotor stalls.

    Notes
    -----
    Momentum theory with Glauert's mean and a straight distribution; sections answer at once; rigid blades; the mean
    side force is not trimmed; no download, no interference. Below 10 m/s the distribution is a rough guess. From about
    an advance ratio of 0.3, or where the retreating blade stalls, an outline of the truth only.

    Source: H. Glauert, ARC R&M 1111, 1926; J. B. Wheatley, NACA Report 487, 1934; W. Johnson, Helicopter Theory, 1980,
    ch. 5 (from memory).
    """
    disc = cut(rotor, flight, model)
    return _level(disc, _first_guess(disc, rotor_speed), cosine_flap, sine_flap, tilt)


def level_flights(
    rotor: Rotor, flight: Flight, rotor_speed: float, speeds: Iterable[float], *, model: Modelled = STANDARD
) -> tuple[SteadyFlight, ...]:
    """Level flight at one speed after another, each begun from the one before.

    Parameters
    ----------
    rotor : Rotor
        [-]
    flight : Flight
        Whose own speed does not count. [-]
    rotor_speed : float
        More than zero. [rad/s]
    speeds : iterable of float
        In order. [m/s]
    model : Modelled
        Inflow and fineness. [-]

    Returns
    -------
    tuple of SteadyFlight

    Raises
    ------
    BadInput
        If the rotor speed is not positive.
    NotConverged
        At the first speed that has no such state.

    Notes
    -----
    Source: as ``level_flight``.
    """
    found: list[SteadyFlight] = []
    for speed in speeds:
        disc = cut(rotor, dataclasses.replace(flight, speed=speed), model)
        start = found[-1].setting if found else _first_guess(disc, rotor_speed)
        found.append(_level(disc, start, 0.0, 0.0, None))
    return tuple(found)


def hover_at_collective(
    rotor: Rotor, flight: Flight, rotor_speed: float, collective: float, *, model: Modelled = STANDARD
) -> SteadyFlight:
    """Standing still with the lever held; the thrust is what comes out.

    For loads over the whole range of the lever, in the same form as those in flight.

    Parameters
    ----------
    rotor : Rotor
        [-]
    flight : Flight
        Of which the air counts; speed must be zero. [-]
    rotor_speed : float
        More than zero. [rad/s]
    collective : float
        Pitch of the section whose twist is zero; must give a thrust upward. [rad]
    model : Modelled
        Inflow and fineness. [-]

    Returns
    -------
    SteadyFlight

    Raises
    ------
    BadInput
        If rotor speed is not positive, or the flight moves.
    NotConverged
        If there is no such state, as when the blades push down.

    Notes
    -----
    Uniform inflow; ``hover_sweep`` spreads it over the rings.

    Source: as ``level_flight``.
    """
    if flight.speed != 0.0:
        raise BadInput("a hover does not move", field="speed", value=flight.speed, allowed="0 m/s")
    disc = cut(rotor, flight, model)
    start = dataclasses.replace(_first_guess(disc, rotor_speed), collective=collective)
    return steady_flight(disc, find_trim(disc, start, ("induced", "coning"), ("momentum", "coning")))


def steady_flight(disc: Disc, setting: Setting) -> SteadyFlight:
    """What a state amounts to.

    Parameters
    ----------
    disc : Disc
        Rotor and flight. [-]
    setting : Setting
        The state. [-]

    Returns
    -------
    SteadyFlight

    Notes
    -----
    Whether the balances hold is not asked. Climb power is that of the weight; what thrust does beyond it is parasite.

    Source: definition; no source needed.
    """
    several = disc_loads(disc, setting.row())
    loads = dataclasses.replace(several, **{one.name: getattr(several, one.name)[0] for one in fields(several)})
    tip_speed = setting.rotor_speed * disc.parts.radius
    climb_power = disc.flight.weight * setting.climb
    area = disc.parts.length * disc.parts.y
    return SteadyFlight(
        disc=disc,
        setting=setting,
        loads=loads,
        power=float(loads.torque) * setting.rotor_speed,
        induced_power=float(loads.induced_power),
        profile_power=float(loads.profile_power),
        parasite_power=float(loads.thrust * loads.through - loads.aft_force * loads.along) - climb_power,
        climb_power=climb_power,
        advance_ratio=float(loads.along) / tip_speed,
        advancing_tip_mach=float(np.hypot(tip_speed + loads.along, loads.through)) / disc.flight.air.sound_speed,
        computed_share=float((loads.computed @ area).mean() / area.sum()),
    )


def free_flapping(disc: Disc, held: Setting) -> Setting:
    """How the blades flap when everything else is held.

    Parameters
    ----------
    disc : Disc
        Rotor and flight. [-]
    held : Setting
        Pitch, tilt, speed and inflow are kept; flapping is found. [-]

    Returns
    -------
    Setting

    Raises
    ------
    NotConverged
        If there is no periodic flapping.

    Notes
    -----
    Harmonics to the third.

    Source: as ``level_flight``.
    """
    names = (*FLAP_ONCE, *higher_flapping(disc))
    return find_trim(disc, held, names, names)


def _level(disc: Disc, start: Setting, cosine_flap: float, sine_flap: float, tilt: float | None) -> SteadyFlight:
    start = dataclasses.replace(start, cosine_flap=cosine_flap, sine_flap=sine_flap)
    higher = higher_flapping(disc)
    free: tuple[str, ...] = ("collective", "cosine_pitch", "sine_pitch", "induced", "coning", *higher)
    balances: tuple[Balance, ...] = ("weight", *FLAP_ONCE, "momentum", *higher)
    if tilt is None:
        free, balances = (*free, "tilt"), (*balances, "drag")
    else:
        start = dataclasses.replace(start, tilt=tilt)
    return steady_flight(disc, find_trim(disc, start, free, balances))


def _first_guess(disc: Disc, rotor_speed: float) -> Setting:
    if not rotor_speed > 0.0:
        raise BadInput("must be positive", field="rotor_speed", value=rotor_speed, allowed="more than 0")
    flight, radius = disc.flight, disc.parts.radius
    drag = 0.5 * flight.air.density * flight.drag_area * flight.speed**2
    hover = np.sqrt(flight.weight / (2.0 * flight.air.density * np.pi * radius**2))
    induced = hover / max(1.0, flight.speed / hover)
    at_tip = (induced + flight.speed * drag / flight.weight) / (rotor_speed * radius)
    advance = flight.speed / (rotor_speed * radius)
    nothing = dict.fromkeys((one.name for one in fields(Setting)), 0.0)
    return Setting(**nothing | {
        "collective": 0.08 + 1.3 * at_tip, "sine_pitch": -2.0 * advance * (0.06 + at_tip), "tilt": drag / flight.weight,
        "rotor_speed": rotor_speed, "induced": float(induced), "coning": 0.03,
    })  # fmt: skip
