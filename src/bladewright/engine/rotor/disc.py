"""Forces on the blades all the way round the disc, for one state of the rotor or many at once."""

from dataclasses import dataclass

import numpy as np

from bladewright.engine.arrays import Bools, Floats
from bladewright.engine.rotor.inflow import inflow_slopes
from bladewright.engine.rotor.rotor import NAMES, Flight, Modelled, Rotor
from bladewright.engine.rotor.rotor_blade import Elements, element_forces, elements
from bladewright.engine.rotor.tip_loss import tip_loss


@dataclass(frozen=True, slots=True)
class Disc:
    """A rotor cut into elements and azimuths."""

    rotor: Rotor
    flight: Flight
    model: Modelled
    parts: Elements
    azimuth: Floats  # (p,) [rad]


@dataclass(frozen=True, slots=True)
class DiscLoads:
    """Forces and what they add up to; s states, p azimuths, e elements; each per blade and length unless said."""

    pitch: Floats  # (s, p, e) [rad]
    pitch_rate: Floats  # (s, p, 1) of the section in space, nose-up positive [rad/s]
    flap: Floats  # (s, p) [rad]
    flap_rate: Floats  # (s, p) [rad/s]
    flap_acceleration: Floats  # (s, p) [rad/s^2]
    tangential: Floats  # (s, p, e) air speed against the motion of the blade [m/s]
    normal: Floats  # (s, p, e) air speed down through it [m/s]
    angle_of_attack: Floats  # (s, p, e) [rad]
    mach: Floats  # (s, p, e) [1]
    lift: Floats  # (s, p, e) [N/m]
    drag: Floats  # (s, p, e) [N/m]
    moment: Floats  # (s, p, e) about the quarter chord, nose-up positive [N m/m]
    computed: Bools  # (s, p, e)
    up_force: Floats  # (s, p) along the shaft [N]
    flap_moment: Floats  # (s, p) about the hinge, up positive [N m]
    thrust: Floats  # (s,) of the rotor along its shaft [N]
    aft_force: Floats  # (s,) of the rotor in its plane [N]
    torque: Floats  # (s,) [N m]
    through: Floats  # (s,) air down through the disc by flight alone [m/s]
    along: Floats  # (s,) air in the plane of the disc [m/s]
    induced_power: Floats  # (s,) [W]
    profile_power: Floats  # (s,) [W]


def cut(rotor: Rotor, flight: Flight, model: Modelled) -> Disc:
    """A rotor made ready to be looked at.

    Parameters
    ----------
    rotor : Rotor
        [-]
    flight : Flight
        [-]
    model : Modelled
        How finely. [-]

    Returns
    -------
    Disc

    Notes
    -----
    Source: definition; no source needed.
    """
    azimuth = 2.0 * np.pi * np.arange(model.azimuths) / model.azimuths
    return Disc(rotor, flight, model, elements(rotor.blade, model.along), azimuth)


