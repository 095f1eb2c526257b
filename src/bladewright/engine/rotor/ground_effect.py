"""What the ground does to a rotor close above it, by the image of a source."""

import numpy as np

from bladewright.engine.arrays import Floats
from bladewright.errors import OutsideValidity

LOWEST = 0.5  # [1] height over radius; below, the formula does not hold (common practice, no source)


def ground_inflow(height: float, radius: float, speed: float = 0.0, induced: float = 1.0) -> float:
    """Induced velocity near the ground, as a share of that far from it at the same thrust.

    ``1 - (R/4z)**2/(1 + (V/v)**2)``; at constant power the thrust grows by the inverse.

    Parameters
    ----------
    height : float
        Of the disc above the ground, at least half the radius. [m]
    radius : float
        Of the rotor. [m]
    speed : float
        Over the ground. [m/s]
    induced : float
        Induced velocity far from the ground; counts only with speed. [m/s]

    Returns
    -------
    float
        [1]

    Raises
    ------
    OutsideValidity
        If the disc is lower than half its radius.

    Notes
    -----
    Level ground, no wind over obstacles. Perhaps 5 % of thrust off above half a radius (common practice, no source).

    Source: I. C. Cheeseman, W. E. Bennett, The effect of the ground on a helicopter rotor in forward flight,
    ARC R&M 3021, 1955 (formula from memory).
    """
    if not height >= LOWEST * radius:
        raise OutsideValidity(
            "the disc is too close to the ground", field="height", value=height,
            allowed=f"{LOWEST * radius:.4g} m or more, half the radius",
        )  # fmt: skip
    return 1.0 - (radius / (4.0 * height)) ** 2 / (1.0 + (speed / induced) ** 2)


def ground_thrust(height_over_radius: Floats) -> Floats:
    """Thrust over that far from the ground, at the same power.

    ``T/T_free = 1/(1 - (R/4z)**2)``.

    Parameters
    ----------
    height_over_radius : array
        z/R, at least 0.5. [1]

    Returns
    -------
    Floats
        [1]

    Raises
    ------
    OutsideValidity
        If the disc is lower than half its radius.

    Notes
    -----
    Source: as ``ground_inflow``.
    """
    lowest = float(np.min(height_over_radius))
    if not lowest >= LOWEST:
        raise OutsideValidity(
            "the disc is too close to the ground", field="height_over_radius", value=lowest, allowed="0.5 or more"
        )
    return np.asarray(1.0 / (1.0 - (0.25 / height_over_radius) ** 2))
