"""Blade elements with one uniform inflow: the collective a thrust needs, and the lift along the blade.

The first estimate behind the handle force; ``hover`` and ``level_flight`` have tip loss, polars and the whole disc.
"""

from dataclasses import dataclass

import numpy as np

from bladewright.engine.arrays import Floats, require_finite, require_increasing
from bladewright.errors import BadInput


@dataclass(frozen=True, slots=True)
class LiftingBlade:
    """The lifting part of one blade, from where the section begins to the tip."""

    y: Floats  # (n,) station radii, the last the rotor radius [m]
    chord: Floats  # (n,) [m]
    twist: Floats  # (n,) against the collective's section, nose-up positive [rad]
    zero_lift_angle: Floats  # (n,) against the datum twist is measured in [rad]
    lift_slope: float  # [1/rad]

    def __post_init__(self) -> None:
        require_increasing(self.y, "y")
        for name in ("y", "chord", "twist", "zero_lift_angle"):
            require_finite(getattr(self, name), name)


@dataclass(frozen=True, slots=True)
class LiftAlong:
    """One steady axial condition of the rotor."""

    collective: float  # pitch of the section whose twist is zero [rad]
    inflow: float  # uniform, down through the disc; negative in autorotation [m/s]
    pitch: Floats  # (n,) [rad]
    angle_of_attack: Floats  # (n,) [rad]
    lift_per_length: Floats  # (n,) of one blade [N/m]
    thrust: float  # of all blades [N]


def hover_at_thrust(blade: LiftingBlade, blades: int, rotor_speed: float, density: float, thrust: float) -> LiftAlong:
    """The collective at which the rotor hovers with a thrust.

    ``v = sqrt(T/(2 rho pi R**2))``; ``L' = rho/2 (W y)**2 c a (p - v/(W y) - alpha_L0)``, linear in the collective.

    Parameters
    ----------
    blade : LiftingBlade
        One of the blades. [-]
    blades : int
        How many. [-]
    rotor_speed : float
        More than zero. [rad/s]
    density : float
        More than zero. [kg/m^3]
    thrust : float
        More than zero. [N]

    Returns
    -------
    LiftAlong

    Raises
    ------
    BadInput
        If speed, density or thrust are not positive.

    Notes
    -----
    Small angles, no tip loss, no stall, no compressibility: the collective comes out some tenths of a degree low.

    Source: A. Gessow, G. C. Myers, Aerodynamics of the Helicopter, 1952, ch. 4 (from memory).
    """
    _require_positive(rotor_speed=rotor_speed, density=density, thrust=thrust)
    inflow = float(np.sqrt(thrust / (2.0 * density * np.pi * blade.y[-1] ** 2)))
    without = _lift(blade, 0.0, inflow, rotor_speed, density)
    per_radian = _weight(blade, rotor_speed, density)
    collective = (thrust / blades - integral(without, blade.y)) / integral(per_radian, blade.y)
    return _condition(blade, blades, rotor_speed, density, collective, inflow)


def hover_at_pitch(
    blade: LiftingBlade, blades: int, rotor_speed: float, density: float, collective: float
) -> LiftAlong:
    """The thrust, and its inflow, of a rotor hovering at a collective.

    ``T = 2 rho pi R**2 v**2`` meets ``T = T_0 - k v`` of the blade elements: a quadratic in v.

    Parameters
    ----------
    blade : LiftingBlade
        One of the blades. [-]
    blades : int
        How many. [-]
    rotor_speed : float
        More than zero. [rad/s]
    density : float
        More than zero. [kg/m^3]
    collective : float
        Pitch of the section whose twist is zero; must give a thrust upward. [rad]

    Returns
    -------
    LiftAlong

    Raises
    ------
    BadInput
        If the blades would push down: momentum theory gives no hover then.

    Notes
    -----
    As ``hover_at_thrust``.

    Source: as ``hover_at_thrust``.
    """
    _require_positive(rotor_speed=rotor_speed, density=density)
    still = blades * integral(_lift(blade, collective, 0.0, rotor_speed, density), blade.y)
    if not still > 0.0:
        raise BadInput("this collective lifts nothing", field="collective", value=collective, allowed="a thrust up")
    fall = still - blades * integral(_lift(blade, collective, 1.0, rotor_speed, density), blade.y)  # per m/s of inflow
    disc = 2.0 * density * np.pi * blade.y[-1] ** 2
    inflow = (-fall + np.sqrt(fall**2 + 4.0 * disc * still)) / (2.0 * disc)
    return _condition(blade, blades, rotor_speed, density, collective, float(inflow))