def disc_loads(disc: Disc, states: Floats) -> DiscLoads:
    """Blade elements round the disc.

    ``U_T = W y + V_x sin(psi)``, ``U_P = V_z + v + (y - e) b' + V_x b cos(psi)``, ``U_R = V_x cos(psi)``; lift and
    drag at ``a = p - atan2(U_P - q x, U_T)``, q the turning rate of the section in space and x its three-quarter chord
    aft of the feathering axis; drag also along the blade, ``D U_R/U``.

    Parameters
    ----------
    disc : Disc
        [-]
    states : (s, n) array
        Rows of ``Setting``. [rad, rad/s, m/s]

    Returns
    -------
    DiscLoads

    Notes
    -----
    Rigid blades, small flapping angles, any inflow angle; reverse flow from the polars beyond 90 degrees. Sections
    answer at once: no dynamic stall, no lag of the wake.

    Source: W. Johnson, Helicopter Theory, 1980, ch. 5 (from memory).
    """
    rotor, parts, air = disc.rotor, disc.parts, disc.flight.air
    at = dict(zip(NAMES, np.moveaxis(np.atleast_2d(states), -1, 0)[..., None], strict=True))  # each (s, 1)
    speed, psi = at["rotor_speed"], disc.azimuth
    along = disc.flight.speed * np.cos(at["tilt"]) - at["climb"] * np.sin(at["tilt"])
    through = disc.flight.speed * np.sin(at["tilt"]) + at["climb"] * np.cos(at["tilt"])
    flap, flap_rate, flap_acceleration = _flapping(at, psi)
    cyclic = at["cosine_pitch"] * np.cos(psi) + at["sine_pitch"] * np.sin(psi)
    cyclic_rate = speed * (at["sine_pitch"] * np.cos(psi) - at["cosine_pitch"] * np.sin(psi))
    pitch = (at["collective"] + cyclic)[..., None] + parts.twist
    turning = (cyclic_rate + speed * flap)[..., None]

    induced = _induced(disc, at, along, through)
    tangential = speed[..., None] * parts.y + (along * np.sin(psi))[..., None]
    normal = (
        through[..., None] + induced + (along * np.cos(psi) * flap)[..., None]
        + flap_rate[..., None] * (parts.y - rotor.hinge_offset)
    )  # fmt: skip
    radial = (along * np.cos(psi))[..., None]
    wind = np.maximum(np.hypot(tangential, normal), 1e-9)
    angle = pitch - np.arctan2(normal - turning * (parts.aft + 0.5 * parts.chord), tangential)
    mach = wind / air.sound_speed
    forces = element_forces(parts, angle, air.density * wind * parts.chord / air.viscosity, mach)
    pressure = 0.5 * air.density * wind**2 * parts.chord
    loss: Floats | float = 1.0
    if disc.model.inflow.lossy_tip:
        tip_speed = speed * parts.radius
        loss = tip_loss(rotor.blades, 1.0 - parts.y / parts.radius, ((through + at["induced"]) / tip_speed)[..., None])
    lift, drag = pressure * forces.lift * loss, pressure * forces.drag
    up = (lift * tangential - drag * normal) / wind
    back = (lift * normal + drag * tangential) / wind
    outward = drag * radial / wind

    def round_and_along(load: Floats) -> Floats:
        total: Floats = rotor.blades * (load @ parts.length).mean(axis=-1)
        return total

    sine, cosine = np.sin(psi)[:, None], np.cos(psi)[:, None]
    return DiscLoads(
        pitch=pitch, pitch_rate=turning, flap=flap, flap_rate=flap_rate, flap_acceleration=flap_acceleration,
        tangential=tangential, normal=normal, angle_of_attack=angle, mach=mach,
        lift=lift, drag=drag, moment=pressure * parts.chord * forces.moment, computed=forces.computed,
        up_force=up @ parts.length,
        flap_moment=(up * (parts.y - rotor.hinge_offset)) @ parts.length,
        thrust=round_and_along(up),
        aft_force=round_and_along(back * sine + (outward - up * flap[..., None]) * cosine),
        torque=round_and_along(back * parts.y),
        through=through[:, 0], along=along[:, 0],
        induced_power=round_and_along(up * induced),
        profile_power=round_and_along(drag * wind + outward * radial),
    )  # fmt: skip


def _flapping(at: dict[str, Floats], psi: Floats) -> tuple[Floats, Floats, Floats]:
    """Angle, rate, acceleration."""
    flap = at["coning"] + 0.0 * psi
    rate, acceleration = 0.0 * flap, 0.0 * flap
    for harmonic, ending in ((1, ""), (2, "_2"), (3, "_3")):
        cosine, sine = at[f"cosine_flap{ending}"], at[f"sine_flap{ending}"]
        turn = harmonic * at["rotor_speed"]
        now = cosine * np.cos(harmonic * psi) + sine * np.sin(harmonic * psi)
        flap = flap + now
        rate = rate + turn * (sine * np.cos(harmonic * psi) - cosine * np.sin(harmonic * psi))
        acceleration = acceleration - turn**2 * now
    return flap, rate, acceleration


def _induced(disc: Disc, at: dict[str, Floats], along: Floats, through: Floats) -> Floats:
    mean, parts = at["induced"], disc.parts
    if disc.model.inflow.distribution == "uniform":
        return mean[..., None] + 0.0 * (disc.azimuth[:, None] + parts.y)
    tip_speed = at["rotor_speed"] * parts.radius
    aft, advancing = inflow_slopes(np.abs(along) / tip_speed, (through + mean) / tip_speed)
    slope = aft * np.cos(disc.azimuth) + advancing * np.sin(disc.azimuth)
    spread: Floats = mean[..., None] * (1.0 + slope[..., None] * parts.y / parts.radius)
    return spread
