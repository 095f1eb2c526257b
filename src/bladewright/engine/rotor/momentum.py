"""Hover and slow climb by momentum theory: induced velocity, ideal power, figure of merit."""

from dataclasses import dataclass

import numpy as np

from bladewright.errors import BadInput


@dataclass(frozen=True, slots=True)
class HoverMomentum:
    """What momentum theory says of a thrust on a disc."""

    disc_loading: float  # [N/m^2]
    induced_velocity: float  # down through the disc [m/s]
    thrust_coefficient: float  # T / (rho A Vt^2), without a half [1]
    solidity: float  # [1]
    ideal_power: float  # [W]
    induced_power: float  # [W]
    profile_power: float  # [W]
    figure_of_merit: float  # [1]

    @property
    def power(self) -> float:
        """Induced and profile power together. [W]"""
        return self.induced_power + self.profile_power


def hover_momentum(
    thrust: float,
    radius: float,
    chord: float,
    blades: int,
    rotor_speed: float,
    density: float,
    induced_factor: float,
    profile_drag: float,
) -> HoverMomentum:
    """Hover out of ground effect by momentum theory with a mean profile drag.

    ``v = sqrt(T/(2 rho A))``; ``CP = kappa CT**1.5/sqrt(2) + sigma cd/8``; ``FM = (CT**1.5/sqrt(2))/CP``.

    Parameters
    ----------
    thrust : float
        More than zero. [N]
    radius, chord : float
        Of a blade of constant chord. [m]
    blades : int
        How many. [-]
    rotor_speed : float
        [rad/s]
    density : float
        [kg/m^3]
    induced_factor : float
        kappa, induced power over the ideal; about 1.15 (common practice, no source). [1]
    profile_drag : float
        Mean drag coefficient of the sections. [1]

    Returns
    -------
    HoverMomentum

    Raises
    ------
    BadInput
        If an input is not positive.

    Notes
    -----
    Valid without ground, without compressibility or stall.

    Source: H. Glauert, 1935; W. Johnson, Helicopter Theory, 1980, ch. 2 (from memory).
    """
    given = {"thrust": thrust, "radius": radius, "chord": chord, "rotor_speed": rotor_speed, "density": density}
    for name, value in given.items():
        if not (np.isfinite(value) and value > 0.0):
            raise BadInput("must be positive", field=name, value=value, allowed="more than 0")
    disc = np.pi * radius**2
    tip_speed = rotor_speed * radius
    solidity = blades * chord / (np.pi * radius)
    velocity = float(np.sqrt(thrust / (2.0 * density * disc)))
    ideal = thrust * velocity
    induced = induced_factor * ideal
    profile = density * disc * tip_speed**3 * solidity * profile_drag / 8.0
    return HoverMomentum(
        disc_loading=thrust / disc,
        induced_velocity=velocity,
        thrust_coefficient=thrust / (density * disc * tip_speed**2),
        solidity=solidity,
        ideal_power=ideal,
        induced_power=induced,
        profile_power=profile,
        figure_of_merit=ideal / (induced + profile),
    )


def climb_induced_velocity(hover_velocity: float, climb: float) -> float:
    """Induced velocity in a vertical climb at the same thrust.

    ``v = -Vc/2 + sqrt((Vc/2)**2 + vh**2)``.

    Parameters
    ----------
    hover_velocity : float
        Induced velocity in hover, vh. [m/s]
    climb : float
        Not negative: momentum theory does not hold in descent. [m/s]

    Returns
    -------
    float
        [m/s]

    Raises
    ------
    BadInput
        If the climb is negative.

    Notes
    -----
    Source: W. Johnson, Helicopter Theory, 1980, ch. 2 (from memory).
    """
    if not climb >= 0.0:
        raise BadInput("momentum theory holds in climb only", field="climb", value=climb, allowed="0 m/s or more")
    return float(-0.5 * climb + np.hypot(0.5 * climb, hover_velocity))
