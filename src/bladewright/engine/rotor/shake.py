"""The force that unlike mates put on the hub once a revolution."""

from dataclasses import dataclass
from itertools import permutations

import numpy as np

from bladewright.engine.arrays import Floats
from bladewright.errors import BadInput

_MOST_BLADES = 8  # 5,040 orders of seats; rotors of a light helicopter have fewer


def hub_force(first_moment: float, rotor_speed: float) -> float:
    """Rotating force in the plane of the rotor from what two opposite blades differ by in first moment of mass.

    ``F = dS W**2``; for a chordwise difference of mass centre ``dS = M dx``.

    Parameters
    ----------
    first_moment : float
        Difference of mass times arm: spanwise from the rotor axis, or chordwise. [kg m]
    rotor_speed : float
        Not negative. [rad/s]

    Returns
    -------
    float
        Seen from the fuselage it goes round once a revolution, equal fore-and-aft and sideways. [N]

    Raises
    ------
    BadInput
        If the rotor speed is negative.

    Notes
    -----
    Rigid blades and hub. What the cabin feels depends on the fuselage's own modes: this is no vibration level.

    Source: elementary mechanics.
    """
    if rotor_speed < 0.0:
        raise BadInput("is less than nothing", field="rotor_speed", value=rotor_speed, allowed="zero or more")
    return first_moment * rotor_speed**2


def unbalance(first_moments: Floats) -> float:
    """What the blades of a rotor leave over of first moment of mass, evenly seated in their worst order.

    ``dS = max over orders of |sum_k S_k exp(2 pi i k / n)|``; for two blades ``|S_1 - S_2|``, for three the same in
    any order.

    Parameters
    ----------
    first_moments : (n,) array
        Of each blade, against the same master. [kg m]

    Returns
    -------
    float
        [kg m]

    Raises
    ------
    BadInput
        If there are fewer than two blades, or more than eight.

    Notes
    -----
    Rigid blades. Nobody has to seat four blades in the worst order; which order is best is not said here.

    Source: elementary mechanics.
    """
    blades = len(first_moments)
    if not 2 <= blades <= _MOST_BLADES:
        raise BadInput("blades are not a rotor's", field="first_moments", value=blades, allowed=f"2 to {_MOST_BLADES}")
    seats = np.exp(2j * np.pi * np.arange(blades) / blades)
    first, *others = first_moments.tolist()
    orders = np.array([[first, *order] for order in permutations(others)])
    return float(np.abs(orders @ seats).max())


@dataclass(frozen=True, slots=True)
class HubShake:
    """Rotating force in the plane of the rotor, seen from the blade that has more."""

    outward: float  # from span moment, and from thrust that leans with the tip path [N]
    aft: float  # against its motion, from the chordwise centre [N]

    @property
    def size(self) -> float:
        """Amplitude once a revolution, the same fore-and-aft as sideways. [N]"""
        return float(np.hypot(self.outward, self.aft))


def shake_of_mates(
    span_moment: float, chordwise_moment: float, track_split: float, thrust: float, tip: float, rotor_speed: float
) -> HubShake:
    """Force on the hub once a revolution from what one blade has more than its mate.

    ``outward = dS W**2 - T dh/(2 R)``, ``aft = dC W**2``: half the split of track leans the thrust away from the higher
    blade, once round with it.

    Parameters
    ----------
    span_moment : float
        dS. [kg m]
    chordwise_moment : float
        dC, mass times its place aft. [kg m]
    track_split : float
        dh, how much higher its tip goes. [m]
    thrust : float
        T, of the rotor. [N]
    tip : float
        R. [m]
    rotor_speed : float
        Not negative. [rad/s]

    Returns
    -------
    HubShake

    Raises
    ------
    BadInput
        If the rotor speed is negative.

    Notes
    -----
    Two blades on a see-saw hub, hover; drag alike; no offset of the blades' mass from the see-saw's axis. As
    ``hub_force`` otherwise.

    Source: elementary mechanics; docs/theory/track.
    """
    leaning = thrust * track_split / (2.0 * tip)
    return HubShake(hub_force(span_moment, rotor_speed) - leaning, hub_force(chordwise_moment, rotor_speed))


@dataclass(frozen=True, slots=True)
class RigidShake:
    """What a rotating force does to an aircraft that floats freely and does not bend: the least of what is felt."""

    acceleration: float  # amplitude [m/s^2]
    velocity: float  # amplitude [m/s]


def rigid_shake(force: float, mass: float, rotor_speed: float) -> RigidShake:
    """Amplitudes once a revolution of a free rigid body.

    ``a = F/m``, ``v = F/(m W)``.

    Parameters
    ----------
    force : float
        Amplitude. [N]
    mass : float
        All-up. [kg]
    rotor_speed : float
        [rad/s]

    Returns
    -------
    RigidShake

    Raises
    ------
    BadInput
        If mass or rotor speed are not positive.

    Notes
    -----
    A floor: modes of the airframe near once a revolution raise it.

    Source: elementary mechanics.
    """
    for name, value in (("mass", mass), ("rotor_speed", rotor_speed)):
        if not value > 0.0:
            raise BadInput("must be positive", field=name, value=value, allowed="more than 0")
    return RigidShake(force / mass, force / (mass * rotor_speed))