def steady_at_pitch(
    blade: LiftingBlade, blades: int, rotor_speed: float, density: float, thrust: float, collective: float
) -> LiftAlong:
    """The uniform inflow at which a rotor carries a thrust at a given collective, as in autorotation.

    The rotor speed is given, not found: what holds it there is not asked.

    Parameters
    ----------
    blade : LiftingBlade
        One of the blades. [-]
    blades : int
        How many. [-]
    rotor_speed : float
        More than zero. [rad/s]
    density : float
        More than zero. [kg/m^3]
    thrust : float
        More than zero. [N]
    collective : float
        Pitch of the section whose twist is zero. [rad]

    Returns
    -------
    LiftAlong
        With negative inflow (up through the disc) where the collective alone would lift less.

    Raises
    ------
    BadInput
        If speed, density or thrust are not positive.

    Notes
    -----
    Blade elements only, so it holds where momentum theory does not. As ``hover_at_thrust`` otherwise.

    Source: as ``hover_at_thrust``.
    """
    _require_positive(rotor_speed=rotor_speed, density=density, thrust=thrust)
    still = blades * integral(_lift(blade, collective, 0.0, rotor_speed, density), blade.y)
    fall = still - blades * integral(_lift(blade, collective, 1.0, rotor_speed, density), blade.y)
    return _condition(blade, blades, rotor_speed, density, collective, (still - thrust) / fall)


def integral(values: Floats, y: Floats) -> float:
    """Integral over stations by Simpson's rule, exact for cubics.

    Parameters
    ----------
    values : (n,) array
        At the stations, smooth between them. [any]
    y : (n,) array
        Increasing stations. [m]

    Returns
    -------
    float
        [any times m]

    Notes
    -----
    Source: Simpson's rule; any text.
    """
    from scipy.integrate import simpson

    return float(simpson(values, x=y))


def _require_positive(**given: float) -> None:
    for name, value in given.items():
        if not (np.isfinite(value) and value > 0.0):
            raise BadInput("must be positive", field=name, value=value, allowed="more than 0")


def _weight(blade: LiftingBlade, rotor_speed: float, density: float) -> Floats:
    """Lift per length and radian."""
    weight: Floats = 0.5 * density * (rotor_speed * blade.y) ** 2 * blade.chord * blade.lift_slope
    return weight


def _angle(blade: LiftingBlade, collective: float, inflow: float, rotor_speed: float) -> Floats:
    angle: Floats = collective + blade.twist - inflow / (rotor_speed * blade.y)
    return angle


def _lift(blade: LiftingBlade, collective: float, inflow: float, rotor_speed: float, density: float) -> Floats:
    angle = _angle(blade, collective, inflow, rotor_speed) - blade.zero_lift_angle
    lift: Floats = _weight(blade, rotor_speed, density) * angle
    return lift


def _condition(
    blade: LiftingBlade, blades: int, rotor_speed: float, density: float, collective: float, inflow: float
) -> LiftAlong:
    lift = _lift(blade, collective, inflow, rotor_speed, density)
    return LiftAlong(
        collective=collective,
        inflow=inflow,
        pitch=collective + blade.twist,
        angle_of_attack=_angle(blade, collective, inflow, rotor_speed),
        lift_per_length=lift,
        thrust=blades * integral(lift, blade.y),
    )
