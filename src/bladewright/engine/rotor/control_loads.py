"""What turns a blade about its feathering axis, each cause by itself, and what of it reaches the collective handle.

Moments are of one blade, nose-up positive. Handle force: positive when the pilot must pull the lever up to hold it.
"""

from dataclasses import dataclass
from typing import Literal

import numpy as np

from bladewright.engine.arrays import Floats
from bladewright.engine.rotor.atmosphere import GRAVITY
from bladewright.engine.rotor.blade_element import integral
from bladewright.engine.rotor.span_mass import SpanMass
from bladewright.errors import BadInput

Sense = Literal["nose up", "nose down"]


@dataclass(frozen=True, slots=True)
class Linkage:
    """From pitch horn to collective handle."""

    pitch_arm: float  # feathering axis to pitch-link line [m]
    handle_per_link: float  # handle travel per pitch-link travel [1]
    link_up_is: Sense  # what the blade does when its link goes up
    lever_up_is: Sense  # what the blade does when the lever is raised

    def __post_init__(self) -> None:
        for name in ("pitch_arm", "handle_per_link"):
            value = getattr(self, name)
            if not (np.isfinite(value) and value > 0.0):
                raise BadInput("must be positive", field=name, value=value, allowed="more than 0")

    @property
    def pitch_per_handle(self) -> float:
        """Blade pitch per handle travel upward, nose-up positive. [rad/m]"""
        return _sign(self.lever_up_is) / (self.pitch_arm * self.handle_per_link)


def _sign(sense: Sense) -> float:
    return 1.0 if sense == "nose up" else -1.0


def handle_force(moments: float, linkage: Linkage) -> float:
    """Force the pilot must pull up with to hold blade moments, by virtual work.

    ``P dh + (sum M) dp = 0``, so ``P = -(sum M) dp/dh``: no friction, no spring, nothing bends.

    Parameters
    ----------
    moments : float
        Feathering moments of all blades together, nose-up positive. [N m]
    linkage : Linkage
        From horn to handle. [-]

    Returns
    -------
    float
        Pull-up positive ("heavy"). [N]

    Notes
    -----
    The sense of the links drops out: only what the lever does to the blades counts.

    Source: virtual work; no source needed.
    """
    return -moments * linkage.pitch_per_handle


def pitch_link_force(moment: float, linkage: Linkage) -> float:
    """Force in one blade's pitch link.

    Parameters
    ----------
    moment : float
        Feathering moment of the blade, nose-up positive. [N m]
    linkage : Linkage
        From horn to handle. [-]

    Returns
    -------
    float
        Push up on the horn (compression) positive. [N]

    Notes
    -----
    Source: moment balance about the feathering axis; no source needed.
    """
    return -moment / linkage.pitch_arm * _sign(linkage.link_up_is)


def section_moment(y: Floats, chord: Floats, coefficient: Floats, rotor_speed: float, density: float) -> float:
    """Moment of the sections about their quarter chord.

    ``M = integral of rho/2 (W y)**2 c**2 cm dy``; for constant chord and coefficient
    ``rho c**2 W**2 (R**3 - r0**3) cm/6``.

    Parameters
    ----------
    y : (n,) array
        Radii of the lifting part. [m]
    chord : (n,) array
        [m]
    coefficient : (n,) array
        Moment coefficient about the quarter chord. [1]
    rotor_speed : float
        [rad/s]
    density : float
        [kg/m^3]

    Returns
    -------
    float
        [N m]

    Notes
    -----
    Hover or axial flight: the sections meet the air of their own turning.

    Source: strip theory, elementary.
    """
    return integral(0.5 * density * (rotor_speed * y) ** 2 * chord**2 * coefficient, y)


def lift_offset_moment(y: Floats, lift_per_length: Floats, aft: Floats) -> float:
    """Moment of the lift at the quarter chord about a feathering axis that lies elsewhere.

    ``M = -integral of L' x dy``.

    Parameters
    ----------
    y : (n,) array
        Radii of the lifting part. [m]
    lift_per_length : (n,) array
        [N/m]
    aft : (n,) array
        Quarter chord aft of the feathering axis. [m]

    Returns
    -------
    float
        [N m]

    Notes
    -----
    Source: strip theory, elementary.
    """
    return -integral(lift_per_length * aft, y)


def free_coning(y: Floats, lift_per_length: Floats, mass: SpanMass, rotor_speed: float) -> float:
    """Angle at which lift, weight and centrifugal force of a limp blade balance about the rotor axis.

    ``beta = (integral of L' y dy - g S)/(W**2 I)`` with S and I the first and second moments of the mass.

    Parameters
    ----------
    y : (n,) array
        Radii of the lifting part. [m]
    lift_per_length : (n,) array
        [N/m]
    mass : SpanMass
        Of one blade. [-]
    rotor_speed : float
        More than zero. [rad/s]

    Returns
    -------
    float
        Up positive. [rad]

    Notes
    -----
    No bending stiffness: a blade built in at its precone goes ``1/nu**2`` of the way from there to this angle, nu
    being its first flapping frequency per revolution (1.05 to 1.15, so 75 to 90 %).

    Source: W. Johnson, Helicopter Theory, 1980, ch. 5 (from memory).
    """
    return limp_coning(integral(lift_per_length * y, y), mass, rotor_speed)


def limp_coning(lift_moment: float, mass: SpanMass, rotor_speed: float) -> float:
    """``free_coning`` from the moment of the lift about the rotor axis.

    ``beta = (M_L - g S)/(W**2 I)``.

    Parameters
    ----------
    lift_moment : float
        M_L, of one blade's lift. [N m]
    mass : SpanMass
        Of one blade. [-]
    rotor_speed : float
        More than zero. [rad/s]

    Returns
    -------
    float
        Up positive. [rad]

    Notes
    -----
    As ``free_coning``.

    Source: W. Johnson, Helicopter Theory, 1980, ch. 5 (from memory).
    """
    return (lift_moment - GRAVITY * mass.span_moment) / (rotor_speed**2 * mass.flap_inertia)


def mass_offset_moment(mass: SpanMass, pitch: Floats, angle: float, rotor_speed: float) -> float:
    """Moment of centrifugal force on mass behind the feathering axis, raised above the plane of rotation by an angle.

    ``M = W**2 b integral of m X y dy``, ``X = x cos p + z sin p``. With b the precone it is the pull on mass beside
    a tilted axis; with b coning less precone, the pull aft on mass bent above the axis. Their sum is that of the
    whole coning.

    Parameters
    ----------
    mass : SpanMass
        Of one blade. [-]
    pitch : (n,) array
        At the stations of the mass. [rad]
    angle : float
        b, small, up positive. [rad]
    rotor_speed : float
        [rad/s]

    Returns
    -------
    float
        [N m]

    Notes
    -----
    Rigid bend at the rotor axis; small angle.

    Source: derivative of the centrifugal potential, docs/theory/control-loads; no source needed.
    """
    return rotor_speed**2 * angle * float(np.trapezoid(mass.mass_per_length * _aft(mass, pitch) * mass.y, mass.y))


def weight_moment(mass: SpanMass, pitch: Floats) -> float:
    """Moment of the blade's own weight behind the feathering axis.

    ``M = g integral of m X dy``.

    Parameters
    ----------
    mass : SpanMass
        Of one blade. [-]
    pitch : (n,) array
        At the stations of the mass. [rad]

    Returns
    -------
    float
        [N m]

    Notes
    -----
    Source: moment balance; no source needed.
    """
    return GRAVITY * float(np.trapezoid(mass.mass_per_length * _aft(mass, pitch), mass.y))


def counterweight_moment(entered: float, pitch: float, rotor_speed: float, entered_speed: float) -> float:
    """Moment of weights on arms square to the chord, from their moment at 45 degrees and one speed.

    ``M = W**2 m l**2 sin p cos p``, so ``M = M_45 (W/W_0)**2 sin 2p``.

    Parameters
    ----------
    entered : float
        Moment of one blade's weights at 45 degrees pitch, nose-up positive. [N m]
    pitch : float
        [rad]
    rotor_speed, entered_speed : float
        Now, and where the moment was entered for. [rad/s]

    Returns
    -------
    float
        [N m]

    Notes
    -----
    Source: two point masses, closed form; no source needed.
    """
    return entered * (rotor_speed / entered_speed) ** 2 * float(np.sin(2.0 * pitch))


def trim_spring_force(entered: float, rate: float, handle_travel: float) -> float:
    """What a spring that lifts the lever takes off the pilot's hand.

    ``P = -(F - k h)``.

    Parameters
    ----------
    entered : float
        Lifting force with the lever at its lowest collective. [N]
    rate : float
        How fast it falls as the lever rises; zero for a constant force. [N/m]
    handle_travel : float
        Of the handle, up from the lowest collective. [m]

    Returns
    -------
    float
        Change of the pull-up force, so negative for a spring that lifts. [N]

    Notes
    -----
    Source: definition; no source needed.
    """
    return -(entered - rate * handle_travel)


def _aft(mass: SpanMass, pitch: Floats) -> Floats:
    """Mass centre aft of the feathering axis in the plane of rotation."""
    aft: Floats = mass.chordwise_centre * np.cos(pitch) + mass.normal_centre * np.sin(pitch)
    return aft
